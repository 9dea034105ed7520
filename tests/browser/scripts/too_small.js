// Lists targets under 44 by 44 CSS pixels. Links within a sentence are exempt (WCAG 2.2, 2.5.8).
() => {
  const found = [];
  const shown = (each) => each.checkVisibility({ visibilityProperty: true }) && !each.closest('.skip, [hidden]');
  const name = (each) => `${each.localName}.${each.className} "${each.textContent.trim().slice(0, 40)}"`;
  for (const each of document.querySelectorAll('a[href], button, input, select, textarea, summary')) {
    if (!shown(each) || each.type === 'hidden') continue;
    if (each.localName === 'a' && getComputedStyle(each).display === 'inline') {
      const around = each.closest('p, li, dd, td');
      if (around && around.textContent.trim().length > each.textContent.trim().length) continue;
    }
    const target = each.closest('label') ?? each;
    const box = target.getBoundingClientRect();
    if (box.height < 43.9 || box.width < 43.9) found.push(`${name(each)} ${box.width.toFixed(0)}x${box.height.toFixed(0)}`);
  }
  return found;
}
