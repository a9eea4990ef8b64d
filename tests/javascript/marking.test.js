// Answers marked in the page: equations, words and numbers, as a teacher would.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";

const { judge, normalised } = await loader("workshop/")("judge.js");
const { markParts } = await loader("quiz/")("numbers/numbers.js");
const { markPoint } = await loader("quiz/")("words.js");
const { isMarkedByWriter, markAnswer, plainAnswer } = await loader("quiz/")("mark.js");

const SPECIES = {
  "Cu2+": [{ Cu: 1 }, 2], Cu: [{ Cu: 1 }, 0], "e-": [{}, -1], "H+": [{ H: 1 }, 1], H2: [{ H: 2 }, 0],
  H2O: [{ H: 2, O: 1 }, 0], "OH-": [{ H: 1, O: 1 }, -1], O2: [{ O: 2 }, 0], "Cl-": [{ Cl: 1 }, -1], Cl2: [{ Cl: 2 }, 0],
  "SO4^2-": [{ S: 1, O: 4 }, -2], SO42: [{ S: 1, O: 4 }, -2],
};
const COPPER = { accepted: [{ "Cu2+": -1, "e-": -2, Cu: 1 }], goal: "make copper from its ions" };
const OXYGEN = { accepted: [{ "OH-": -4, O2: 1, H2O: 2, "e-": 4 }], goal: "make oxygen" };

test("an equation is judged as it would be on paper", () => {
  for (const [task, answer, code] of [
    [COPPER, "Cu2+ + 2e- -> Cu", "right"],
    [COPPER, "Cu²⁺ + 2e⁻ → Cu", "right"],
    [COPPER, "Cu2+(aq) + 2 e- = Cu(s).", "right"],
    [COPPER, "1/2Cu2+ + e- -> 1/2Cu", "right"],
    [COPPER, "2Cu2+ + 4e- -> 2Cu", "multiple"],
    [COPPER, "Cu -> Cu2+ + 2e-", "reversed"],
    [COPPER, "Cu2+ + e- -> Cu", "unbalanced"],
    [COPPER, "Cu2+ + 2e- + H2O -> Cu + H2O", "cancel"],
    [COPPER, "2H+ + 2e- -> H2", "other"],
    [COPPER, "Cu -> Cu", "other"],
    [COPPER, "Cu2+ + 2e- Cu", "unread"],
    [COPPER, "", "empty"],
    [COPPER, " . ", "empty"],
    [OXYGEN, "4OH- -> O2 + 2H2O + 4e-", "right"],
    [OXYGEN, "4OH- - 4e- -> O2 + 2H2O", "right"],
    [OXYGEN, "2OH- -> 1/2O2 + H2O + 2e-", "right"],
    [OXYGEN, "4OH- -> O2 + H2O + 4e-", "unbalanced"],
  ]) {
    assert.equal(judge(answer, task, SPECIES).code, code, answer);
  }
});

test("usual forms of a charge, wrong capitals and whole formulae are read", () => {
  for (const answer of ["Cu+2 + 2e- -> Cu", "Cu++ + 2e to Cu", "Cu(2+) + 2e(-) ⇌ Cu", "Cu^(2+) + 2e^- ---> Cu"]) {
    assert.equal(judge(answer, COPPER, SPECIES).code, "right", answer);
  }
  const { code, sentences } = judge("cu2+ + 2e- -> CU", COPPER, SPECIES);
  assert.deepEqual([code, sentences], ["capitals", ["Right but for capital and small letters: write Cu2+, Cu."]]);
  const whole = { ...SPECIES, CuCl2: [{}, 0, { "Cu2+": 1, "Cl-": 2 }] };
  const task = { accepted: [{ "Cu2+": -1, "Cl-": -2, Cu: 1, Cl2: 1 }], goal: "add up" };
  assert.equal(judge("CuCl2 -> Cu + Cl2", task, whole).code, "right");
  for (const answer of ["Cu2+ + 2Cl- + 2e- -> Cu + Cl2 + 2e-", "Cu2+ + 2Cl- -> Cu + Cl2 + 2e-", "Cu2+ + Cl- -> Cu + Cl2"]) {
    const { code: found, inPlace } = judge(answer, task, whole);
    assert.deepEqual([found, inPlace], [answer.startsWith("Cu2+ + 2Cl- + 2e-") ? "cancel" : "unbalanced", true], answer);
  }
});

