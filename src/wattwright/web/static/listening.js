// Hearing from the server that something changed, and noticing when nothing is heard any more.

import { base, sayLost, seen } from "./page.js";
import { refresh } from "./refreshing.js";
import { sendWaiting } from "./waiting.js";

// The server says something every ten seconds; after this long the connection is taken for lost.
const SILENCE = 25000;
const AGAIN = 2000;

let source = null;
let silence = 0;
let again = 0;

function heard() {
  clearTimeout(silence);
  silence = setTimeout(failed, SILENCE);
  sayLost(false);
}

function failed() {
  sayLost(true);
  close();
  again = setTimeout(open, AGAIN);
}

function open() {
  close();
  source = new EventSource(`${base}/events`);
  silence = setTimeout(failed, SILENCE);
  source.addEventListener("beat", heard);
  source.addEventListener("revision", (event) => {
    heard();
    const told = JSON.parse(event.data);
    // A server that was started again counts anew: any number is news then.
    if (told.started !== seen.started || String(told.number) !== seen.revision) {
      seen.started = told.started;
      refresh();
    }
    sendWaiting();
  });
  source.addEventListener("error", failed);
}

function close() {
  source?.close();
  source = null;
  clearTimeout(silence);
  clearTimeout(again);
}

/** Begin to listen; a page that nobody sees holds no connection, as a browser has few of them. */
export function listen() {
  if (!base) return;
  const begin = () => { if (document.hidden) close(); else open(); };
  document.addEventListener("visibilitychange", begin);
  addEventListener("pagehide", close);
  addEventListener("pageshow", (event) => { if (event.persisted) begin(); });
  addEventListener("offline", failed);
  addEventListener("online", open);
  begin();
}
