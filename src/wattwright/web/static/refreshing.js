// Putting what others changed into the page. It is asked for again and its live parts are put in
// place; what somebody types stays as it is.

import { nowThere, sayBeside } from "./beside.js";
import { seen } from "./page.js";

const PATIENCE = 20000;
const AGAIN = 1000;
const BOXES = "input:not([type=hidden]), textarea, select";

const focused = (part) => part.contains(document.activeElement) && document.activeElement.matches(BOXES);
const touched = (part) => part.matches(".changed, .waits") || part.querySelector(".changed, .waits") !== null;

let running = null;

/** Bring the page up to date. ``mine`` is a form just saved: it is replaced though one is in it. */
export function refresh(mine = null) {
  if (running) {
    running.again = true;
    running.mine ??= mine;
    return running.done;
  }
  const run = { again: false, mine, done: null };
  running = run;
  run.done = (async () => {
    try {
      do {
        run.again = false;
        const form = run.mine;
        run.mine = null;
        await refreshOnce(form);
      } while (run.again);
    } finally {
      running = null;
    }
  })();
  return run.done;
}

async function asked() {
  const to = new URL(location.href);
  to.searchParams.delete("ripple");
  try {
    const answer = await fetch(to, { headers: { accept: "text/html" }, signal: AbortSignal.timeout(PATIENCE) });
    if (answer.status === 503) lookAgain();
    return answer.ok ? new DOMParser().parseFromString(await answer.text(), "text/html") : null;
  } catch {
    return null;
  }
}

let again = 0;

/** Ask once more in a second: the numbers of the build are still being worked out. */
export function lookAgain() {
  clearTimeout(again);
  again = setTimeout(() => refresh(), AGAIN);
}

async function refreshOnce(mine) {
  const fresh = await asked();
  if (!fresh) return;
  if (fresh.querySelector("[data-working]")) lookAgain();
  const token = fresh.querySelector('meta[name="token"]');
  if (token) document.querySelector('meta[name="token"]').content = token.content;
  seen.revision = fresh.body.dataset.revision ?? seen.revision;
  const open = new Map([...document.querySelectorAll("details[id]")].map((each) => [each.id, each.open]));
  for (const part of document.querySelectorAll("[data-live][id]")) bring(part, fresh.getElementById(part.id), mine);
  for (const [id, was] of open) {
    const each = document.getElementById(id);
    if (each) each.open = was;
  }
}

function bring(part, other, mine) {
  // A part around it may have been replaced meanwhile.
  if (!part.isConnected) return;
  const isField = part.matches(".field");
  const inUse = touched(part) || (part.id !== mine && focused(part));
  if (!other) {
    if (isField && !inUse) part.remove();
  } else if (isField && inUse) {
    beside(part, other);
  } else if (part.id === "grid-rows" && inUse) {
    for (const row of part.rows) besideRow(row, other);
  } else if (part.outerHTML !== other.outerHTML) {
    replace(part, document.importNode(other, true));
  }
}

// Somebody types here while the value changed elsewhere: both are shown, nothing is overwritten.
function beside(part, other) {
  const was = part.elements.was?.value ?? null;
  const now = other.querySelector('[name="was"]')?.value ?? null;
  part.querySelector(".shown").textContent = other.querySelector(".shown").textContent;
  if (was === now) return;
  if (!touched(part)) {
    // Nothing was typed yet: the new value comes in, and the cursor stays.
    replace(part, document.importNode(other, true));
    return;
  }
  sayBeside(part, `Somebody else changed this meanwhile. There now: ${other.dataset.now || "nothing"}. What you typed is kept here.`);
}

// Cells that are not touched take the new value; touched ones keep theirs and what they replace.
function besideRow(row, other) {
  for (const box of row.querySelectorAll("input[data-was]:not(.changed)")) {
    const now = other.querySelector(`[name="${CSS.escape(box.name)}"]`);
    if (!now || now.dataset.was === box.dataset.was) continue;
    box.value = box.defaultValue = now.value;
    box.dataset.was = now.dataset.was;
    nowThere(box.form, now.dataset.was, box.name.replace("cell:", "was:"));
  }
}

// Whoever works with a keyboard stays where they were.
function replace(part, fresh) {
  const at = part.contains(document.activeElement) ? document.activeElement : null;
  const same = at && twin(at, fresh);
  part.replaceWith(fresh);
  same?.focus({ preventScroll: true });
}

function twin(element, within) {
  if (element.id && within.id === element.id) return within;
  if (element.id) return within.querySelector(`#${CSS.escape(element.id)}`);
  for (const name of ["name", "href"]) {
    const value = element.getAttribute(name);
    if (!value) continue;
    const found = within.querySelectorAll(`${element.localName}[${name}="${CSS.escape(value)}"]`);
    return [...found].find((each) => each.value === element.value) ?? found[0] ?? null;
  }
  const kind = element.className && within.querySelector(`${element.localName}.${CSS.escape(element.classList[0])}`);
  return kind || null;
}