test("an unbalanced equation is told what does not balance, with the numbers", () => {
  assert.deepEqual(judge("4OH- -> O2 + H2O + 3e-", OXYGEN, SPECIES).sentences, [
    "H atoms: 4 on the left, 2 on the right.",
    "O atoms: 4 on the left, 3 on the right.",
    "Charge: 4− on the left, 3− on the right.",
  ]);
  assert.deepEqual(judge("2Cu2+ + 2e- -> 2Cu", COPPER, SPECIES).sentences, ["Charge: 2+ on the left, 0 on the right."]);
  assert.deepEqual(judge("1/2H2 -> 1/4O2", OXYGEN, SPECIES).sentences, [
    "H atoms: 1 on the left, 0 on the right.",
    "O atoms: 0 on the left, 1/2 on the right.",
  ]);
  const { code, inPlace } = judge("Cu2+ + e- -> Cu", COPPER, SPECIES);
  assert.deepEqual([code, inPlace], ["unbalanced", true]);
  assert.equal(judge("Cu + e- -> Cu2+", COPPER, SPECIES).inPlace, false);
  assert.match(judge("4Cu2+ + 8e- -> 4Cu", COPPER, SPECIES).sentences[0], /divided by 4/);
});

test("what cannot be read is shown as it was typed, with what it may mean", () => {
  assert.match(judge("cux2+ + 2e- -> Cu", COPPER, SPECIES).sentences[0], /“cux2\+ \+ 2e-”.*Did you mean Cu\?/);
  assert.match(judge("2CI- -> CI2 + 2e-", COPPER, SPECIES).sentences[0], /Did you mean Cl-\?/);
  assert.match(judge("Cu2+ + 2e- -> Xy", COPPER, SPECIES).sentences[0], /“Xy”\.$/);
  assert.equal(normalised("Cu²⁺ + 2e⁻ ⟶ Cu (s)"), "Cu2++2e-=Cu");
});

const part = (changes = {}) => ({
  value: 0.5, unit: "g", units: { g: 1, mg: 0.001 }, steps: ["charge", "moles", "mass"], prompt: "", factor: 0,
  nearMisses: [{ value: 1.0, lost: [1], reason: "Two electrons pass for each atom." }], tolerance: 0.01, figures: 2,
  answer: "0.50 g", ...changes,
});
const earned = (marked) => marked.lines.map((line) => line.earned);

test("a number earns its steps, a slip loses its own, and what follows from an answer is carried on", () => {
  const [yes, no] = [true, false];
  assert.deepEqual(earned(markParts([part()], "0.50 g", false)), [yes, yes, yes]);
  assert.deepEqual(earned(markParts([part()], "502 mg", false)), [yes, yes, yes]);
  assert.deepEqual(earned(markParts([part()], "1.0 g", false)), [yes, no, yes]);
  assert.deepEqual(earned(markParts([part()], "0.7 g", false)), [no, no, no]);
  assert.deepEqual(earned(markParts([part()], "0 g", false)), [no, no, no]);
  assert.deepEqual(earned(markParts([part({ factor: 2 })], "0 g", false)), [no, no, no]);
  assert.deepEqual(earned(markParts([part()], "half a gram", false)), [no, no, no]);
  const second = part({ value: 1.0, answer: "1.0 g", factor: 2, nearMisses: [{ value: 4, lost: [0], reason: "slip" }], steps: ["double"] });
  const first = part({ steps: ["first"] });
  assert.deepEqual(earned(markParts([first, second], "0.7 g; 1.4 g", false)), [no, yes]);
  assert.deepEqual(earned(markParts([first, second], "0.7 g; 1.0 g", false)), [no, yes]);
  assert.deepEqual(earned(markParts([first, second], "0.7 g; 5.6 g", false)), [no, no]);
  assert.match(markParts([first, second], "0.7 g; 5.6 g", false).lines[1].reason, /slip/);
  assert.deepEqual(earned(markParts([first, second], "0.5 g", false)), [yes, no]);
});

