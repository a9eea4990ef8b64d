// The sentence of the moment, the notes of the run, and the table for those who do not see the cell.

import { note, write } from "./layout.js";

const LONG = 200; // characters of a sentence that takes smaller letters

function figures({ caption, head, rows }) {
  const table = document.createElement("table");
  table.createCaption().textContent = caption;
  const titles = table.createTHead().insertRow();
  for (const title of head) {
    const cell = document.createElement("th");
    cell.scope = "col";
    cell.textContent = title;
    titles.append(cell);
  }
  const body = table.createTBody();
  for (const values of rows) {
    const line = body.insertRow();
    for (const value of values) line.insertCell().textContent = value;
  }
  return table;
}

export function mountWords({ sentence, notes, unseen }, lesson) {
  // cautions first: what follows may have to be scrolled to
  const cautions = [note(lesson.cautions.join(" "), "fp-caution")];
  const beside = lesson.electrodes.flatMap((each) => each.cautions);
  const told = lesson.notes.map((text) => note(text));
  const general = note(lesson.generalCaution ?? "", "fp-caution");
  const fold = document.createElement("details");
  fold.className = "fp-teacher";
  const summary = document.createElement("summary");
  summary.textContent = "Cautions for the teacher";
  const all = [...beside, ...lesson.cautions].map((text) => note(text, "fp-caution"));
  fold.append(summary, ...all);
  notes.replaceChildren(general, fold, ...cautions, ...told);
  unseen.replaceChildren(...(lesson.table ? [figures(lesson.table)] : []));

  function update(timeS) {
    const begun = lesson.narration.filter(([fromS]) => fromS <= timeS + 1e-6);
    const said = (begun.at(-1) ?? lesson.narration[0])[1];
    write(sentence, said);
    sentence.classList.toggle("fp-long", said.length > LONG); // leave the cautions room
  }
  /**
   * While a class is asked, what would tell it the answer stands behind a fold of the teacher's.
   * @param {boolean} asking
   */
  function hold(asking) {
    for (const node of [general, fold]) node.hidden = !asking;
    for (const node of [...cautions, ...told]) node.hidden = asking;
  }
  hold(false);
  return { update, hold };
}
