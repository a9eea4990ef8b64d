// The state of a set: its questions, a learner's answers, and which question is at hand.

import { earnedMarks, markAnswer } from "./mark.js";
import { attemptOf } from "./practice.js";
import { emptyAnswer, noteResult, readSet, ROUND, saveSet } from "./storage.js";

const MINUTE_MS = 60_000;
const MAX_ITEMS = 6; // of a practice that can be looked at again; of all others the record is kept
export const OPENED_SET = "opened"; // begins the name of a set from a file

/** @typedef {import("./storage.js").Answer} Answer */
/** @typedef {{question: any, answer: Answer}} Entry */

export class Session {
  name = ""; // under which answers are kept
  questions = /** @type {any[]} */ ([]);
  kept = readSet("");
  position = 0;
  isPractice = false;

  /** @param {any} species that equations may hold */
  constructor(species) {
    this.species = species;
  }

  /** Begin a set, at the first question that is not done; a practice asks what it was given so far. @param {string} name @param {any[]} questions @param {boolean} [isPractice] */
  open(name, questions, isPractice = false) {
    this.name = name;
    this.isPractice = isPractice;
    this.kept = readSet(name);
    this.questions = isPractice ? (this.kept.items ??= []) : questions;
    const open = this.entries().findIndex(({ answer }) => !answer.done);
    this.position = Math.max(open < 0 && isPractice ? this.questions.length - 1 : open, 0);
  }

  get isFromFile() { return this.name.startsWith(OPENED_SET); }
  get isRound() { return this.name.startsWith(ROUND); }
  /** What a practice was answered so far. @returns {import("./storage.js").Attempt[]} */
  get record() { return (this.kept.record ??= []); }
  /** Which question of the practice or set is at hand, counted from 1. */
  get number() {
    const entries = this.entries();
    if (!this.isPractice) return this.position + 1;
    return this.record.length + (entries.at(-1)?.answer.recorded ? 0 : 1) - (entries.length - 1 - this.position);
  }
  get isLast() { return this.position >= this.entries().length - 1; }
  get hasAnswers() { return this.kept.answers.some(({ given }) => given); }

  /** Each question of the set, and after it those that were added there, with their answers. @returns {Entry[]} */
  entries() {
    return this.questions.flatMap((question, k) => [
      { question, answer: (this.kept.answers[k] ??= emptyAnswer()) },
      ...this.kept.extra.filter(({ after }) => after === k).map((added) => ({ question: added.question, answer: added.answer })),
    ]);
  }

  save() { saveSet(this.name, this.kept); }

  /** @param {Entry} entry */
  marksOf({ question, answer }) { return markAnswer(question, answer.given, this.species); }

  /** Note how well a question was answered, so that one like it comes back in time; not where steps were shown. @param {Entry} entry */
  noteResult(entry) {
    const { practice, ...question } = entry.question;
    if (practice?.shown.length) return;
    noteResult(question, earnedMarks(this.marksOf(entry), entry.answer.own) === entry.question.marks);
  }

  /** @param {number} by */
  move(by) { this.position = Math.min(Math.max(this.position + by, 0), this.entries().length - 1); }

  /** Add a question behind the one at hand, and go there. @param {any} question */
  add(question) {
    const before = this.entries().slice(0, this.position + 1).filter((entry) => this.questions.includes(entry.question));
    this.kept.extra.push({ after: before.length - 1, question, answer: emptyAnswer() });
    this.save();
    this.position = this.entries().findIndex((entry) => entry.question === question);
  }

  /** Put the answer to the last question into the record, once. */
  recordAnswer() {
    const entry = this.entries().at(-1);
    if (!entry?.answer.done || entry.answer.recorded) return;
    this.record.push(attemptOf(entry, this.marksOf(entry)));
    entry.answer.recorded = true;
    this.save();
  }

  /** Go on with what practice asks next. @param {any} question */
  addItem(question) {
    this.questions.push(question);
    this.kept.answers[this.questions.length - 1] = emptyAnswer();
    const surplus = Math.max(0, this.questions.length - MAX_ITEMS);
    this.questions.splice(0, surplus);
    this.kept.answers.splice(0, surplus);
    this.position = this.questions.length - 1;
    this.save();
  }

  /** @param {number} minutes */
  startClock(minutes) {
    this.kept.begun = Date.now();
    this.kept.ends = this.kept.begun + MINUTE_MS * minutes;
    this.save();
  }

  /** @param {number} ends */
  moveEnd(ends) {
    this.kept.ends = ends;
    this.save();
  }

  /** Hand in: every question counts as answered. */
  finish() {
    this.kept.over = true;
    for (const entry of this.entries()) {
      entry.answer.done = true;
      this.noteResult(entry);
    }
    this.save();
    this.position = 0;
  }

  /** The questions whose answers did not earn every mark, each with the idea behind its answer. */
  missed() {
    return this.entries().flatMap(({ question, answer }) => {
      const marked = this.marksOf({ question, answer });
      const isShort = answer.done && earnedMarks(marked, answer.own) < question.marks;
      return isShort ? [{ question, idea: marked.misconception }] : [];
    });
  }
}
