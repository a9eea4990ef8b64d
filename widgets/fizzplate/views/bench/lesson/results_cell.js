// A cell of the results table: the field of the class, and what is expected, hidden, shown or checked.

import { make, makeButton, sayWhenFull } from "../../kit/elements.js";
import { within } from "../../kit/store.js";
import { classAnswer, verdict } from "./results_columns.js";

const MAX_LENGTH = 500;

/** @param {string} label @param {string} key by which it is known when it is drawn anew @param {string} text */
function answerField(label, key, text) {
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = 2;
  field.maxLength = MAX_LENGTH;
  field.setAttribute("aria-label", label);
  field.value = text;
  field.dataset.fpKey = `${key} field`;
  return field;
}

/**
 * @param {import("../../kit/store.js").Store} store @param {string} key of the row @param {import("./results_columns.js").Column} column
 * @param species of equations @param {(key: string) => void} redraw draws the table anew; the key is of what gets the keyboard then
 */
export function drawCell(store, key, column, species, redraw) {
  const entry = store.of(key);
  const expected = column.of(entry) ?? "";
  const state = entry[`state:${column.name}`] ?? "hidden";
  const name = `${column.title}, ${entry.label}`;
  const place = `${key} ${column.name}`;
  const cell = make("td");
  cell.dataset.title = column.title;
  const field = answerField(name, place, classAnswer(entry, column));
  const showOnPaper = () => (cell.dataset.written = field.value); // where a field would cut it
  showOnPaper();
  const answer = () => ({ [`cell:${column.name}`]: within(field.value) });
  field.addEventListener("input", showOnPaper);
  field.addEventListener("change", () => store.change(key, answer()));
  cell.append(field, sayWhenFull(field), make("p", state === "hidden" ? "" : expected, "fp-expected"));
  if (state === "checked") cell.append(make("p", verdict(entry, column, field.value, expected, species), "fp-verdict"));

  const buttons = make("div", "", "fp-cell-buttons");
  function addButton(text, newState, role = "turn") {
    const button = makeButton(text, () => {
      store.change(key, { ...answer(), [`state:${column.name}`]: newState });
      redraw(`${place} turn`); // the pressed button has gone, and this one has come
    }, `${place} ${role}`);
    button.setAttribute("aria-label", `${text}: ${name}`);
    buttons.append(button);
  }
  if (state === "hidden") {
    addButton("Reveal", "shown");
    addButton("Check", "checked", "check");
  } else addButton("Hide", "hidden");
  if (column.name !== "ions" || expected) cell.append(buttons);
  return cell;
}
