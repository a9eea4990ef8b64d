// The class's table as it is pasted into: which headings are known, in which units, and what is said of the rest.

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { happen, keeping, newPage } from "./page.js";

const { renderGrid } = await loader("grid/")("grid.js");

const COLUMNS = [
  { key: "group", title: "Group", headings: ["group"], units: [] },
  { key: "before", title: "Cathode before", headings: ["cathode before", "before"], units: ["g", "mg"] },
  { key: "current", title: "Current", headings: ["current", "current i"], units: ["A", "mA"] },
  { key: "minutes", title: "Minutes", headings: ["minutes", "time"], units: ["min"] },
  { key: "seconds", title: "Seconds", headings: ["seconds", "time"], units: ["s"] },
];

let body;
beforeEach(() => {
  body = newPage();
  mock.timers.enable({ apis: ["setTimeout"] });
  Object.assign(globalThis, { localStorage: keeping(), sessionStorage: keeping(), location: { pathname: "/measure", search: "" }, matchMedia: () => ({ matches: false }), addEventListener() {}, removeEventListener() {} });
  performance.getEntriesByType = () => [];
});
afterEach(() => {
  mock.timers.reset();
  mock.restoreAll();
});

/** A table on the page; what it sends, what it says, and how it is pasted into. */
function table(marks = []) {
  const known = { columns: COLUMNS, limits: { bytes: 1e6, groups: 8 }, marks, refused: "", logger: {} };
  const model = { get: (name) => known[name], set: (name, value) => (known[name] = value), save_changes() {}, on() {}, off() {} };
  const leave = renderGrid({ model, el: body });
  const field = (title, row = 1) => body.querySelector(`[aria-label="${title}, row ${row}"]`);
  return {
    known, leave, field,
    paste: (text, at = field("Group")) => happen(at, "paste", { clipboardData: { getData: () => text } }),
    said: () => body.querySelector(".fp-status").textContent,
    unit: (title) => body.querySelector(`[aria-label="Unit of ${title}"]`).value,
    row: (at) => Object.fromEntries(Object.entries(known.rows[at]).filter(([, cell]) => cell)),
  };
}

test("columns are found by their headings in any order, with units in brackets or after a stroke as people write them", () => {
  const { known, paste, said, unit, row } = table();
  paste("Current I / ma\tcathode_before [mg]\tGroup\n200\t814\tred\n400\t907\tblue");
  assert.deepEqual([row(0), row(1)], [{ current: "200", before: "814", group: "red" }, { current: "400", before: "907", group: "blue" }]);
  assert.deepEqual([known.units, said()], [{ current: "mA", before: "mg" }, "Pasted."]);
  assert.deepEqual([unit("Current"), unit("Cathode before")], ["mA", "mg"]);
});

test("a time says by its unit which of two columns it is, and by its colons too", () => {
  const { paste, row } = table();
  paste("Group\tTime (mins)\nred\t20");
  paste("Group\tTime (sec)\nred\t30");
  assert.deepEqual(row(0), { group: "red", minutes: "20", seconds: "30" });
  paste("Group\tTime\nred\t20:30");
  assert.deepEqual(row(0), { group: "red", minutes: "20:30", seconds: "30" });
});

test("a time without a unit is asked about once, before anything changes, and the answer is remembered", () => {
  const { leave, paste, said, row } = table();
  const choices = () => body.querySelectorAll(".fp-unit-question button").map((each) => each.textContent);
  paste("Group\tTime\nred\t40");
  assert.deepEqual([choices(), row(0), said()], [["minutes", "seconds", "leave this column out"], {}, ""]);
  happen(body.querySelectorAll(".fp-unit-question button")[1], "click");
  assert.deepEqual([row(0), said(), choices()], [{ group: "red", seconds: "40" }, "Pasted.", []]);
  paste("Group\tTime\nred\t50");
  assert.deepEqual([choices(), row(0)], [[], { group: "red", seconds: "50" }]);
  leave();
  const again = table();
  again.paste("Group\tTime\nred\t60");
  assert.deepEqual(again.row(0), { group: "red", seconds: "60" });
});

