// The sentence of the moment, the notes of the run, and the table for those who do not see the cell.

import { note, write } from "../kit/elements.js";

const MAX_LARGE_LENGTH = 200; // characters; a longer sentence gets smaller letters

function dataTable({ caption, head, rows }) {
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

const NAMELESS_COLUMNS = 2; // columns of the table that name nothing: time and current

/** Cautions that name what may form: for the teacher, and in the page only while they are open. */
function teachersCautions(texts) {
  const fold = document.createElement("details");
  fold.className = "fp-teacher fp-for-teachers";
  const summary = document.createElement("summary");
  summary.textContent = "Cautions for the teacher: they name what may form";
  fold.append(summary);
  fold.addEventListener("toggle", () => {
    fold.replaceChildren(summary, ...(fold.open ? texts.map((text) => note(text, "fp-caution")) : []));
  });
  return fold;
}

/**
 * Until the products may be revealed, only a screen reader gets the sentence, of what is seen: the class is to look.
 * @param layout parts of the page @param lesson what is shown
 */
export function mountWords({ sentence, notes, unseen }, lesson) {
  // cautions first: what follows may have to be scrolled to
  const cautions = lesson.electrodes.flatMap((each) => each.cautions);
  let narration = lesson.seen;
  let nowS = 0;
  notes.replaceChildren(note(lesson.generalCaution, "fp-caution"), teachersCautions([...cautions, ...lesson.cautions]));
  sentence.classList.toggle("fp-spoken", lesson.on);
  const { caption, head, rows } = lesson.table ?? { rows: [] };
  const nameless = { caption, head: head?.slice(0, NAMELESS_COLUMNS), rows: rows.map((row) => row.slice(0, NAMELESS_COLUMNS)) };
  unseen.replaceChildren(...(lesson.table ? [dataTable(nameless)] : []));

  function update(timeS) {
    nowS = timeS;
    const begun = narration.filter(([fromS]) => fromS <= timeS + 1e-6);
    const text = (begun.at(-1) ?? narration[0])[1];
    write(sentence, text);
    sentence.classList.toggle("fp-long", text.length > MAX_LARGE_LENGTH); // leave the cautions room
  }
  function reveal() {
    narration = lesson.narration;
    sentence.classList.remove("fp-spoken");
    notes.replaceChildren(note(lesson.cautions.join(" "), "fp-caution"), ...lesson.notes.map((text) => note(text)));
    if (lesson.table) unseen.replaceChildren(dataTable(lesson.table));
    update(nowS);
  }
  return { update, reveal };
}
