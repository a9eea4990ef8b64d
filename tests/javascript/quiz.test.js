// Revision in the page: what comes back later, the clock, numbers as they are typed.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { newPage } from "./page.js";

const use = loader("quiz/");
const { clearStorage, emptyAnswer, noteResult, readOpenedSet, readSet, repetitions, saveOpenedSet, saveSet } = await use("storage.js");
const { verdict } = await use("card.js");
const { readNumber } = await use("numbers/numbers.js");
const { whiteboardCard, stepWhiteboard } = await use("whiteboard.js");
const { Session } = await use("session.js");
const { watchControls } = await use("watching.js");
const { leftText, mountTimer } = await use("clock/timer.js");

const DAY = 86_400_000;
const ASKED = { text: "Which ion?", answer: "Na+" };

beforeEach(() => {
  const kept = new Map();
  globalThis.localStorage = /** @type {any} */ ({
    getItem: (name) => kept.get(name) ?? null,
    setItem: (name, value) => kept.set(name, value),
    removeItem: (name) => kept.delete(name),
  });
});

test("what was got wrong comes back after a day, then less and less often, then no more", () => {
  let now = 1_000 * DAY;
  noteResult(ASKED, true, now);
  assert.equal(repetitions(now).waiting, 0, "never wrong: never asked again");
  noteResult(ASKED, false, now);
  assert.deepEqual(repetitions(now).due, []);
  for (const days of [1, 3, 7, 21]) {
    noteResult(ASKED, true, now + days * DAY - 1);
    assert.equal(repetitions(now + days * DAY - 1).due.length, 0, "practice before its day changes nothing");
    now += days * DAY;
    assert.deepEqual(repetitions(now).due, [ASKED]);
    noteResult(ASKED, true, now);
  }
  assert.equal(repetitions(now + 1000 * DAY).waiting, 0);
});

test("a question that is wrong again begins anew", () => {
  noteResult(ASKED, false, 0);
  noteResult(ASKED, true, DAY);
  noteResult(ASKED, false, 4 * DAY);
  assert.equal(repetitions(5 * DAY - 1).due.length, 0);
  assert.equal(repetitions(5 * DAY).due.length, 1);
});

test("a question that came back with other spaces before its units is the same question", () => {
  noteResult({ text: "0.50 A flows.", answer: "450 C" }, false, 0);
  noteResult({ text: "0.50\u00a0A flows.", answer: "450\u00a0C" }, true, DAY);
  assert.equal(repetitions(3 * DAY).due.length, 0);
  assert.equal(repetitions(4 * DAY).due.length, 1);
});

test("only so many questions and sets are kept, the newest", () => {
  for (let k = 0; k < 200; k += 1) {
    noteResult({ text: `question ${k}`, answer: "" }, false, k);
    saveSet(`set ${k}`, { answers: [{ ...emptyAnswer(), given: `answer ${k}` }], extra: [] });
  }
  assert.equal(repetitions(0).waiting, 150);
  assert.equal(readSet("set 199").answers[0].given, "answer 199");
  assert.deepEqual(readSet("set 100").answers, []);
});

test("what cannot be read is as if nothing had been kept, and all can be forgotten", () => {
  localStorage.setItem("fizzplate.revise.2", "{broken");
  localStorage.setItem("fizzplate.again.1", "7");
  localStorage.setItem("fizzplate.opened.1", '{"questions":"none"}');
  assert.deepEqual(readSet("any"), { answers: [], extra: [] });
  assert.equal(repetitions().waiting, 0);
  assert.equal(readOpenedSet(), null);
  saveOpenedSet("opened 1", [ASKED]);
  assert.equal(readOpenedSet()?.questions.length, 1);
  clearStorage();
  assert.equal(readOpenedSet(), null);
  assert.deepEqual(readSet("__proto__"), { answers: [], extra: [] });
});