test("a column without a unit can be left out, which is said", () => {
  const { paste, said, row } = table();
  paste("Group\tTime\nred\t40");
  happen(body.querySelectorAll(".fp-unit-question button")[2], "click");
  assert.deepEqual([row(0), said()], [{ group: "red" }, "Pasted. Left out: Time: its unit was not given."]);
});

test("a group is left out by its row or by its point, kept in the table, and taken back in by the same press", () => {
  const { known, paste, said } = table();
  paste("red\t8.1\nblue\t8.2");
  const button = () => body.querySelectorAll(".fp-leave-out")[1];
  assert.equal(button().getAttribute("aria-label"), "Leave out, row 2");
  happen(button(), "click");
  assert.deepEqual([known.rows[1].group, known.rows[1].left_out, known.rows[0].left_out], ["blue", "yes", undefined]);
  assert.match(said(), /Group blue is left out/);
  assert.equal(button().getAttribute("aria-label"), "Take back in, row 2");
  happen(button(), "click");
  assert.deepEqual([known.rows[1].left_out, said()], [undefined, "Group blue counts again."]);
});

test("a heading that is not known, or in another unit, is left out and named with what is allowed", () => {
  const { paste, said, row } = table();
  paste("Group\tColour\tCurrent (kA)\nred\tbrown\t5");
  assert.equal(said(), "Pasted. Left out: Colour: this page has no such column; Current (kA): the unit must be A or mA.");
  assert.deepEqual(row(0), { group: "red" });
});

test("numbers without headings go in where they are pasted, and what stands beyond the table is counted", () => {
  const { field, paste, said, row } = table();
  assert.ok(!paste("8,1").prevented, "one number is typed, as into any field");
  assert.ok(paste("0,2\t20\t0\t7", field("Current", 2)).prevented);
  assert.deepEqual([row(0), row(1)], [{}, { current: "0,2", minutes: "20", seconds: "0" }]);
  assert.equal(said(), "Pasted. Left out: 1 more column on the right.");
});

test("rows in one unit are not mixed with rows that stand there in another", () => {
  const { field, paste, said, row } = table();
  paste("Group\tCurrent (mA)\nred\t200");
  paste("Group\tCurrent (A)\nblue\t0.4", field("Group", 2));
  assert.match(said(), /gives Current in A, but the table has it in mA\. Nothing was changed/);
  assert.deepEqual([row(0).current, row(1)], ["200", {}]);
  paste("Group\tCurrent (A)\nred\t0.2");
  assert.deepEqual(row(0), { group: "red", current: "0.2" }, "its own row may be replaced, with its unit");
});

test("what is wrong with a cell stands at that cell, and its field is told apart for those who hear the page", () => {
  const { field } = table([{ row: 1, key: "current", sentence: "no number", kind: "wrong" }, { row: 0, key: "minutes", sentence: "long", kind: "asked" }]);
  const current = field("Current", 2);
  assert.deepEqual([current.getAttribute("aria-invalid"), current.nextElementSibling.textContent], ["true", "✗ no number"]);
  assert.equal(current.getAttribute("aria-describedby"), current.nextElementSibling.id);
  const minutes = field("Minutes");
  assert.deepEqual([minutes.getAttribute("aria-invalid"), minutes.nextElementSibling.textContent], [null, "? long"]);
  assert.equal(field("Current").nextElementSibling.textContent, "");
});

test("a table that comes and goes stops no clock but its own, and sends what is typed once", () => {
  mock.timers.reset();
  const clocks = []; // their numbers are 1, 2, 3, as a page gives them
  const stopped = [];
  mock.method(globalThis, "setTimeout", (act) => clocks.push(act));
  mock.method(globalThis, "clearTimeout", (number) => stopped.push(number));
  const other = setTimeout(() => {});
  const { known, field, leave } = table();
  for (const text of ["r", "re", "red"]) {
    field("Group").value = text;
    happen(field("Group"), "input");
  }
  const running = clocks.filter((_, k) => !stopped.includes(k + 1));
  assert.ok(running.length === 2 && !stopped.includes(other));
  running[1]();
  assert.equal(known.rows[0].group, "red");
  leave();
  assert.ok(!stopped.includes(other));
});
