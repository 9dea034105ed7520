// Lists all colours of the look in use.
() => {
  const names = ['ground', 'card', 'ink', 'soft', 'rule', 'link', 'main', 'on-main', 'failing',
    'unknown', 'marginal', 'sound', 'failing-ground', 'unknown-ground', 'marginal-ground',
    'sound-ground', 'focus', 'ww-ink', 'ww-paper', ...[...Array(8).keys()].map((n) => `ww-${n}`)];
  const style = getComputedStyle(document.documentElement);
  return names.map((name) => `${name} ${style.getPropertyValue(`--${name}`)}`);
}