test("a set goes on where it was left, takes in more questions, and asks again what earned too little", () => {
  const choice = (text) => ({ kind: "choice", text, answer: "yes", marks: 1, options: ["yes", "no"].map((each) => ({ text: each, right: each === "yes", reason: "", misconception: 0 })) });
  const [questions, more] = [["One?", "Two?"].map(choice), choice("More?")];
  const session = new Session({});
  session.open("set 1", questions);
  const texts = () => session.entries().map(({ question }) => question.text);
  session.add(more);
  assert.deepEqual([texts(), session.position], [["One?", "More?", "Two?"], 1], "behind the question at hand, and at hand itself");
  session.move(9);
  assert.equal(session.position, 2);
  for (const [k, given] of ["yes", "no", "yes"].entries()) Object.assign(session.entries()[k].answer, { given, done: k < 2 });
  session.save();
  const later = new Session({});
  later.open("set 1", questions);
  assert.deepEqual([later.position, later.entries().map(({ answer }) => answer.given)], [2, ["yes", "no", "yes"]]);
  later.finish();
  assert.deepEqual([later.position, later.kept.over, repetitions().waiting], [0, true, 1], "the wrong one comes back");
  assert.deepEqual(later.missed().map(({ question, idea }) => [question.text, idea]), [["More?", 0]]);
});

test("the clock says what is left, never less than nothing", () => {
  assert.equal(leftText(61_000), "1:01 left");
  assert.equal(leftText(-5), "0:00 left");
});

test("five more minutes are five minutes more, and at their end the answers are handed in, once", () => {
  newPage();
  let now = 1e9;
  const ticking = new Set();
  mock.method(Date, "now", () => now);
  mock.method(globalThis, "setInterval", (act) => (ticking.add(act), act));
  mock.method(globalThis, "clearInterval", (act) => ticking.delete(act));
  const told = [];
  const { node } = mountTimer(now + 60_000, { onEnd: () => told.push("over"), onExtend: (ends) => told.push(ends - 1e9) });
  const shown = () => node.querySelector("[role=timer]").textContent;
  const pass = (ms) => {
    now += ms;
    for (const act of ticking) act();
  };
  assert.equal(shown(), "1:00 left");
  pass(30_000);
  node.querySelector("button").click();
  assert.deepEqual([shown(), told], ["5:30 left", [360_000]], "its new end is told, to be kept");
  pass(329_000);
  assert.deepEqual([shown(), told.length], ["0:01 left", 1]);
  pass(1000);
  pass(1000);
  assert.deepEqual([shown(), told], ["0:00 left", [360_000, "over"]]);
  mock.restoreAll();
});

test("a presenter goes to the answer, to the next question and back the same way, and no farther than there are questions", () => {
  newPage();
  const question = (text) => ({ kind: "text", text, shown: `${text} answered`, points: [{ statement: "a point" }], options: [], marks: 1, watch: "" });
  const [questions, state] = [["Why?", "How?"].map(question), { position: 0, isRevealed: false }];
  let card;
  const draw = () => (card = whiteboardCard(questions, state, { onStep: step, onWatch: () => {} }));
  const step = (by) => stepWhiteboard(state, by, questions.length) && draw();
  draw();
  const seen = () => {
    const [back, next] = card.querySelectorAll("button");
    const answer = card.querySelector(".fp-full-answer");
    return [card.querySelector(".fp-question").textContent, answer?.textContent ?? "", !back.disabled, next.disabled ? "" : next.textContent];
  };
  const [why, whyAnswered] = [["Why?", "", false, "Reveal the answer"], ["Why?", "Why? answered", true, "Next question"]];
  const [how, howAnswered] = [["How?", "", true, "Reveal the answer"], ["How?", "How? answered", true, ""]];
  const going = [[1, whyAnswered], [1, how], [1, howAnswered], [1, howAnswered], [-1, how], [-1, whyAnswered], [-1, why], [-1, why]];
  assert.deepEqual(seen(), why);
  for (const [by, what] of going) {
    step(by);
    assert.deepEqual(seen(), what);
  }
});

test("a full answer is shown as it was made, a sentence with its full stop and an equation without one", () => {
  newPage();
  for (const shown of ["Hydrogen forms, since zinc is more reactive.", "2H⁺ + 2e⁻ → H₂"]) {
    const question = { kind: "text", marks: 1, shown, why: "", watch: "" };
    const marked = { lines: [{ earned: false, reason: "not said" }], remark: "", misconception: 0 };
    const box = verdict(question, marked, { given: "", done: true, own: [] }, { ideas: {}, onClaim() {}, onWatch() {}, onAnother: null });
    assert.ok(box.querySelectorAll("p").some(({ textContent }) => textContent === `A full answer: ${shown}`), box.textContent);
  }
});

