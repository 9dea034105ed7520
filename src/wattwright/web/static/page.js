// What every other module needs to know of the page it runs in.

export const base = document.body.dataset.base;
export const token = () => document.querySelector('meta[name="token"]').content;

// The revision that the page shows, and the start of the server that counted it.
export const seen = {
  revision: document.body.dataset.revision ?? "",
  started: document.body.dataset.started,
};

const line = document.getElementById("line");
const lost = document.getElementById("lost");

/** Say something in passing. */
export function say(words) {
  line.textContent = words;
  if (words) setTimeout(() => { if (line.textContent === words) line.textContent = ""; }, 6000);
}

/** Say that the workbench cannot be reached, or that it can be again. */
export function sayLost(isLost) {
  const was = lost.textContent !== "";
  if (isLost === was) return;
  lost.textContent = isLost ? "No connection to the workbench. What you save is kept here and sent later; photos and other files are not." : "";
  if (!isLost) say("connected again");
}

/** Tell whether the workbench cannot be reached, as far as it is known. */
export const isLost = () => lost.textContent !== "";

/** Make a button or a link that looks like one. */
export function made(tag, words, settings = {}) {
  const element = document.createElement(tag);
  element.textContent = words;
  return Object.assign(element, settings);
}
