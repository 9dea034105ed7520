// Lists text under 16 CSS pixels, or under 14 where it only helps.
() => {
  const found = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const around = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !around.checkVisibility() || around.closest('svg, .hush, script')) continue;
    const size = parseFloat(getComputedStyle(around).fontSize);
    const least = around.closest('.help, .shown, .pages, .foot, .mini, .count, .how, thead, pre, code') ? 14 : 16;
    if (size < least) found.add(`${around.localName}.${around.className} ${size}px "${walk.currentNode.data.trim().slice(0, 30)}"`);
  }
  return [...found];
}
