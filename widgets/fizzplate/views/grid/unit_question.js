// A heading such as "Time" may mean two columns: the page asks which, once, and remembers the answer with the table.

import { make, makeButton } from "../kit/elements.js";
import { answered } from "./reading.js";

const QUESTION_ID = "fp-unit-question";

/**
 * Ask for the unit of every heading that does not say it, one after another, and then go on.
 * @param {HTMLElement} place where the question stands @param {import("./reading.js").TextTable} table
 * @param {import("./measurements.js").Measurements} measurements @param {() => void} goOn
 */
export function askUnits(place, table, measurements, goOn) {
  const at = table.headings.findIndex(({ offers, why }, k) => {
    if (!offers) return false;
    const known = offers.find(({ key }) => key === measurements.answers[nameOf(table, k)]);
    if (known) table.headings[k] = answered(known);
    return !known && why;
  });
  place.replaceChildren();
  if (at < 0) {
    goOn();
    return;
  }
  const heading = table.cells[0][at];
  const { offers = [] } = table.headings[at];
  const question = make("p", `The column “${heading}” does not say its unit. Its numbers are:`);
  question.id = QUESTION_ID;
  const group = make("div", "", "fp-unit-question");
  group.setAttribute("role", "group");
  group.setAttribute("aria-labelledby", QUESTION_ID);
  const choices = offers.map((column) => makeButton(column.title.toLowerCase(), () => {
    table.headings[at] = answered(column);
    measurements.answers[nameOf(table, at)] = column.key;
    askUnits(place, table, measurements, goOn);
  }));
  const omit = makeButton("leave this column out", () => {
    delete table.headings[at].offers; // its reason stands in what is said of the table
    askUnits(place, table, measurements, goOn);
  });
  group.append(question, ...choices, omit);
  place.append(group);
  choices[0].focus();
}

/** @param {import("./reading.js").TextTable} table @param {number} at */
const nameOf = (table, at) => table.cells[0][at].trim().toLowerCase();
