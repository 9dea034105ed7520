// Sending a form to the server, and what its answer means.

import { token } from "./page.js";

const PATIENCE = 20000;

/** Send fields, with the token that is good now. Throws where nobody answers. */
export async function post(url, fields) {
  const sent = new URLSearchParams();
  for (const [name, value] of fields) if (name !== "token") sent.append(name, value);
  sent.append("token", token());
  const answer = await fetch(url, {
    method: "POST",
    body: sent,
    headers: { accept: "application/json" },
    redirect: "manual",
    signal: AbortSignal.timeout(PATIENCE),
  });
  // Too much at once, and a server that is not itself, are no answer to what was typed.
  if (answer.status >= 500 || answer.status === 429) throw new Error(`no answer (${answer.status})`);
  return { ok: answer.ok, status: answer.status, told: await answer.json().catch(() => ({})) };
}

/** Say why something was not saved. */
export function reason({ status, told }) {
  if (told.clash) {
    return `Somebody else changed this meanwhile. There now: ${told.clash.now_says}. ` +
      `Yours: ${told.clash.meant_says}. Save again to put yours in its place.`;
  }
  const problems = Object.entries(told.problems ?? {}).map(([path, words]) => `${path}: ${words}`);
  const words = [told.message, ...problems].filter(Boolean).join("; ");
  return words || `Not saved (${status}): open the page again and repeat it.`;
}

/** List what a form would send. */
export function fieldsOf(form, button) {
  const data = new FormData(form, button);
  return [...data.entries()].filter(([, value]) => typeof value === "string");
}
