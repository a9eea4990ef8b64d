// What an earlier version kept in the browser, and the class tables that it saved, still open. The files are beside the
// Python tests of the same kind, in tests/earlier/, where test_earlier.py says when they were made.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { happen, keeping, made, newPage } from "./page.js";
import { DEFAULT_SLOTS } from "./record.js";

// what the tests know of the page's modules
const quiz = loader("quiz/");
const { openStore } = await loader("kit/")("store.js");
const { mountResultsTable } = await loader("bench/lesson/")("results_table.js");
const { renderGrid } = await loader("grid/")("grid.js");
const { renderInquiry } = await loader("inquiry/")("inquiry.js");
const { repetitions: comingBack, readOpenedFile: keptFile, readOpenedSet: openedSet, readSet } = await quiz("storage.js");
const { earnedMarks: earnedOf, markAnswer } = await quiz("mark.js");

const EARLIER = new URL("../earlier/", import.meta.url);
const text = (name) => readFileSync(new URL(name, EARLIER), "utf8");
const read = (name) => JSON.parse(text(name));
const KEPT = read("kept_by_browser.json");
const TABLES = read("class_tables.json");
const COLUMNS = read("class_table_columns.json");
const SPECIES = { "H+": [{ H: 1 }, 1], H2: [{ H: 2 }, 0], "e-": [{}, -1], "Cu2+": [{ Cu: 1 }, 2], Cu: [{ Cu: 1 }, 0] };

/** Marks that an answer earns. */
const marks = (asked, answer) => earnedOf(markAnswer(asked, answer, SPECIES), []);

let body;
beforeEach(() => {
  body = newPage();
  Object.assign(globalThis, { localStorage: keeping(), sessionStorage: keeping(), location: { pathname: "/measure", search: "" }, matchMedia: () => ({ matches: false }), addEventListener() {}, removeEventListener() {} });
  performance.getEntriesByType = () => [];
});
const keep = (place) => localStorage.setItem(place, JSON.stringify(KEPT[place]));

/** A widget's model: what it was given, and what the page set. */
function modelOf(known) {
  return { get: (name) => known[name], set: (name, value) => (known[name] = value), save_changes() {}, on() {}, off() {} };
}
function grid() {
  const known = { columns: COLUMNS, limits: { bytes: 1e6, groups: 200 }, marks: [], refused: "", logger: {}, invented: { rows: [], note: "" } };
  renderGrid({ model: modelOf(known), el: body });
  return known;
}
const filled = (rows) => rows.map((row) => Object.fromEntries(Object.entries(row).filter(([, cell]) => cell)));
/** Units that differ from a column's first. */
const chosen = (units) => Object.fromEntries(Object.entries(units).filter(([key, unit]) => COLUMNS.find((column) => column.key === key).units[0] !== unit));

for (const { file, rows, units, note } of TABLES) {
  test(`the saved class table ${file} is loaded with its cells, its units and its note`, async () => {
    const known = grid();
    const input = body.querySelector("input[type=file]");
    input.files = [{ name: file, size: 1000, text: async () => text(`class_tables/${file}`) }];
    happen(input, "change");
    await new Promise(setImmediate);
    assert.deepEqual([filled(known.rows), chosen(known.units), known.note], [filled(rows), units, note]);
    assert.equal(body.querySelector(".fp-status").textContent, `${rows.length} rows loaded.`);
  });
}

test("a class table that the browser kept stands there again", () => {
  keep("fizzplate.measure.1");
  const { rows, units, note } = grid();
  const [, expected] = TABLES;
  assert.deepEqual([rows, units, note], [expected.rows, expected.units, expected.note]);
});

test("a conclusion that the browser kept stands at its investigation", () => {
  keep("fizzplate.inquiry.1");
  const items = ["Two halides", "Dilute brine"].map((name) => ({ name, question: "?", vary: "", lookFor: "" }));
  renderInquiry({ model: modelOf({ items, answers: {} }), el: body });
  const [first, second] = body.querySelectorAll("option").map((option) => option.text);
  assert.deepEqual([first, second], ["Two halides", "✓ Dilute brine"]);
});

test("what a class predicted, saw and wrote stands in the results table again", () => {
  keep("fizzplate.class.1");
  const store = openStore();
  assert.deepEqual(store.keys(), ["CuSO4"]);
  assert.deepEqual(store.of("CuSO4"), KEPT["fizzplate.class.1"].CuSO4);
  const table = mountResultsTable(body, store, SPECIES, () => {});
  table.nameElectrodes(DEFAULT_SLOTS);
  table.opened();
  const field = (title) => body.querySelector(`[aria-label="${title}, CuSO₄"]`);
  assert.equal(field("Predicted, cathode").value, "copper");
  assert.equal(field("Observed, anode").value, "bubbles");
  assert.equal(field("Half-equation, cathode").value, "Cu2+ + 2e- -> Cu");
  assert.match(body.textContent, /✓/, "what was checked is checked");
});

test("a run of which an earlier version still asked the class has no row in the results table", () => {
  const { CuSO4 } = KEPT["fizzplate.class.1"];
  for (const [told, rows] of [[false, 0], [true, 1], [undefined, 1]]) {
    localStorage.setItem("fizzplate.class.1", JSON.stringify({ CuSO4: { ...CuSO4, told } }));
    const node = made(body, "div");
    const table = mountResultsTable(node, openStore(), SPECIES, () => {});
    table.nameElectrodes(DEFAULT_SLOTS);
    table.opened();
    assert.equal(node.querySelectorAll('[aria-label="Predicted, cathode, CuSO₄"]').length, rows, `told: ${told}`);
  }
});

test("answers to a set that the browser kept are there again", () => {
  keep("fizzplate.revise.2");
  const { answers, extra } = readSet("v=1&set=335&count=6&level=16");
  assert.deepEqual(answers[0], { given: "electrode", done: true, own: [] });
  assert.equal(answers[1].text, "Weigh the cathode, run, weigh again.");
  assert.deepEqual(extra[0].answer, { given: "zinc both times", done: true, own: [] });
});

test("questions that were to come back come back on their day, and are marked", () => {
  keep("fizzplate.again.1");
  const day = Date.UTC(2026, 10, 3);
  assert.deepEqual([comingBack(day - 1).due.length, comingBack(day).due.length, comingBack(day).waiting], [0, 1, 2]);
  const [choice, equation] = comingBack(day + 86_400_000).due;
  assert.equal(marks(choice, "zinc when molten, hydrogen when dissolved"), 1);
  assert.equal(marks(choice, "zinc both times"), 0);
  assert.equal(marks(equation, "2H+ + 2e- -> H2"), 2);
});

test("an opened file is asked again, marked, and at hand to be printed", () => {
  keep("fizzplate.opened.1");
  keep("fizzplate.opened-file.1");
  const { name, questions } = openedSet();
  assert.equal(name, "opened 1a2b3c");
  assert.deepEqual(questions.map(({ kind }) => kind), ["choice", "number"]);
  assert.deepEqual(questions.map((asked, k) => marks(asked, ["electrode", "45 min"][k])), [1, 2]);
  assert.deepEqual([keptFile().name, new TextDecoder().decode(keptFile().content)], ["set.csv", "kind,question\r\n"]);
});
