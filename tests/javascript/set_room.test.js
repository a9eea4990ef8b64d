// A set that a class answers on its phones: what each question asks them, and what the teacher learns.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { loader } from "./loader.js";

const { FAULTS } = await loader("room/")("tallies.js");
const { mayTellAnswer, partsOf, roundsOf } = await loader("asking/")("set_rounds.js");
const { hardest, insightOf, rightAnswer } = await loader("asking/")("set_insight.js");
const PLAIN = { text: "", watch: "", chart: "", options: [], parts: [], points: [], levels: [], sections: [], task: null };
const CHOICE = {
  ...PLAIN, kind: "choice", text: "Which ion is discharged?", watch: "NaCl",
  options: [{ text: "Na⁺", right: false, reason: "Sodium is more reactive.", misconception: 7 }, { text: "H⁺", right: true, reason: "It is less reactive.", misconception: 0 }],
};
const NUMBER = {
  ...PLAIN, kind: "number", text: "Find the mass.",
  parts: [{ value: 40, unit: "mg", prompt: "mass of copper", tolerance: 0.012, nearMisses: [{ value: 80, reason: "The charge of the ion was left out." }] }],
};
const EQUATION = { ...PLAIN, kind: "equation", text: "Write it.", task: { accepted: [{ "H+": -2 }], goal: "make hydrogen", tiles: [], hints: ["the answer"] } };
const TEXT = { ...PLAIN, kind: "text", text: "Explain.", points: [{ statement: "ions move" }, { statement: "they lose electrons" }] };
const PLAN = { ...TEXT, kind: "list", text: "Plan it." };
const LEVELS = { ...PLAIN, kind: "levels", text: "Describe it all.", levels: ["names", "explains"] };
const IN_PARTS = { ...PLAIN, kind: "structured", text: "A cell holds salt.", watch: "NaCl", sections: [EQUATION, { ...CHOICE, watch: "" }, { ...NUMBER, parts: [...NUMBER.parts, { ...NUMBER.parts[0], prompt: "and of zinc" }] }, TEXT] };
const GRAPH = { ...NUMBER, chart: "<svg></svg>" };
const SET = [CHOICE, NUMBER, EQUATION, TEXT, PLAN, IN_PARTS, GRAPH, LEVELS];
const IDEAS = { 7: { wrong: "The metal always forms.", right: "", watch: "KBr" } };
const board = (position, isRevealed = false) => ({ position, isRevealed });
const rounds = (position, isRevealed = false, set = SET) => roundsOf(set, board(position, isRevealed), "set=1", {});

test("a class is asked one question, or all that a phone can answer, and no phone gets an answer", () => {
  const [one, all] = rounds(0);
  assert.deepEqual(one.parts.map(({ name }) => name), ["q1"]);
  assert.deepEqual(all.parts.map(({ name }) => name), ["q1", "q2-0", "q3", "q4", "q6a", "q6b", "q6c-0", "q6c-1", "q6d", "q7-0"]);
  assert.equal(all.title, "At your own pace: questions 1 to 8, without 5 and 8"); // said to the class too
  assert.match(all.parts[0].stem, /^What is left out is answered on paper/);
  assert.doesNotMatch(JSON.stringify(SET.map((_, k) => rounds(k).map(({ title, parts }) => [title, parts]))), /"right"|reason|the answer|"value"|nearMisses|ions move/);
  for (const { name, label } of all.parts) assert.ok(/^[a-z0-9-]{1,40}$/.test(name) && label.length <= 2000);
});

test("a question in parts is asked as a whole or part by part, each with what it is about", () => {
  const own = rounds(5).slice(0, -1);
  assert.deepEqual(own.map(({ name }) => name), ["Question 6, all its parts", "Question 6 (a)", "Question 6 (b)", "Question 6 (c)", "Question 6 (d)"]);
  for (const { parts } of own) assert.deepEqual(parts.map(({ stem }) => stem), ["A cell holds salt.", ...parts.slice(1).map(() => undefined)]);
  assert.deepEqual(own[3].parts.map(({ label }) => label), ["6. (c) Find the mass. mass of copper", "6. (c) and of zinc"]);
  assert.equal(own[2].parts[0].kind, "choice");
  assert.deepEqual(own[0].parts.map((part) => rightAnswer(SET, part)), [0, 1, 40, 40, null]);
  assert.equal(insightOf(SET, IDEAS, own[2].parts[0], { answered: 4, counts: { q6b: [3, 1] } }, FAULTS).idea, "The metal always forms.");
  assert.equal(insightOf(SET, {}, own[3].parts[1], { answered: 4, counts: { "q6c-1": [40, 80] } }, FAULTS).watch, "NaCl"); // of the whole
});

