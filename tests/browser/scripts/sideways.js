// Lists what makes a page wider than its window.
() => document.scrollingElement.scrollWidth <= innerWidth ? [] : [
  ...[...document.querySelectorAll('body *')].filter((each) => !each.closest('.scroll')
    && each.getBoundingClientRect().right > innerWidth + 1).map((each) => each.outerHTML.slice(0, 120)).slice(0, 5),
  `the page is ${document.scrollingElement.scrollWidth} wide`]
