// The class's table in the page: a field for each cell, the unit of each column, and marks at wrong fields.

import { make, makeButton } from "../kit/elements.js";
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
    for (const cell of /** @type {NodeListOf<HTMLElement>} */ (choice.closest("table")?.querySelectorAll(`td[data-key="${key}"]`) ?? [])) {
      cell.dataset.title = `${title}, ${choice.value}`;
    }
    onChange();
  });
  return [" ", choice];
}

/** @param {(text: string) => void} onPaste takes text of more than one cell */
function drawCell(cell, row, { key, title }, { label, unit, isText, onChange, onPaste }) {
  cell.dataset.key = key;
  cell.dataset.title = unit ? `${title}, ${unit}` : title;
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

/** What a folded row says on a phone. @param {import("./measurements.js").Measurements} measurements @param {number} at */
function rowSummary(measurements, at) {
  const { rows, columns } = measurements;
  const row = rows[at];
  const name = row.group?.trim() ? `Group ${row.group.trim()}` : `Row ${at + 1}`;
  const filled = columns.filter(({ key, units }) => units.length && row[key]?.trim());
  const shown = filled.filter(({ key }) => key === "current" || key === "minutes");
  const values = shown.map((column) => `${row[column.key].trim()} ${measurements.unitOf(column)}`);
  const rest = filled.length - shown.length;
  if (rest) values.push(`${rest} more`);
  return `${name}: ${values.join(", ") || "empty"}`;
}

/** The head of a row: its number, on a phone the button that unfolds it, and the button that leaves it out. */
function drawRowHead(line, measurements, at, { opened, onLeaveOut }) {
  const head = make("th");
  head.setAttribute("scope", "row");
  const unfold = /** @type {HTMLButtonElement} */ (make("button", "", "fp-row-fold"));
  unfold.type = "button";
  unfold.dataset.fpKey = `fold-${at}`;
  const show = () => {
    line.toggleAttribute("data-fp-open", opened.has(at));
    unfold.setAttribute("aria-expanded", String(opened.has(at)));
  };
  unfold.addEventListener("click", () => {
    if (!opened.delete(at)) opened.add(at);
    show();
  });
  show();
  const isOut = measurements.isLeftOut(at);
  line.classList.toggle("fp-left-out", isOut);
  const leaveOut = makeButton(isOut ? "Take back in" : "Leave out", () => onLeaveOut(at), `leave-out-${at}`);
  leaveOut.setAttribute("aria-label", `${leaveOut.textContent}, row ${at + 1}`);
  leaveOut.classList.add("fp-leave-out");
  head.append(make("span", String(at + 1), "fp-row-number"), unfold, leaveOut);
  line.append(head);
  return () => {
    unfold.textContent = rowSummary(measurements, at);
    leaveOut.hidden = !isOut && !Object.values(measurements.rows[at]).some((cell) => cell.trim());
  };
}

/** The units that can be chosen, shown above the groups on a phone. @param {import("./measurements.js").Measurements} measurements */
function unitsButton(measurements, table) {
  const choosable = measurements.columns.filter(({ units }) => units.length > 1);
  const units = [...new Set(choosable.map((column) => measurements.unitOf(column)))];
  const button = makeButton(`Units: ${units.join(", ")}`, () => {
    const isOpen = table.toggleAttribute("data-fp-units");
    button.setAttribute("aria-expanded", String(isOpen));
  });
  button.setAttribute("aria-expanded", "false");
  button.classList.add("fp-units-fold");
  return button;
}

/**
 * @param {import("./measurements.js").Measurements} measurements
 * @param {{opened: Set<number>, onChange: () => void, onLeaveOut: (at: number) => void, onPaste: (text: string, at: number, from: number) => void}} handlers
 *   opened: the rows that are unfolded on a phone
 */
export function drawTable(measurements, { opened, onChange, onLeaveOut, onPaste }) {
  const { rows, columns, units } = measurements;
  const table = document.createElement("table");
  table.className = "fp-results fp-measurements";
  const caption = table.createCaption();
  caption.append(make("span", "One row for each group. Leave a box empty if nothing was measured. 250 mA, 20:30 and 1,25 are understood."), unitsButton(measurements, table));
  const head = table.createTHead().insertRow();
  const corner = make("th", "Row");
  corner.setAttribute("scope", "col");
  head.append(corner);
  for (const column of columns) {
    const cell = make("th", column.title);
    cell.setAttribute("scope", "col");
    cell.append(...unitParts(column, units, onChange));
    head.append(cell);
  }
  const body = table.createTBody();
  rows.forEach((row, at) => {
    const line = body.insertRow();
    const showHead = drawRowHead(line, measurements, at, { opened, onLeaveOut });
    showHead();
    const changed = () => {
      showHead();
      onChange();
    };
    columns.forEach((column, along) => {
      const label = `${column.title}, row ${at + 1}`;
      drawCell(line.insertCell(), row, column, {
        label, unit: measurements.unitOf(column), isText: along === 0, onChange: changed, onPaste: (text) => onPaste(text, at, along),
      });
    });
  });
  return table;
}

const SIGNS = { wrong: "✗ ", asked: "? ", read: "" };

/** Mark the fields that the program cannot use, or finds odd. @param frame of the table @param marks as the program sends them */
export function markFields(frame, columns, marks) {
  for (const field of frame.querySelectorAll("input")) {
    setWrong(field, "");
    field.nextElementSibling.textContent = "";
  }
  for (const { row, key, sentence: text, kind } of marks) {
    const along = columns.findIndex((column) => column.key === key);
    const line = frame.querySelectorAll("tbody tr")[row];
    const field = line?.querySelectorAll("input")[along];
    if (!field) continue;
    const sentence = field.nextElementSibling;
    sentence.id = `fp-cell-${row}-${key}`;
    sentence.dataset.kind = kind;
    if (kind === "wrong") setWrong(field, sentence.id);
    else field.setAttribute("aria-describedby", sentence.id);
    sentence.textContent = `${SIGNS[kind]}${text}`;
  }
}