test("the option to pick is not called a full answer: it may be a false sentence", () => {
  newPage();
  const question = { kind: "choice", marks: 1, shown: "Electrons swim.", why: "It is wrong.", watch: "" };
  const marked = { lines: [{ earned: false, reason: "That is right." }], remark: "That is right.", misconception: 0 };
  const box = verdict(question, marked, { given: "x", done: true, own: [] }, { ideas: {}, onClaim() {}, onWatch() {}, onAnother: null });
  assert.match(box.textContent, /The option to pick: “Electrons swim\.”/);
  assert.doesNotMatch(box.textContent, /full answer/);
});

test("marks of numbers and equations may be claimed, several with one reason together", () => {
  newPage();
  for (const kind of ["number", "equation"]) {
    const marked = { lines: [0, 1].map(() => ({ earned: false, reason: "wrong" })), remark: "", misconception: 0 };
    const claimed = [];
    const box = verdict({ kind, marks: 2, shown: "", why: "", watch: "" }, marked, { given: "x", done: true, own: [] }, { ideas: {}, onClaim: (lines, is) => claimed.push([lines, is]), onWatch() {}, onAnother: null });
    const [input] = box.querySelectorAll("input");
    input.checked = true;
    input.dispatchEvent(new Event("change"));
    assert.deepEqual(claimed, [[[0, 1], true]]);
  }
});

test("numbers are read as people type them", () => {
  const part = { value: 0.12, unit: "g", steps: [""], prompt: "", factor: 0, nearMisses: [], tolerance: 0.01, figures: 3, answer: "0.120 g" };
  assert.deepEqual(readNumber("1,2 x 10^2 mg", part), [{ values: [120], figures: 2, maxFigures: 2, unit: "mg", evaluated: true }]);
  const last = (text) => {
    const read = readNumber(text, part);
    assert.ok(typeof read !== "string", text);
    return read[read.length - 1];
  };
  assert.deepEqual(last("1,200 g").values, [1200, 1.2]);
  assert.deepEqual(last("2 x 60 = 120 C, /96500").values, [120 / 96_500]);
  assert.equal(readNumber("none", part), "No number could be read.");
  assert.equal(readNumber("0.12 g or 5 g", part), "Give one number.");
  assert.equal(readNumber("0.12 33 g", part), "Give one number.");
  for (const text of ["m = 0.12 g", "≈ 0.12 g.", "(0.12 g)", "the answer is 120 mg", "0.12 g of H2 (2 s.f.)", "3/25 g"]) {
    assert.ok(Math.abs(last(text).values[0] * (text.includes("mg") ? 0.001 : 1) - 0.12) < 1e-12, text);
  }
  assert.deepEqual(last("2½ g".normalize("NFKC")).values, [2.5]);
});

test("a wrong answer leads to the very cell that was asked about, and to two where an idea needs them", () => {
  /** @param {string} watch @param {boolean} watchesItself @param {string|undefined} ideas */
  const opened = (watch, watchesItself, ideas) => {
    const cells = /** @type {string[]} */ ([]);
    Object.assign(globalThis, { location: { pathname: "/revise", search: "" } });
    const [button, link] = watchControls({ watch, watchesItself }, ideas === undefined ? undefined : { watch: ideas }, (each) => cells.push(each));
    button?.click();
    if (link) assert.equal(new URLSearchParams(link.getAttribute("href")?.split("?")[1]).get("cells"), cells[0]);
    return [button?.textContent, ...cells];
  };
  assert.deepEqual(opened("Na2SO4", true, "NaCl"), ["Watch it in a cell", "Na2SO4"]);
  assert.deepEqual(opened("Na2SO4", true, undefined), ["Watch it in a cell", "Na2SO4"]);
  assert.deepEqual(opened("Na2SO4", true, "NaCl;NaCl,c=0.01"), ["Watch it in a cell", "NaCl;NaCl,c=0.01"]);
  assert.deepEqual(opened("NaCl", false, "CuSO4"), ["Watch it in a cell", "CuSO4"]);
  assert.deepEqual(opened("NaCl", false, ""), ["Watch a related cell", "NaCl"]);
  assert.deepEqual(opened("", true, undefined), [undefined]);
});