test("what only paper answers is said to be so; once the answer is seen, phones tick what their own holds", () => {
  const [plan] = rounds(4);
  assert.deepEqual(plan.parts, []);
  assert.match(plan.name, /Question 5 is answered on paper: phones can tick its points once the answer is revealed/);
  const [own] = rounds(4, true);
  assert.deepEqual(own.parts, [{ name: "q5-own", kind: "several", label: "Tick what your own answer holds", options: ["ions move", "they lose electrons", "none of these"] }]);
  const learned = insightOf(SET, IDEAS, own.parts[0], { answered: 6, counts: { "q5-own": [5, 2, 1] } }, FAULTS);
  assert.equal(learned.share, "2 of 6 had: they lose electrons");
  assert.equal(rightAnswer(SET, own.parts[0]), null);
  assert.deepEqual(rounds(3).map(({ parts }) => parts[0].kind).slice(0, 1), ["text"]); // a short text, which the teacher reads
  assert.equal(rounds(3, true)[1].parts[0].kind, "several");
  const [level] = rounds(7, true);
  assert.deepEqual(level.parts[0].options, ["Level 1: names", "Level 2: explains", "below level 1"]);
  assert.equal(insightOf(SET, IDEAS, level.parts[0], { answered: 1, counts: { "q8-own": [1, 0, 0] } }, FAULTS), null);
  assert.equal(insightOf(SET, IDEAS, partsOf(TEXT, 4, {})[0], { answered: 1, counts: { q4: [1] } }, FAULTS), null);
});

