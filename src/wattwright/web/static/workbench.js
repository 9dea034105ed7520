// What the pages can do beyond plain forms: save without leaving the page, keep what was typed when
// the network is lost, and show what others change. Every form works without this script too.

const body = document.body;
const base = body.dataset.base;
const line = document.getElementById("line");
const waitingBox = document.getElementById("waiting");
const token = () => document.querySelector('meta[name="token"]').content;
let revision = body.dataset.revision ?? "";
let started = body.dataset.started;

// ---------------------------------------------------------------------------- what was typed waits
// One store in the browser; what is in it survives a reload and a closed page.

const STORE = "entries";

function opened() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open("wattwright", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: "id", autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}

async function inStore(mode, act) {
  const store = await opened();
  try {
    return await new Promise((done, failed) => {
      const deal = store.transaction(STORE, mode);
      const asked = act(deal.objectStore(STORE));
      deal.oncomplete = () => done(asked.result);
      deal.onerror = () => failed(deal.error);
      deal.onabort = () => failed(deal.error);
    });
  } finally {
    store.close();
  }
}

const keep = (entry) => inStore("readwrite", (store) => store.put(entry));
const forget = (id) => inStore("readwrite", (store) => store.delete(id));
const kept = () => inStore("readonly", (store) => store.getAll());

async function showWaiting() {
  const entries = await kept();
  waitingBox.hidden = entries.length === 0;
  waitingBox.replaceChildren();
  for (const field of document.querySelectorAll(".field.waits")) field.classList.remove("waits");
  if (!entries.length) return;
  const words = document.createElement("span");
  const stuck = entries.filter((entry) => entry.trouble);
  words.textContent = stuck.length
    ? `${stuck.length} of your entries could not be saved: ${stuck[0].name}: ${stuck[0].trouble}`
    : `${entries.length} ${entries.length === 1 ? "entry waits" : "entries wait"} to be saved: ${entries.map((entry) => entry.name).join(", ")}`;
  waitingBox.append(words);
  if (stuck.length) {
    const look = document.createElement("a");
    look.className = "button";
    look.href = stuck[0].page;
    look.textContent = "Look";
    const drop = document.createElement("button");
    drop.type = "button";
    drop.textContent = "Drop it";
    drop.addEventListener("click", async () => { await forget(stuck[0].id); await showWaiting(); });
    waitingBox.append(" ", look, " ", drop);
  }
  for (const entry of entries) {
    if (entry.base !== base) continue;
    const form = document.querySelector(`[data-field="${CSS.escape(entry.name)}"]`);
    if (!form) continue;
    form.classList.add("waits");
    fillIn(form, entry.fields);
    if (entry.trouble) sayTrouble(form, entry.trouble);
  }
}

function fillIn(form, fields) {
  for (const [name, value] of fields) {
    const box = form.elements[name];
    if (box && box.type !== "hidden" && box.type !== "submit" && "value" in box) box.value = value;
  }
  form.classList.add("changed");
}

let sending = false;
async function sendWaiting() {
  if (sending) return;
  sending = true;
  try {
    for (const entry of await kept()) {
      if (entry.trouble) continue;
      let answer;
      try { answer = await post(entry.url, entry.fields); } catch { return; }
      if (answer.status === 409 || answer.status === 422) {
        const told = await answer.json().catch(() => ({}));
        entry.trouble = clashWords(told) || told.message || "it was refused";
        await keep(entry);
      } else if (answer.ok) {
        await forget(entry.id);
        say(`saved: ${entry.name}`);
      } else if (answer.status >= 500 || answer.status === 429) {
        return;
      } else {
        entry.trouble = `the server refused it (${answer.status}); open the page again`;
        await keep(entry);
      }
    }
  } finally {
    sending = false;
    await showWaiting();
  }
  await refresh();
}

// ------------------------------------------------------------------------------------------ saving

function say(words) {
  line.textContent = words;
  if (words) setTimeout(() => { if (line.textContent === words) line.textContent = ""; }, 6000);
}

function clashWords(told) {
  if (!told.clash) return "";
  return `somebody else changed this meanwhile. There now: ${told.clash.now ?? "nothing"}. Yours: ${told.clash.meant ?? "nothing"}. Save again to put yours in its place.`;
}

async function post(url, fields) {
  const sent = new URLSearchParams();
  for (const [name, value] of fields) if (name !== "token") sent.append(name, value);
  sent.append("token", token());
  return fetch(url, { method: "POST", body: sent, headers: { accept: "application/json" }, redirect: "manual", signal: AbortSignal.timeout(20000) });
}

