// The class's table in the page: a field for each cell, the unit of each column, and marks at wrong fields.

import { make } from "../kit/elements.js";
import { setWrong } from "../kit/refusal.js";
import { MAX_CELL_LENGTH } from "./measurements.js";

const LOOKS_LIKE_A_LINE = /^[^,;|]+([,;|]("[^"]*"|[^,;|"]*)){3,}$/;

/** What follows a column's title: its unit, or a choice of units. */
function unitParts({ key, title, units: offered }, units, onChange) {
  if (offered.length < 2) return offered.length ? [`, ${offered[0]}`] : [];
  const choice = /** @type {HTMLSelectElement} */ (make("select"));
  choice.setAttribute("aria-label", `Unit of ${title}`);
  for (const unit of offered) choice.append(new Option(unit, unit));
  choice.value = units[key] ?? offered[0];
  choice.addEventListener("change", () => {
    units[key] = choice.value;
    onChange();
  });
  return [" ", choice];
}

/** @param {(text: string) => void} onPaste takes text of more than one cell */
function drawCell(cell, row, { key, title }, { label, isText, onChange, onPaste }) {
  cell.dataset.title = title;
  const field = /** @type {HTMLInputElement} */ (make("input"));
  field.type = "text";
  field.inputMode = isText ? "text" : "decimal";
  field.maxLength = MAX_CELL_LENGTH;
  field.value = row[key] ?? "";
  cell.dataset.value = field.value;
  field.setAttribute("aria-label", label);
  field.addEventListener("input", () => {
    row[key] = field.value;
    cell.dataset.value = field.value;
    onChange();
  });
  field.addEventListener("paste", (event) => {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (!/[\t\n]/.test(text.trim()) && !LOOKS_LIKE_A_LINE.test(text.trim())) return;
    event.preventDefault();
    onPaste(text);
  });
  cell.append(field, make("p", "", "fp-cell-mark"));
}

/**
 * @param {import("./measurements.js").Measurements} measurements
 * @param {{onChange: () => void, onPaste: (text: string, at: number, from: number) => void}} handlers
 */
export function drawTable({ rows, columns, units }, { onChange, onPaste }) {
  const table = document.createElement("table");
  table.className = "fp-results fp-measurements";
  table.createCaption().textContent = "One row for each group. Leave a box empty if nothing was measured.";
  const head = table.createTHead().insertRow();
  for (const column of columns) {
    const cell = make("th", column.title);
    cell.setAttribute("scope", "col");
    cell.append(...unitParts(column, units, onChange));
    head.append(cell);
  }
  const body = table.createTBody();
  rows.forEach((row, at) => {
    const line = body.insertRow();
    columns.forEach((column, along) => {
      const label = `${column.title}, row ${at + 1}`;
      drawCell(line.insertCell(), row, column, { label, isText: along === 0, onChange, onPaste: (text) => onPaste(text, at, along) });
    });
  });
  return table;
}

/** Mark the fields that the program cannot use, or finds odd. @param frame of the table @param marks as the program sends them */
export function markFields(frame, columns, marks) {
  for (const field of frame.querySelectorAll("input")) {
    setWrong(field, "");
    field.nextElementSibling.textContent = "";
  }
  for (const { row, key, sentence: text, wrong } of marks) {
    const along = columns.findIndex((column) => column.key === key);
    const field = frame.querySelectorAll("tbody tr")[row]?.querySelectorAll("input")[along];
    if (!field) continue;
    const sentence = field.nextElementSibling;
    sentence.id = `fp-cell-${row}-${key}`;
    if (wrong) setWrong(field, sentence.id);
    else field.setAttribute("aria-describedby", sentence.id);
    sentence.textContent = `${wrong ? "✗" : "?"} ${text}`;
  }
}