test("a question's graph goes to the phones with it, on a light ground, and at most eight in one round", () => {
  const [own] = rounds(6);
  assert.match(own.parts[0].picture, /^<svg style="--fp-ink:#/);
  assert.deepEqual(rounds(0).at(-1).parts.map(({ name, picture }) => (picture ? name : "")).filter(Boolean), ["q7-0"]);
  const inPart = partsOf({ ...IN_PARTS, sections: [CHOICE, { ...NUMBER, chart: "<svg></svg>" }] }, 1, {});
  assert.deepEqual(inPart.map(({ picture }) => Boolean(picture)), [false, true]);
  const runs = rounds(0, false, Array.from({ length: 10 }, () => GRAPH)).filter(({ name }) => name.startsWith("At each"));
  assert.deepEqual(runs.map(({ parts }) => parts.length), [8, 2]);
});

test("a long set is asked in as many rounds as hold it, and none of its questions is lost", () => {
  const many = Array.from({ length: 60 }, (_, k) => (k % 10 ? CHOICE : IN_PARTS));
  const runs = rounds(0, false, many).filter(({ name }) => name.startsWith("At each phone's own pace"));
  assert.ok(runs.every(({ parts, title }) => parts.length <= 24 && title.length <= 200));
  const asked = new Set(runs.flatMap(({ parts }) => parts.map(({ name }) => name.match(/^q(\d+)/)[1])));
  assert.equal(asked.size, 60);
  assert.equal(runs[0].title, "At your own pace: questions 1 to 16");
  const left = rounds(0, false, [CHOICE, ...Array.from({ length: 12 }, () => PLAN)]).at(-1);
  assert.equal(left.title, "At your own pace: questions 1 to 13, without 12 of them");
});

test("a question's answer is told once the board has revealed it, a whole set's once it is closed", () => {
  const one = rounds(0)[0];
  const all = rounds(0).at(-1);
  assert.equal(mayTellAnswer(one, "set=1", board(0, false), true), false);
  assert.equal(mayTellAnswer(one, "set=1", board(0, false), false), false);
  assert.equal(mayTellAnswer(one, "set=1", board(0, true), true), true);
  assert.equal(mayTellAnswer(one, "set=1", board(1, false), true), true);
  assert.equal(mayTellAnswer(one, "set=2", board(1, false), true), false); // of another set
  assert.equal(mayTellAnswer(all, "set=1", board(3, true), true), false);
  assert.equal(mayTellAnswer(all, "set=1", board(0, false), false), true);
  assert.deepEqual(SET.slice(0, 3).map((question, k) => rightAnswer(SET, partsOf(question, k + 1, {})[0])), [1, 40, 0]);
});

test("the teacher learns the share right, the commonest wrong step with its idea, and a cell that shows it", () => {
  const of = (question, counts) => insightOf(SET, IDEAS, partsOf(SET[question], question + 1, {})[0], { answered: 9, counts }, FAULTS);
  assert.deepEqual(of(0, { q1: [6, 3] }), {
    share: "3 of 9 right (33 %)", wrong: "6 chose “Na⁺”.", reason: "Sodium is more reactive.", idea: "The metal always forms.", watch: "KBr",
  });
  assert.deepEqual(of(0, { q1: [0, 9] }), { share: "9 of 9 right (100 %)", wrong: "", reason: "", idea: "", watch: "NaCl" });
  const number = of(1, { "q2-0": [40, 40.3, 80, 81, 12] });
  assert.equal(number.share, "2 of 5 right (40 %)");
  assert.match(`${number.wrong} ${number.reason}`, /^1 made the same slip: The charge of the ion/); // 81 is beyond what counts as near
  assert.match(of(2, { q3: [2, 0, 5, 0, 0, 0, 0, 0, 0] }).wrong, /5: atoms do not balance/);
  assert.equal(of(0, { q1: [0, 0] }).share, "nobody has answered");
  assert.equal(insightOf(SET, IDEAS, { name: "q9", kind: "choice" }, { answered: 0, counts: { q9: [1] } }, FAULTS), null);
});

const IDEAS_OF_TABLE = readFileSync(new URL("../../widgets/fizzplate/data/misconceptions.csv", import.meta.url), "utf8");
const told = (question, counts) => insightOf([question], { 10: { wrong: "ten", watch: "CuSO4" }, 29: { wrong: "twenty-nine", watch: "Na2SO4" }, 33: { wrong: "thirty-three", watch: "CuCl2" } }, partsOf(question, 1, {})[0], { answered: 9, counts }, FAULTS);

test("a wrong number or half-equation names the idea behind it where the table has one that fits, and no idea elsewhere", () => {
  const misses = [{ value: 20, reason: "The ratio is the other way round.", misconception: 29 }, { value: 80, reason: "Not converted." }];
  const volume = { ...NUMBER, parts: [{ ...NUMBER.parts[0], nearMisses: misses }] };
  assert.deepEqual([told(volume, { "q1-0": [20, 20, 80] }).idea, told(volume, { "q1-0": [20, 80, 80] }).idea], ["twenty-nine", ""]);
  assert.equal(told(volume, { "q1-0": [20] }).watch, "Na2SO4");
  const faults = (fault) => ({ q1: FAULTS.map(([name]) => (name === fault ? 3 : 0)) });
  const cathode = { ...EQUATION, task: { ...EQUATION.task, accepted: [{ "Cu2+": -1, "e-": -2, Cu: 1 }] } };
  const anode = { ...EQUATION, task: { ...EQUATION.task, accepted: [{ "Cl-": -2, "e-": 2, Cl2: 1 }] } };
  assert.deepEqual([told(cathode, faults("side")).idea, told(cathode, faults("missing")).idea, told(anode, faults("side")).idea], ["ten", "", ""]);
  assert.deepEqual([told(anode, faults("single")).idea, told(cathode, faults("single")).idea], ["thirty-three", ""]);
  assert.match(IDEAS_OF_TABLE, /\n10,.*At \{the_cathode\} ions give electrons/);
  assert.match(IDEAS_OF_TABLE, /\n33,.*Chlorine leaves as single atoms/);
});

test("of a set the teacher learns which question fewest have right, where more than one can be told", () => {
  const { parts } = rounds(0).at(-1);
  const counts = { q1: [1, 3], "q2-0": [40, 80, 12], q3: [4, 0, 0, 0, 0, 0, 0], q4: [4], q6b: [0, 0] };
  assert.deepEqual(hardest(SET, parts, { answered: 4, counts }), { number: 2, right: 1, of: 3 });
  assert.equal(hardest(SET, parts, { answered: 4, counts: { q1: [1, 3] } }), null);
  assert.equal(hardest(SET, parts, undefined), null);
});
