// Tables to type into: from cell to cell with the keyboard, and blocks pasted from a spreadsheet.

import { say } from "./page.js";

const CELL = "table.grid input[data-was]";

const cellAt = (row, column) => row?.cells[column]?.querySelector("input[data-was]") ?? null;

function step(cell, to) {
  const column = cell.closest("td").cellIndex;
  let row = cell.closest("tr");
  do row = row[to]; while (row && !cellAt(row, column));
  const next = cellAt(row, column);
  next?.focus();
  next?.select();
}

function pressed(event) {
  if (!event.target.matches?.(CELL)) return;
  const cell = event.target;
  if (event.key === "Enter") {
    event.preventDefault();
    step(cell, event.shiftKey ? "previousElementSibling" : "nextElementSibling");
  } else if (event.key === "Escape") {
    cell.value = cell.defaultValue;
    cell.classList.remove("changed");
  }
}

/** Take a block of text apart as spreadsheets copy it: lines of cells with tabs between them. */
const blockOf = (text) => text.replace(/\r/g, "").replace(/\n$/, "").split("\n").map((line) => line.split("\t"));

function pasted(event) {
  if (!event.target.matches?.(CELL)) return;
  const block = blockOf(event.clipboardData.getData("text/plain"));
  if (block.length === 1 && block[0].length === 1) return;
  event.preventDefault();
  const first = event.target.closest("td").cellIndex;
  let row = event.target.closest("tr");
  let lost = 0;
  for (const line of block) {
    line.forEach((words, column) => {
      const cell = cellAt(row, first + column);
      if (!cell) { lost += 1; return; }
      cell.value = words.trim();
      cell.classList.toggle("changed", cell.value !== cell.defaultValue);
    });
    row = row?.nextElementSibling ?? null;
  }
  say(lost ? `Pasted; ${lost} cells found no place.` : "Pasted. Nothing is saved until you save the table.");
}

/** Begin to help with tables. */
export function helpWithTables() {
  document.addEventListener("keydown", pressed);
  document.addEventListener("paste", pasted);
}
