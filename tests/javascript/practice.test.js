// Practice in the page: its record, how sure one is, the right option in the list, and the way to a cell.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { newPage } from "./page.js";

const use = loader("quiz/");
const { answerControls, showRightOption } = await use("card.js");
const { attemptOf, isBeforeReason, practiceSummary } = await use("practice.js");
const { renderQuiz } = await use("quiz.js");
const { Session } = await use("session.js");
const { keyOf, newRound, noteResult, repetitions, unfinishedRound } = await use("storage.js");
const { cellAddress } = await use("watching.js");

const DAY = 86_400_000;
const option = (text, right, misconception = 0) => ({ text, right, reason: text, misconception });
const asked = { key: "a-b", because: "", follows: -1, left: 3, steps: 0, shown: [], inSteps: false, waiting: 0 };
const choice = (text, practice = {}) => ({ maker: "which way", kind: "choice", text, answer: "yes", marks: 1, options: [option("yes", true), option("no", false, 6)], practice: { ...asked, ...practice } });

beforeEach(() => {
  const kept = new Map();
  globalThis.localStorage = /** @type {any} */ ({
    getItem: (name) => kept.get(name) ?? null,
    setItem: (name, value) => kept.set(name, value),
    removeItem: (name) => kept.delete(name),
  });
});

function open(name = "v=1&set=1&style=follow") {
  const session = new Session({});
  session.open(name, [], true);
  return session;
}

test("a practice keeps the record of every answer and the last questions, also over a reload", () => {
  const session = open();
  for (let k = 1; k <= 9; k += 1) {
    session.addItem(choice(`Question ${k}?`, { key: `key ${k}`, follows: k - 2 }));
    assert.equal(session.number, k);
    Object.assign(session.entries().at(-1).answer, { given: k % 2 ? "yes" : "no", done: true, sure: "sure" });
    session.recordAnswer();
    session.recordAnswer();
    assert.equal(session.number, k, "the number does not change as the answer is recorded");
  }
  const later = open();
  assert.equal(later.record.length, 9);
  assert.deepEqual(later.record[1], { maker: "which way", item: "key 2", right: false, idea: 6, sure: "sure", follows: 0, left: 3, steps: 0 });
  assert.deepEqual(later.questions.map(({ text }) => text), [4, 5, 6, 7, 8, 9].map((k) => `Question ${k}?`));
  assert.equal(later.number, 9);
  later.move(-1);
  assert.equal(later.number, 8);
  assert.deepEqual(open("another set").record, [], "each practice has its own record");
});

test("an answer that is not marked yet is not recorded", () => {
  const session = open();
  session.addItem(choice("One?"));
  session.recordAnswer();
  assert.deepEqual(session.record, []);
});

test("a worked example that was read counts as right, and claims count as the learner says", () => {
  const marked = { lines: [{ earned: false, reason: "" }], remark: "", misconception: 6 };
  const answer = { given: "", done: true, own: [], sure: "guess" };
  assert.equal(attemptOf({ question: choice("?", { left: 0, shown: ["a step"] }), answer }, marked).right, true);
  assert.deepEqual([attemptOf({ question: choice("?"), answer }, marked).right, attemptOf({ question: choice("?"), answer }, marked).idea], [false, 6]);
  assert.deepEqual([attemptOf({ question: choice("?"), answer: { ...answer, own: [0] } }, marked).right, attemptOf({ question: choice("?"), answer: { ...answer, own: [0] } }, marked).idea], [true, 0]);
});

test("the reason is hidden until the answer is given, and the answer cannot be changed then", () => {
  newPage();
  const whole = { kind: "structured", text: "?", marks: 2, sections: [choice("Answer?"), choice("Reason?")], practice: { ...asked, inSteps: true } };
  const answer = { given: "", done: false, own: [] };
  assert.equal(isBeforeReason(whole, answer), true);
  let boxes = answerControls(whole, 0, answer, () => {});
  assert.deepEqual(boxes.map(({ hidden }) => Boolean(hidden)), [false, true]);
  answer.stepped = true;
  assert.equal(isBeforeReason(whole, answer), false);
  boxes = answerControls(whole, 0, answer, () => {});
  assert.deepEqual(boxes.map(({ hidden }) => Boolean(hidden)), [false, false]);
  assert.deepEqual(boxes.map((box) => box.querySelectorAll("input").every(({ disabled }) => disabled)), [true, false]);
});

