// The state of a set: its questions, a learner's answers, and which question is at hand.

import { earnedMarks, markAnswer } from "./mark.js";
import { emptyAnswer, noteResult, readSet, saveSet } from "./storage.js";

const MINUTE_MS = 60_000;
export const OPENED_SET = "opened"; // begins the name of a set from a file

/** @typedef {import("./storage.js").Answer} Answer */
/** @typedef {{question: any, answer: Answer}} Entry */

export class Session {
  name = ""; // under which answers are kept
  questions = /** @type {any[]} */ ([]);
  kept = readSet("");
  position = 0;

  /** @param {any} species that equations may hold */
  constructor(species) {
    this.species = species;
  }

  /** Begin a set, at the first question that is not done. @param {string} name @param {any[]} questions */
  open(name, questions) {
    this.name = name;
    this.questions = questions;
    this.kept = readSet(name);
    this.position = Math.max(0, this.entries().findIndex(({ answer }) => !answer.done));
  }

  get isFromFile() { return this.name.startsWith(OPENED_SET); }
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

  /** Note how well a question was answered, so that it comes back in time. @param {Entry} entry */
  noteResult(entry) {
    noteResult(entry.question, earnedMarks(this.marksOf(entry), entry.answer.own) === entry.question.marks);
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

  /** Empty the answers that did not earn every mark, and go to the first of them. */
  retry() {
    const entries = this.entries();
    const short = entries.flatMap((entry, k) => {
      const isShort = entry.answer.done && earnedMarks(this.marksOf(entry), entry.answer.own) < entry.question.marks;
      return isShort ? [k] : [];
    });
    for (const k of short) Object.assign(entries[k].answer, emptyAnswer());
    this.position = short[0] ?? 0;
    this.save();
  }
}
