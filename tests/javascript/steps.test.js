// A lesson in steps: which step comes next, what is asked of the program, and what a reload brings back.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { made, newPage } from "./page.js";

const use = loader("bench/lesson/");
const { mayTell, stepAfter, STEPS } = await use("path.js");
const { Stage } = await use("stage.js");
const { cautionNow } = await use("step_words.js");
const { tallyOf } = await use("step_cards.js");

let body;
beforeEach(() => (body = newPage()));

/** A stage with a program that answers at once; the steps of a run whose explanation has so many presses. */
function stage({ kept = {}, presses = 3, next = "CuSO₄" } = {}) {
  const layout = Object.fromEntries(["path", "heading"].map((name) => [name, made(body, "div")]));
  for (const name of ["next", "back"]) layout[name] = made(body, "button");
  const values = { lesson: { key: "NaCl", on: false }, next_label: next, request: {} };
  const asked = [];
  let ended = 0;
  let at = 0;
  const run = {
    shown: [],
    show: (name) => run.shown.push(name),
    shownStep: () => at,
    get isAtEnd() { return at === presses - 1; },
    advance(by) {
      if (which.step !== "explain" || at + by < 0 || at + by >= presses) return false;
      at += by;
      return true;
    },
  };
  const model = {
    get: (name) => values[name],
    set: (name, value) => (values[name] = value),
    save_changes() {
      const { what } = values.request;
      asked.push(what);
      if (what === "next") values.lesson = { key: "CuSO4", on: false };
      else values.lesson = { ...values.lesson, on: what === "on" };
      values.request = {};
      which.arrive(false);
      which.show();
    },
  };
  const which = new Stage(layout, model, () => run, kept, () => (ended += 1));
  which.arrive(false);
  which.show();
  return { which, layout, run, asked, values, ended: () => ended, label: () => layout.next.textContent };
}

test("steps follow each other, and only the last two may tell", () => {
  assert.deepEqual(STEPS.map(([name]) => stepAfter(name)), ["watch", "test", "explain", "record", undefined]);
  assert.equal(stepAfter("predict", -1), undefined);
  assert.deepEqual(STEPS.map(([name]) => mayTell(name)), [false, false, false, true, true]);
});

test("the large button takes five presses for a solution, besides those of the explanation", () => {
  const { which, layout, label, asked } = stage();
  const seen = [];
  let presses = 0;
  while (asked.at(-1) !== "next") {
    seen.push(label());
    if (label() !== "Next") presses += 1;
    layout.next.click();
  }
  assert.deepEqual(seen, ["Next: Watch", "Next: Test", "Next: Explain", "Next", "Next", "Next: Record", "Next: CuSO₄"]);
  assert.equal(presses, 5);
  assert.equal(which.step, "predict", "of the next solution");
});

test("a step other than the first closes the switch, and the first one opens it", () => {
  const { which, asked, run } = stage();
  which.go("explain");
  assert.deepEqual([asked, which.step], [["on"], "explain"]);
  which.go("watch");
  assert.deepEqual([asked, run.shown], [["on"], ["watch"]]);
  which.go("predict");
  assert.deepEqual([asked, which.step], [["on", "off"], "predict"]);
});

test("whoever goes on or back folds what lies over the picture", () => {
  const { which, layout } = stage();
  let folded = 0;
  which.onGoing = () => (folded += 1);
  layout.next.click(); // to Watch
  which.go("explain");
  assert.equal(folded, 2);
  layout.next.click(); // the next sentence
  assert.equal(folded, 2);
});

test("after the last solution the button shows all results", () => {
  const { which, layout, label, ended } = stage({ next: "" });
  which.go("record");
  assert.equal(label(), "All results");
  layout.next.click();
  assert.equal(ended(), 1);
});

test("a reload brings each solution's step back; what is no step, and a new class, begin anew", () => {
  const kept = { NaCl: { step: "test", press: 2, done: ["predict", "watch"] }, KI: { step: "pour", press: 0, done: [] } };
  const { which, values } = stage({ kept });
  assert.deepEqual(Object.keys(which.kept()), ["NaCl"]);
  values.lesson = { key: "NaCl", on: true };
  assert.deepEqual(which.arrive(false), { name: "watch", press: 0 }, "a new run");
  const again = stage({ kept });
  again.values.lesson = { key: "NaCl", on: true };
  assert.deepEqual(again.which.arrive(true), { name: "test", press: 2 });
  again.which.forget();
  assert.deepEqual(again.which.kept(), {});
});

test("while the program has not answered, nothing is asked twice", () => {
  const { which, layout, asked } = stage();
  which.isWaiting = true;
  layout.next.click();
  which.go("test");
  assert.deepEqual(asked, []);
});

test("the caution is the general one while the class is asked, and then that of the electrode that is explained", () => {
  const lesson = { generalCaution: "general", electrodes: [{ cautions: ["hydrogen"] }, { cautions: [] }], cautions: ["alkali"] };
  assert.deepEqual(["predict", "watch"].map((step) => cautionNow(lesson, step, -1)), ["general", "general"]);
  assert.match(cautionNow(lesson, "test", -1), /Never light gas at the cell/);
  assert.equal(cautionNow(lesson, "explain", 0), "hydrogen");
  assert.equal(cautionNow(lesson, "explain", 1), "hydrogen", "the other one has none");
  assert.equal(cautionNow({ ...lesson, electrodes: [{ cautions: [] }, { cautions: [] }] }, "record", -1), "alkali");
});

test("a melt has no run to watch and no gas to test: three steps, numbered one after the other", () => {
  const { which, layout, asked, values, label } = stage();
  values.lesson = { key: "NaCl(l)", on: false, isMelt: true };
  which.show();
  const shown = [...layout.path.querySelectorAll("li")].filter((each) => !each.hidden).map((each) => each.textContent);
  assert.deepEqual(shown, ["1 Predict", "2 Explain", "3 Record"]);
  assert.equal(label(), "Next: Explain");
  layout.next.click();
  assert.deepEqual([asked, which.step], [["on"], "explain"]);
  which.go("record");
  which.onward(-1);
  assert.equal(which.step, "explain");
});

test("the tally says which way each lot of electrons passed, and neither its number nor its discs ever become fewer", () => {
  const tally = tallyOf(0, "Here one electron stands for 50 µmol, 10 times as much as in most runs.");
  body.append(tally.box);
  const said = () => tally.box.textContent;
  tally.update(1, 0);
  assert.match(said(), /^1 electron taken from the wire/);
  tally.update(23, 0);
  assert.match(said(), /^23 electrons taken from the wire/);
  assert.match(said(), /10 times as much/);
  tally.update(26, 23);
  assert.match(said(), /^26 electrons have passed here: 23 given to the wire before the swap, 3 taken from the wire since/);
  const discs = (passed) => {
    tally.update(passed, 0);
    const [, number, rest] = said().match(/(⊖*)(?: \+ (\d+))?Here/);
    return number.length + Number(rest ?? 0);
  };
  for (const passed of [0, 7, 39, 40, 41, 42, 80, 81, 199]) assert.equal(discs(passed), passed);
});
