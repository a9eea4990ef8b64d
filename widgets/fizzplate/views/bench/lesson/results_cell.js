// A cell of the results table: the field of the class, and what is expected, hidden, shown or checked.

import { make, makeButton, sayWhenFull } from "../../kit/elements.js";
import { within } from "../../kit/store.js";
import { classAnswer, notesOf, verdict, votesOf } from "./results_columns.js";

const MAX_LENGTH = 500;
const ONE_LINE = 20; // characters that a field of one line shows

/** @param {string} label @param {string} key by which it is known when it is drawn anew @param {string} text */
function answerField(label, key, text) {
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = text.length > ONE_LINE ? 2 : 1;
  field.maxLength = MAX_LENGTH;
  field.placeholder = " "; // by which the stylesheet knows that it is empty
  field.setAttribute("aria-label", label);
  field.value = text;
  field.dataset.fpKey = `${key} field`;
  return field;
}

/** What is expected, and how the answer compares with it. */
function revealed(entry, column, answer, expected, species) {
  const parts = [];
  // what a class predicted stands in its field already
  if (expected && column.part !== "predicted") parts.push(make("p", expected, "fp-expected"));
  for (const noted of notesOf(entry, column)) parts.push(make("p", noted, "fp-verdict"));
  const votes = votesOf(entry, column);
  if (votes) parts.push(make("p", votes, "fp-expected"));
  if (column.part === "predicted" && !answer) parts.push(make("p", "nothing predicted", "fp-verdict"));
  if (answer) parts.push(make("p", verdict(entry, column, answer, expected, species), "fp-verdict"));
  return parts;
}

/**
 * A cell that is pressed to reveal what is expected, and pressed again to hide it.
 * @param {import("../../kit/store.js").Store} store @param {string} key of the row @param {import("./results_columns.js").Column} column
 * @param species of equations @param {(key: string) => void} redraw draws the table anew; the key is of what gets the keyboard then
 */
export function drawCell(store, key, column, species, redraw) {
  const entry = store.of(key);
  const expected = column.of(entry) ?? "";
  const isHidden = (entry[`state:${column.name}`] ?? "hidden") === "hidden";
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
  cell.append(field, sayWhenFull(field));
  if (!isHidden) cell.append(...revealed(entry, column, field.value, expected, species));

  function turn() {
    store.change(key, { ...answer(), [`state:${column.name}`]: isHidden ? "checked" : "hidden" });
    redraw(`${place} turn`); // the pressed button has gone, and this one has come
  }
  const button = makeButton(isHidden ? "Reveal" : "Hide", turn, `${place} turn`);
  button.setAttribute("aria-label", `${button.textContent}: ${name}`);
  cell.append(button);
  cell.toggleAttribute("data-hidden", isHidden);
  cell.addEventListener("click", ({ target }) => target instanceof Element && !target.closest("textarea, button") && turn());
  return cell;
}
