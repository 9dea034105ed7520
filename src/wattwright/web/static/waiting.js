// What was typed while nobody answered waits here, is shown, and is sent later in its order.

import { nowThere, sayBeside, sayInCell } from "./beside.js";
import { base, made, say } from "./page.js";
import { refresh } from "./refreshing.js";
import { post, reason } from "./sending.js";
import { forget, keep, kept, take } from "./store.js";

const bar = document.getElementById("waiting");
const AGAIN = 5000;
// Longer than an answer is waited for: another page may be sending the same.
const TAKEN = 25000;

const urlOf = (form) => new URL(form.action).pathname;
const isOf = (entry, form) => entry.base === base && entry.name === nameOf(form);

/** Name what a form writes: a field, a whole table, something new, or another name. */
export function nameOf(form) {
  const of = form.elements.path?.value;
  if (form.dataset.later === "add") return `${urlOf(form)} ${of}.${form.elements.name.value.trim()}`;
  if (form.dataset.later === "rename") return `${urlOf(form)} ${of}`;
  return form.dataset.field ?? urlOf(form);
}

/** Keep an entry for later, in place of an earlier one of the same field. */
export async function keepForLater(form, fields, words) {
  await forgetOf(form);
  const later = form.dataset.later;
  await keep({
    url: urlOf(form),
    // Sent again it may have come through before, and only the answer was lost.
    fields: later ? [...fields, ["again", "1"]] : fields,
    later,
    of: form.elements.path?.value,
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
  for (const entry of await kept()) {
    if (isOf(entry, form) || String(entry.id) === form.dataset.entry) await forget(entry.id);
  }
  delete form.dataset.entry;
}

/** Tell whether anything else of this build waits. */
export async function othersWait(form) {
  return (await kept()).some((entry) => entry.base === base && !isOf(entry, form));
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
  // Into these one types the next thing while the last one waits; only what was refused comes back.
  for (const form of document.querySelectorAll("[data-later]")) {
    const entry = stuck.find((each) => each.url === urlOf(form) && each.of === form.elements.path.value);
    if (!entry || form.dataset.entry) continue;
    form.dataset.entry = entry.id;
    const around = form.closest("details");
    if (around) around.open = true;
    fillIn(form, entry);
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
  if (form.dataset.field || form.dataset.later) sayBeside(form, entry.trouble);
}

const isRename = (entry) => entry.later === "rename";

// A new name waits for all that was typed under the old one; and two pages do not add one thing twice.
async function mayGo(entry) {
  const before = isRename(entry) && (await kept()).some((each) => each.base === entry.base && !isRename(each));
  return !before && (await take(entry.id, TAKEN)) !== null;
}

let sending = false;

/** Send what waits, in its order; stop where nobody answers. */
export async function sendWaiting() {
  if (sending) return;
  sending = true;
  let sent = 0;
  let leaveFor = null;
  try {
    const entries = await kept();
    for (const entry of [...entries.filter((each) => !isRename(each)), ...entries.filter(isRename)]) {
      if (entry.trouble || (entry.later && !(await mayGo(entry)))) continue;
      const answer = await post(entry.url, entry.fields).catch(async (error) => {
        if (entry.later) await keep(entry);
        throw error;
      });
      if (answer.ok) {
        await forget(entry.id);
        sent += 1;
        say(`saved: ${entry.words}`);
        // The page of the old name would make it anew with whatever is typed there next.
        if (isRename(entry) && entry.page === location.pathname + location.search) leaveFor = answer.told.to ?? base;
      } else {
        await keep({ ...entry, trouble: reason(answer), problems: answer.told.problems, now: answer.told.now });
      }
    }
  } catch {
    // Nobody answers: the rest waits on.
  } finally {
    sending = false;
  }
  if (leaveFor) return location.assign(leaveFor);
  await showWaiting();
  if (sent) await refresh();
}

/** Begin to watch over what waits. */
export function watchOver() {
  addEventListener("online", sendWaiting);
  setInterval(() => { if (!bar.hidden && !document.hidden) sendWaiting(); }, AGAIN);
  showWaiting().then(sendWaiting);
}