test("after marking the list says which option was to be picked and which was picked, once", () => {
  newPage();
  const question = choice("?");
  const card = document.createElement("div");
  card.append(...answerControls(question, 0, { given: "no", done: true, own: [] }, () => {}));
  const texts = () => card.querySelectorAll("label").map(({ textContent }) => textContent);
  assert.deepEqual(texts(), ["yes", "no"]);
  showRightOption(card, question, "no");
  showRightOption(card, question, "no");
  assert.deepEqual(texts(), ["yes ✓ the one to pick", "no ✗ your choice"]);
  showRightOption(card, question, "yes");
  assert.deepEqual(texts(), ["yes ✓ the one to pick", "no"]);
});

test("what came of a practice names guesses and sure mistakes, and counts no worked example", () => {
  newPage();
  const entry = (right, sure, idea = 0, left = 3) => ({ maker: "", item: "", right, idea, sure, follows: -1, left, steps: 0 });
  const record = [entry(true, "think", 0, 0), entry(true, "guess"), entry(true, "sure"), entry(false, "sure", 6)];
  const text = practiceSummary(record, 2, { 6: { right: "Cations drift to the cathode." } }).textContent;
  for (const said of ["2 of 3 questions right, 1 of them guessed.", "Sure and not right: 1.", "2 questions will come back", "Cations drift to the cathode."]) assert.ok(text.includes(said), text);
  assert.equal(practiceSummary([entry(true, "think", 0, 0)], 0, {}).textContent, "");
});

test("a sibling stands for the question that was missed, until it was answered often enough", () => {
  const missed = { text: "One?", answer: "yes" };
  noteResult(missed, false, 0);
  const sibling = { text: "Two?", answer: "no", of: keyOf(missed) };
  noteResult(sibling, true, DAY);
  assert.equal(repetitions(DAY).waiting, 1);
  assert.deepEqual(repetitions(4 * DAY).due.map(({ text }) => text), ["Two?"], "three days later, and not the first one beside it");
  assert.equal(unfinishedRound(), null);
  const { name } = newRound([sibling]);
  assert.equal(unfinishedRound()?.name, name);
});

test("a cell opens on the page that shows it, in the board's wording, and nowhere outside a server", () => {
  assert.equal(cellAddress("CuSO4,anode=copper", { pathname: "/revise", search: "?v=1&set=3" }), "/demonstrate?v=1&cells=CuSO4,anode=copper");
  assert.equal(cellAddress("NaCl;KI", { pathname: "/hub/render/revise.ipynb", search: "?board=electrons%3Dminus" }), "/hub/render/explore.ipynb?v=1&cells=NaCl;KI&board=electrons=minus");
  assert.equal(cellAddress("NaCl", { pathname: "/stick/lesson.html", search: "" }), "");
});

test("a page to take away says plainly that it asks its set and does not practise", () => {
  newPage();
  Object.assign(globalThis, { location: { pathname: "/lesson.html", search: "" }, matchMedia: () => ({ matches: false }), addEventListener() {}, removeEventListener() {} });
  const state = { alone: true, quiz_style: "follow", name: "v=1&set=1&style=follow", questions: [choice("One?")], ideas: {}, species: {}, minutes: 1, link_is_open: true };
  const sent = [];
  const model = { get: (name) => state[name], set() {}, save_changes() {}, on() {}, off() {}, send: (message) => sent.push(message) };
  const el = document.createElement("div");
  const destroy = renderQuiz({ model, el });
  assert.match(el.textContent, /This file holds a fixed set\. Practice that follows your answers needs/);
  assert.match(el.textContent, /Question 1 of 1/);
  assert.deepEqual(sent, []);
  destroy();
});
