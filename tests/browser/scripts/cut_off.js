// Lists what would be cut off on paper.
() => [...document.querySelectorAll('body *')].filter((each) => {
    if (!each.checkVisibility({ visibilityProperty: true }) || each.closest('svg *, .hush, .word, option')) return false;
    const box = each.getBoundingClientRect();
    const hides = getComputedStyle(each).overflowX !== 'visible' || each.matches('input, textarea');
    return box.right > innerWidth + 1 || (hides && each.scrollWidth > each.clientWidth + 1);
  }).map((each) => each.outerHTML.slice(0, 160)).slice(0, 8)
