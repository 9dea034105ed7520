// Says where the focus is and whether that can be seen.
() => {
  const each = document.activeElement;
  if (each === document.body) return null;
  const style = getComputedStyle(each);
  const all = [...document.querySelectorAll('*')];
  return { at: all.indexOf(each), says: each.outerHTML.slice(0, 120),
           ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2 };
}
