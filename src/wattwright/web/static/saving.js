// Saving a form without leaving the page.

import { hushCells, nowThere, sayBeside, sayInCell } from "./beside.js";
import { isLost, say, seen } from "./page.js";
import { refresh } from "./refreshing.js";
import { fieldsOf, post, reason } from "./sending.js";
import { forgetOf, keepForLater, othersWait, sendWaiting, showWaiting } from "./waiting.js";

const FORMS = "[data-field], [data-grid], [data-send], [data-later]";
const inHand = new WeakSet();

async function save(form, button) {
  if (inHand.has(form)) return;
  inHand.add(form);
  form.setAttribute("aria-busy", "true");
  const fields = fieldsOf(form, button);
  const typed = plain(form);
  try {
    // A new name would leave what waits under the old one without a place.
    if (form.dataset.later === "rename" && (await othersWait(form))) return await unanswered(form, fields, button);
    const answer = await post(new URL(form.action).pathname, fields);
    if (answer.ok) await saved(form, answer.told, typed);
    else refused(form, answer);
  } catch {
    await unanswered(form, fields, button);
  } finally {
    form.removeAttribute("aria-busy");
    inHand.delete(form);
  }
}

// To take back "the last change" later might take back somebody else's: that is not kept.
async function unanswered(form, fields, button) {
  if (form.matches("[data-send]")) return say("No connection: this was not done. Do it again when there is one.");
  await keepForLater(form, fields, wordsFor(form, button));
  if (form.matches("[data-later]")) {
    sayBeside(form, "");
    form.reset();
    if (!isLost()) await sendWaiting();
  }
}

function wordsFor(form, button) {
  if (form.dataset.later) return `${form.dataset.words} ${form.elements.name.value.trim()}`;
  const label = form.querySelector("label")?.textContent ?? document.querySelector("h1").textContent;
  return button?.name === "word" ? `${label} (${button.value})` : label;
}

const plain = (form) => JSON.stringify(fieldsOf(form).filter(([name]) => name !== "was"));

async function saved(form, told, typed) {
  if (form.matches("[data-later]")) {
    await forgetOf(form);
    // What was added or renamed has a page of its own.
    return location.assign(told.to ?? location.href);
  }
  const mine = form.id || null;
  sayBeside(form, "");
  if (form.matches("[data-grid]")) hushCells(form);
  // What was typed on while the answer was under way is not saved yet.
  if (plain(form) === typed) {
    for (const each of [form, ...form.querySelectorAll(".changed")]) each.classList.remove("changed");
  } else if (told.now) {
    for (const [path, now] of Object.entries(told.now)) nowThere(form, now, form.dataset.field === path ? "was" : `was:${path}`);
  }
  if (told.ripple) document.getElementById("ripple").innerHTML = told.ripple;
  say(told.message ?? "saved");
  if (told.revision) seen.revision = String(told.revision);
  if (!form.matches("[data-send]")) {
    await forgetOf(form);
    await showWaiting();
  }
  await refresh(mine);
  if (mine) document.getElementById(mine)?.classList.add("saved");
}

function refused(form, answer) {
  const { told } = answer;
  if (told.clash) nowThere(form, told.clash.now);
  if (form.matches("[data-grid]")) {
    hushCells(form);
    for (const [path, now] of Object.entries(told.now ?? {})) nowThere(form, now, `was:${path}`);
    for (const [path, words] of Object.entries(told.problems ?? {})) sayInCell(form, path, words);
    form.querySelector("[aria-invalid]")?.focus();
  }
  sayBeside(form, reason(answer));
}

// The browser would leave for a page of its own that says there is nobody, and take the words along.
function sentByTheBrowser(event) {
  if (!isLost() || event.target.method !== "post") return;
  event.preventDefault();
  say("No connection: this was not sent, and is not kept for later. Send it again when there is one.");
}

/** Begin to save forms from the page. */
export function saveInPlace() {
  document.addEventListener("submit", (event) => {
    if (!event.target.matches(FORMS)) return sentByTheBrowser(event);
    event.preventDefault();
    save(event.target, event.submitter);
  });
  document.addEventListener("input", (event) => {
    event.target.closest("[data-field]")?.classList.add("changed");
    if (event.target.matches("[data-was]")) event.target.classList.add("changed");
  });
  // With a thumb a choice counts as soon as it is made; arrow keys pass over choices on their way.
  document.addEventListener("change", (event) => {
    const form = event.target.closest("[data-field]");
    const chosen = event.target.matches("select[name=quantity]");
    if (form && chosen && matchMedia("(pointer: coarse)").matches) save(form);
  });
  addEventListener("beforeunload", (event) => {
    const open = [...document.querySelectorAll(".changed")].some((each) => !each.closest(".waits"));
    if (open) event.preventDefault();
  });
}