test("units and figures are remarked on, and cost a mark where marking is strict", () => {
  assert.match(markParts([part()], "0.50", false).remark, /Give the unit: g/);
  assert.match(markParts([part()], "0.50 V", false).remark, /V is not a unit/);
  assert.match(markParts([part()], "500 mg", false).remark, /unit asked for is g/);
  assert.match(markParts([part()], "0.49984 g", false).remark, /more figures/);
  assert.equal(markParts([part()], "0.500 g", false).remark, "");
  assert.deepEqual(earned(markParts([part()], "0.50", true)), [true, true, false]);
  assert.deepEqual(earned(markParts([part({ steps: ["mass"] })], "0.50", true)), [true]);
  const exact = part({ value: 0.123, figures: 3, steps: ["mass"] });
  assert.deepEqual(earned(markParts([exact], "0.1 g", false)), [false]);
  assert.deepEqual(earned(markParts([exact], "0.12 g", false)), [true]);
  assert.deepEqual(earned(markParts([exact], "0.14 g", false)), [false]);
});

test("words count when they are said, not when they are denied or said of the other thing", () => {
  const point = { statement: "copper forms", words: ["copper"], contradictions: ["silver"], too_little: ["metal"] };
  const told = (answer, more = {}) => markPoint({ ...point, ...more }, answer);
  assert.equal(told("Copper forms.").earned, true);
  assert.equal(told("no copper forms").earned, false);
  assert.match(told("no copper forms").reason, /denied/);
  assert.equal(told("copper is not seen").earned, false);
  assert.equal(told("not hydrogen, but copper").earned, true);
  assert.match(told("copper and silver").reason, /“silver” takes it back/);
  assert.match(told("a metal").reason, /alone is too little/);
  assert.match(told("a gas").reason, /not said/);
  assert.equal(told("the photocopper").earned, false);
  const both = { words: ["pink & bubbles"] };
  assert.equal(told("pink with bubbles", both).earned, true);
  assert.equal(told("pink. bubbles", both).earned, false);
  const cathode = { within: ["cathode"], besides: ["anode"], words: ["copper"], contradictions: ["chlorine"] };
  assert.equal(told("copper at the cathode, and chlorine at the anode", cathode).earned, true);
  assert.match(told("chlorine at the cathode and copper at the anode", cathode).reason, /wrong way round/);
  assert.equal(told("at the anode there is copper", cathode).earned, false);
  assert.equal(told("when it runs copper grows. it is at the cathode", cathode).earned, true);
  assert.equal(told("cathode: copper; anode: chlorine", cathode).earned, true);
  assert.equal(told("anode: gas;copper at the cathode", cathode).earned, true);
  assert.equal(told("anode: a gas. it is copper", cathode).earned, false);
  assert.equal(told("cathode: pink. it is copper", cathode).earned, true);
  for (const empty of ['"', "“” ", '" & "']) assert.equal(told("copper", { words: [empty] }).earned, false); // once a hang
});

test("choices, lists and texts are marked by their options, ticks and points", () => {
  const options = [{ text: "Na+", right: false, reason: "Sodium ions stay.", misconception: 4 }, { text: "H+", right: true, reason: "Right.", misconception: 9 }];
  const choice = { kind: "choice", marks: 1, options };
  assert.deepEqual(markAnswer(choice, " H⁺ ".normalize("NFKC"), {}), { lines: [{ earned: true, reason: "Right." }], remark: "Right.", misconception: 0 });
  assert.equal(markAnswer(choice, "Na+", {}).misconception, 4);
  assert.equal(markAnswer(choice, "?", {}).remark, "None of the options was chosen.");
  const list = { kind: "list", points: [{ statement: "one" }, { statement: "two" }, { statement: "three" }], answer: "one; two; three" };
  assert.deepEqual(earned(markAnswer(list, "1, 3", {})), [true, false, true]);
  assert.deepEqual(earned(markAnswer(list, list.answer, {})), [true, true, true]);
  const plot = { ...list, kind: "plot" };
  assert.deepEqual(earned(markAnswer(plot, "2 3", {})), [false, true, true]);
  assert.equal(isMarkedByWriter(plot), true);
  const text = { kind: "text", points: [{ statement: "copper", words: ["copper & red"], contradictions: [], too_little: [] }] };
  assert.deepEqual(earned(markAnswer(text, "red\ncopper", {})), [false]); // a new line begins a sentence
  const equation = { kind: "equation", marks: 2, task: COPPER };
  assert.deepEqual(earned(markAnswer(equation, "Cu2+ + 2e- -> Cu", SPECIES)), [true, true]);
  assert.deepEqual(earned(markAnswer(equation, "Cu2+ + e- -> Cu", SPECIES)), [true, false]);
  assert.deepEqual(earned(markAnswer(equation, "Cu -> Cu2+ + e-", SPECIES)), [false, false]);
  assert.equal(plainAnswer("a  −\u200b5’ "), "a -5'");
});
