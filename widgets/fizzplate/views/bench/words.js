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
  notes.replaceChildren(
    note(lesson.cautions.join(" "), "fp-caution"),
    ...lesson.notes.map((text) => note(text)),
  );
  unseen.replaceChildren(...(lesson.table ? [figures(lesson.table)] : []));

  function update(timeS) {
    const begun = lesson.narration.filter(([fromS]) => fromS <= timeS + 1e-6);
    const said = (begun.at(-1) ?? lesson.narration[0])[1];
    write(sentence, said);
    sentence.classList.toggle("fp-long", said.length > LONG); // leave the cautions room
  }
  return { update };
}
