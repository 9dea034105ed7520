// Entries that wait to be saved, kept in the browser: they outlast a reload and a closed page.

const NAME = "wattwright";
const ENTRIES = "entries";

function opened() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(ENTRIES, { keyPath: "id", autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}

async function inStore(mode, act) {
  const store = await opened();
  try {
    return await new Promise((done, failed) => {
      const deal = store.transaction(ENTRIES, mode);
      const asked = act(deal.objectStore(ENTRIES));
      deal.oncomplete = () => done(asked.result);
      deal.onerror = () => failed(deal.error);
      deal.onabort = () => failed(deal.error);
    });
  } finally {
    store.close();
  }
}

/** Keep an entry: a new one goes to the end, one that has a number already stays in its place. */
export const keep = (entry) => inStore("readwrite", (entries) => entries.put(entry));

/** Take an entry to be sent, which nobody else then sends for so long; nothing where it is taken. */
export async function take(id, milliseconds) {
  const now = Date.now();
  let mine = null;
  const taken = (entry) => !entry || entry.trouble || (entry.taken ?? 0) > now - milliseconds;
  await inStore("readwrite", (entries) => {
    const asked = entries.get(id);
    asked.onsuccess = () => {
      if (!taken(asked.result)) entries.put((mine = { ...asked.result, taken: now }));
    };
    return asked;
  });
  return mine;
}

/** Forget an entry. */
export const forget = (id) => inStore("readwrite", (entries) => entries.delete(id));

/** List the entries in the order they were made. */
export const kept = () => inStore("readonly", (entries) => entries.getAll());