function fieldsOf(form, button) {
  const data = new FormData(form, button);
  return [...data.entries()].filter(([, value]) => typeof value === "string");
}

function sayTrouble(form, words) {
  const place = form.querySelector(".problem");
  if (!place) return say(words);
  place.textContent = words;
  place.hidden = !words;
  const box = form.querySelector('[name="quantity"]');
  if (box) {
    box.toggleAttribute("aria-invalid", Boolean(words));
    if (words) box.setAttribute("aria-describedby", place.id); else box.removeAttribute("aria-describedby");
  }
}

async function save(form, button) {
  const fields = fieldsOf(form, button);
  const name = form.dataset.field ?? form.getAttribute("action");
  sayTrouble(form, "");
  form.setAttribute("aria-busy", "true");
  let answer;
  try {
    answer = await post(button?.getAttribute("formaction") ?? form.getAttribute("action"), fields);
    if (answer.status >= 500) throw new Error("the server is not itself");
  } catch {
    await keep({ url: new URL(form.action, location.href).pathname, fields, name, base, page: location.pathname + location.search, at: Date.now() });
    await showWaiting();
    return;
  } finally {
    form.removeAttribute("aria-busy");
  }
  const told = await answer.json().catch(() => ({}));
  if (answer.ok) return saved(form, told);
  if (told.clash) {
    const was = form.querySelector('[name="was"]') ?? form.appendChild(hiddenBox("was"));
    if (told.clash.now === null) was.remove(); else was.value = told.clash.now;
  }
  sayTrouble(form, clashWords(told) || told.message || `not saved (${answer.status})`);
  for (const [path, words] of Object.entries(told.problems ?? {})) markCell(path, words);
  if (told.problems && !form.dataset.field) say(`${told.message}: ${Object.entries(told.problems).map(([path, words]) => `${path} ${words}`).join("; ")}`);
}

function hiddenBox(name) {
  const box = document.createElement("input");
  box.type = "hidden";
  box.name = name;
  return box;
}

function markCell(path, words) {
  const cell = document.querySelector(`[name="cell:${CSS.escape(path)}"]`);
  if (!cell) return;
  cell.setAttribute("aria-invalid", "true");
  cell.title = words;
}

async function saved(form, told) {
  form.classList.remove("changed", "waits");
  for (const box of form.querySelectorAll(".changed, [aria-invalid]")) { box.classList.remove("changed"); box.removeAttribute("aria-invalid"); }
  if (told.ripple) document.getElementById("ripple").innerHTML = told.ripple;
  say(told.message ?? "saved");
  if (told.revision) revision = String(told.revision);
  await refresh();
  const again = form.id && document.getElementById(form.id);
  if (again) again.classList.add("saved");
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches(".field[data-field], [data-send], [data-grid]")) return;
  event.preventDefault();
  save(form, event.submitter);
});

// What is typed counts at once when the box is left, so that one thumb is enough.
document.addEventListener("input", (event) => {
  const form = event.target.closest(".field[data-field]");
  if (form) form.classList.add("changed");
  if (event.target.matches("[data-was]")) event.target.classList.add("changed");
});
document.addEventListener("change", (event) => {
  const form = event.target.closest(".field[data-field]");
  if (!form || event.target.matches('[name="origin"], [name="detail"]')) return;
  const box = form.querySelector('[name="quantity"]');
  if (form.querySelector("select[name=quantity]") && box === event.target) save(form);
});

// --------------------------------------------------------------------------------- what others change
// The page is asked for again and its live parts are put in place; a box somebody types in stays.

const busy = (part) => part.contains(document.activeElement) && document.activeElement.matches("input, textarea, select");
const touched = (part) => part.matches(".changed, .waits") || part.querySelector(".changed, .waits") !== null;

let refreshing = null;
async function refresh() {
  if (refreshing) { refreshing.again = true; return refreshing.done; }
  const run = { again: false, done: null };
  refreshing = run;
  run.done = (async () => {
    do {
      run.again = false;
      await refreshOnce();
    } while (run.again);
    refreshing = null;
  })();
  return run.done;
}

