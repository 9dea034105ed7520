// Lists what a keyboard has to reach, in the order of the page.
() => {
  const all = [...document.querySelectorAll('*')];
  const radios = new Set();
  return all.filter((each) => {
    if (!each.matches('a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]')) return false;
    if (!each.checkVisibility({ visibilityProperty: true })) return false;
    // Of a group of radio buttons one takes the focus.
    if (each.type !== 'radio') return true;
    return each.checked;
  }).map((each) => all.indexOf(each));
}
