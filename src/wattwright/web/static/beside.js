// What is said beside a field or in a cell: what is wrong with it, and what somebody else wrote.

import { say } from "./page.js";

/** Say what is wrong beside the field of a form; nothing takes it away again. */
export function sayBeside(form, words) {
  const place = form.querySelector(".problem");
  if (!place || form.matches("[data-grid]")) return say(words);
  place.textContent = words;
  place.hidden = !words;
  const box = form.querySelector('[name="quantity"], [data-later] [name="name"]');
  if (!box) return;
  if (words) {
    box.setAttribute("aria-invalid", "true");
    box.setAttribute("aria-describedby", place.id);
  } else {
    box.removeAttribute("aria-invalid");
    box.removeAttribute("aria-describedby");
  }
}

/** Say what is wrong below a cell of a table. */
export function sayInCell(form, path, words) {
  const box = form.elements[`cell:${path}`];
  if (!box) return;
  const cell = box.closest("td");
  const place = cell.querySelector(".problem") ?? cell.appendChild(document.createElement("p"));
  place.className = "problem";
  place.id = `p-${path}`;
  place.textContent = words;
  box.setAttribute("aria-invalid", "true");
  box.setAttribute("aria-describedby", place.id);
}

/** Take away what was said in cells. */
export function hushCells(form) {
  for (const place of form.querySelectorAll("td .problem")) place.remove();
  for (const box of form.querySelectorAll("[aria-invalid]")) {
    box.removeAttribute("aria-invalid");
    box.removeAttribute("aria-describedby");
  }
}

/** Note what stands in the file now, so that saving again replaces just that. */
export function nowThere(form, now, name = "was") {
  let box = form.elements[name];
  // An empty field of a table stands for nothing; a form leaves its field out.
  if (now === null && name === "was") return box?.remove();
  if (!box) {
    box = document.createElement("input");
    box.type = "hidden";
    box.name = name;
    form.append(box);
  }
  box.value = now ?? "";
}