async function refreshOnce() {
  let text;
  try {
    const to = new URL(location.href);
    to.searchParams.delete("ripple");
    const answer = await fetch(to, { headers: { accept: "text/html" }, signal: AbortSignal.timeout(20000) });
    // The numbers are still being worked out: what stands here stays until they are there.
    if (answer.status === 503) setTimeout(refresh, 1000);
    if (!answer.ok) return;
    text = await answer.text();
  } catch { return; }
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const freshToken = fresh.querySelector('meta[name="token"]');
  if (freshToken) document.querySelector('meta[name="token"]').content = freshToken.content;
  revision = fresh.body.dataset.revision ?? revision;
  const shut = new Map([...document.querySelectorAll("details[id]")].map((each) => [each.id, each.open]));
  for (const part of document.querySelectorAll("[data-live][id]")) {
    const other = fresh.getElementById(part.id);
    if (!other) { if (part.matches(".field") && !touched(part) && !busy(part)) part.remove(); continue; }
    if (part.matches(".field") && (busy(part) || touched(part))) { others(part, other); continue; }
    if (part.id === "grid-rows" && (busy(part) || touched(part))) continue;
    if (part.outerHTML !== other.outerHTML) part.replaceWith(document.importNode(other, true));
  }
  for (const [id, open] of shut) { const each = document.getElementById(id); if (each) each.open = open; }
}

// Somebody types here while the value changed elsewhere: both are shown, nothing is overwritten.
function others(part, other) {
  const was = part.querySelector('[name="was"]')?.value ?? null;
  const now = other.querySelector('[name="was"]')?.value ?? null;
  part.querySelector(".shown").textContent = other.querySelector(".shown").textContent;
  if (was !== now) sayTrouble(part, `somebody else changed this meanwhile. There now: ${now ?? "nothing"}. What you typed is kept here.`);
}

let source = null;
function listen() {
  if (!base) return;
  source = new EventSource(`${base}/events`);
  source.addEventListener("revision", (event) => {
    const told = JSON.parse(event.data);
    // A server that was started again counts anew: any other number is news.
    if (told.started !== started || String(told.number) !== revision) { started = told.started; refresh(); }
    if (line.dataset.lost) { delete line.dataset.lost; say("connected again"); }
    sendWaiting();
  });
  source.addEventListener("error", () => {
    line.dataset.lost = "1";
    line.textContent = "No connection to the workbench. What you type is kept and sent later.";
  });
}
listen();
addEventListener("online", () => sendWaiting());
addEventListener("pagehide", () => source?.close());
addEventListener("pageshow", (event) => { if (event.persisted) listen(); });
setInterval(() => { if (!waitingBox.hidden) sendWaiting(); }, 5000);
showWaiting().then(sendWaiting, () => {});
setInterval(() => { if (document.querySelector("[data-working]")) refresh(); }, 1000);

// ------------------------------------------------------------------------------------------ tables

document.addEventListener("keydown", (event) => {
  const cell = event.target;
  if (!cell.matches?.("table.grid input[data-was]")) return;
  if (event.key === "Enter" || (event.key === "ArrowDown" && event.altKey)) { event.preventDefault(); down(cell, event.shiftKey ? -1 : 1); }
  if (event.key === "ArrowUp" && event.altKey) { event.preventDefault(); down(cell, -1); }
  if (event.key === "Escape") { cell.value = cell.defaultValue; cell.classList.remove("changed"); }
});

function cellAt(row, column) {
  return row?.cells[column]?.querySelector("input[data-was]") ?? null;
}

function down(cell, by) {
  const place = cell.closest("td").cellIndex;
  let row = cell.closest("tr");
  do { row = by > 0 ? row.nextElementSibling : row.previousElementSibling; } while (row && !cellAt(row, place));
  cellAt(row, place)?.focus();
}

document.addEventListener("paste", (event) => {
  const cell = event.target;
  if (!cell.matches?.("table.grid input[data-was]")) return;
  const text = event.clipboardData.getData("text/plain");
  if (!/[\t\n]/.test(text.trimEnd())) return;
  event.preventDefault();
  let row = cell.closest("tr");
  const first = cell.closest("td").cellIndex;
  let lost = 0;
  for (const pasted of text.replace(/\r/g, "").replace(/\n$/, "").split("\n")) {
    pasted.split("\t").forEach((words, step) => {
      const target = cellAt(row, first + step);
      if (!target) { lost += 1; return; }
      target.value = words.trim();
      target.classList.add("changed");
    });
    row = row?.nextElementSibling ?? null;
  }
  say(lost ? `pasted; ${lost} cells found no place` : "pasted; nothing is saved until you save the table");
});

// ------------------------------------------------------------------------------------------ drawings

document.addEventListener("click", (event) => {
  const part = event.target.closest?.(".drawing [data-part]");
  if (part && base) location.href = `${base}/in/part.${encodeURIComponent(part.dataset.part)}`;
});
