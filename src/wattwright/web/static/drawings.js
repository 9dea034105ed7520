// A part in a drawing opens its record. The same parts stand as links in the list below.

import { base } from "./page.js";

/** Begin to open records from drawings. */
export function openFromDrawings() {
  document.addEventListener("click", (event) => {
    const part = event.target.closest?.(".drawing [data-part]");
    if (part && base) location.assign(`${base}/in/part.${encodeURIComponent(part.dataset.part)}`);
  });
}
