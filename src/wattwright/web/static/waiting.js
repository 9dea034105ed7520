// What was typed while nobody answered waits here, is shown, and is sent later in its order.

import { nowThere, sayBeside, sayInCell } from "./beside.js";
import { base, made, say } from "./page.js";
import { refresh } from "./refreshing.js";
import { post, reason } from "./sending.js";
import { forget, keep, kept } from "./store.js";

const bar = document.getElementById("waiting");
const AGAIN = 5000;

const isOf = (entry, form) => entry.base === base && entry.name === nameOf(form);

/** Name what a form writes: a field, or a whole table. */
export const nameOf = (form) => form.dataset.field ?? new URL(form.action).pathname;

/** Keep an entry for later, in place of an earlier one of the same field. */
export async function keepForLater(form, fields, words) {
  await forgetOf(form);
  await keep({
    url: new URL(form.action).pathname,
    fields,
    name: nameOf(form),
    words,
    base,
    page: location.pathname + location.search,
    at: Date.now(),
  });
  await showWaiting();
}

/** Forget what waits for a form, as it was saved now. */
export async function forgetOf(form) {
  for (const entry of await kept()) if (isOf(entry, form)) await forget(entry.id);
}

/** Show what waits: above the page, and in the forms it was typed into. */
export async function showWaiting() {
  const entries = await kept();
  bar.hidden = entries.length === 0;
  for (const form of document.querySelectorAll(".waits")) form.classList.remove("waits");
  const stuck = entries.filter((entry) => entry.trouble);
  bar.replaceChildren(...told(entries, stuck));
  for (const form of document.querySelectorAll("[data-field], [data-grid]")) {
    const entry = entries.find((each) => isOf(each, form));
    if (entry) fillIn(form, entry);
  }
}

function told(entries, stuck) {
  if (stuck.length) return offer(stuck[0], stuck.length);
  return entries.length ? [made("span", waitWords(entries))] : [];
}

function waitWords(entries) {
  const many = entries.length === 1 ? "1 entry waits" : `${entries.length} entries wait`;
  return `${many} to be saved: ${entries.map((entry) => entry.words).join(", ")}`;
}

// One at a time: the first that was refused, the page where it can be mended, and the way to drop it.
function offer(entry, count) {
  const more = count > 1 ? ` (and ${count - 1} more)` : "";
  const drop = made("button", "Drop it", { type: "button" });
  drop.addEventListener("click", async () => {
    await forget(entry.id);
    // The page as the server has it, without what was dropped.
    location.reload();
  });
  return [
    made("span", `Not saved: ${entry.words}${more}. ${entry.trouble}`),
    made("a", "Look at it", { className: "button", href: entry.page }),
    drop,
  ];
}

function fillIn(form, entry) {
  form.classList.add("waits");
  for (const [name, value] of entry.fields) {
    const box = form.elements[name];
    if (!box || box.type === "hidden" || !("value" in box) || box.localName === "button") continue;
    if (box.dataset.was !== undefined && box.value !== value) box.classList.add("changed");
    box.value = value;
  }
  if (!entry.trouble) return;
  for (const [path, words] of Object.entries(entry.problems ?? {})) sayInCell(form, path, words);
  for (const [path, now] of Object.entries(entry.now ?? {})) nowThere(form, now, `was:${path}`);
  if (form.dataset.field) sayBeside(form, entry.trouble);
}

let sending = false;

/** Send what waits, in its order; stop where nobody answers. */
export async function sendWaiting() {
  if (sending) return;
  sending = true;
  let sent = 0;
  try {
    for (const entry of await kept()) {
      if (entry.trouble) continue;
      const answer = await post(entry.url, entry.fields);
      if (answer.ok) {
        await forget(entry.id);
        sent += 1;
        say(`saved: ${entry.words}`);
      } else {
        await keep({ ...entry, trouble: reason(answer), problems: answer.told.problems, now: answer.told.now });
      }
    }
  } catch {
    // Nobody answers: the rest waits on.
  } finally {
    sending = false;
  }
  await showWaiting();
  if (sent) await refresh();
}

/** Begin to watch over what waits. */
export function watchOver() {
  addEventListener("online", sendWaiting);
  setInterval(() => { if (!bar.hidden && !document.hidden) sendWaiting(); }, AGAIN);
  showWaiting().then(sendWaiting);
}
