// What this browser keeps of a learner's work, and nobody else: the answers to each set, the questions that come back
// some days after an incomplete answer, and an opened file. All of it can be cleared.

import { readRecord, readStored, writeStored } from "../kit/local_storage.js";

const SETS = "fizzplate.revise.2";
const RETURNS = "fizzplate.again.1";
const OPENED = "fizzplate.opened.1";
const OPENED_FILE = "fizzplate.opened-file.1";
const MAX_STORED_BYTES = 2_000_000; // a browser gives some five million characters for everything
const MAX_SETS = 30; // that are remembered
const MAX_RETURNS = 150; // questions that come back
const DAY_MS = 86_400_000;
const WAIT_DAYS = [1, 3, 7, 21]; // until a question comes back, each time that it was answered fully

/**
 * What a practice keeps of an answer, from which Python works out what it asks next.
 * @typedef {{maker: string, item: string, right: boolean, idea: number, sure: string, follows: number, left: number, steps: number}} Attempt
 * @typedef {{given: string, done: boolean, own: number[], text?: string, sure?: string, stepped?: boolean, recorded?: boolean}} Answer `own`: the lines whose marks the learner claims; `text`: what was written before a list was ticked
 * @typedef {{answers: Answer[], items?: any[], record?: Attempt[], extra: {after: number, question: any, answer: Answer}[], begun?: number, ends?: number, over?: boolean, questions?: any[]}} KeptSet
 * @typedef {{question: any, times: number, due: number}} Return
 */

/** Names in a stored question that earlier versions gave to what has another name now. */
const EARLIER_NAMES = new Map([["asked", "question"], ["asks", "prompt"], ["says", "statement"]]);
/** @param {string} _ @param {any} value */
function withPresentNames(_, value) {
  if (!value || typeof value !== "object" || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [EARLIER_NAMES.get(name) ?? name, part]));
}

/** @returns {Record<string, KeptSet>} */
const storedSets = () => readRecord(SETS, withPresentNames);
/** @returns {Record<string, Return>} */
const storedReturns = () => readRecord(RETURNS, withPresentNames);

/** @returns {Answer} */
export const emptyAnswer = () => ({ given: "", done: false, own: [] });

/** @param {string} name @returns {KeptSet} */
export function readSet(name) {
  const kept = storedSets();
  const found = Object.hasOwn(kept, name) ? kept[name] : null;
  return Array.isArray(found?.answers) && Array.isArray(found.extra) ? found : { answers: [], extra: [] };
}
/** @param {string} name @param {KeptSet} set */
export function saveSet(name, set) {
  const kept = storedSets();
  delete kept[name];
  kept[name] = set;
  for (const old of Object.keys(kept).slice(0, -MAX_SETS)) delete kept[old];
  writeStored(SETS, kept);
}

/** The same for all spaces: earlier versions wrote other ones before units; of a sibling, that of the question it stands for. @param {{text: string, answer: string, of?: string}} question */
export const keyOf = (question) => question.of ?? `${question.text} ${question.answer}`.replaceAll("\u00a0", " ");

/**
 * Schedule a question to come back after an incomplete answer, at longer intervals after each full one.
 * @param {{text: string, answer: string, of?: string}} question @param {boolean} full
 */
export function noteResult(question, full, now = Date.now()) {
  const kept = storedReturns();
  const key = keyOf(question);
  const before = Object.hasOwn(kept, key) ? kept[key] : null;
  if (full && (!before || before.due > now)) return; // never wrong, or not yet due
  delete kept[key];
  const times = full && before ? before.times + 1 : 0;
  if (times < WAIT_DAYS.length) kept[key] = { question, times, due: now + WAIT_DAYS[times] * DAY_MS };
  for (const old of Object.keys(kept).slice(0, -MAX_RETURNS)) delete kept[old];
  writeStored(RETURNS, kept);
}
/** How many questions are waiting to come back, and those that are due. */
export function repetitions(now = Date.now()) {
  const all = Object.values(storedReturns()).filter((each) => each?.question?.text);
  return { waiting: all.length, due: all.filter(({ due }) => due <= now).map(({ question }) => question) };
}

export const ROUND = "again"; // begins the name of a round

/** The last round of repetition, if it is not finished. @returns {{name: string, questions: any[]}|null} */
export function unfinishedRound() {
  for (const [name, { questions, answers }] of Object.entries(storedSets())) {
    if (questions?.length && questions.some((_, k) => !answers?.[k]?.done)) return { name, questions };
  }
  return null;
}

/** Begin a round of repetition. @param {any[]} questions */
export function newRound(questions) {
  const name = `${ROUND} ${Date.now()}`;
  saveSet(name, { answers: [], extra: [], questions });
  return { name, questions };
}

/** The set of the file that was opened at the last visit. @returns {{name: string, questions: any[]}|null} */
export function readOpenedSet() {
  const kept = readStored(OPENED, withPresentNames);
  return Array.isArray(kept?.questions) && kept.questions.length && typeof kept.name === "string" ? kept : null;
}
/** @param {string} name @param {any[]} questions */
export const saveOpenedSet = (name, questions) => writeStored(OPENED, { name, questions });

/** Keep the file itself, from which the program prints and saves. @param {string} name @param {Uint8Array} content */
export function saveOpenedFile(name, content) {
  const fits = content.length <= MAX_STORED_BYTES;
  const text = fits ? Array.from(content, (byte) => String.fromCharCode(byte)).join("") : "";
  writeStored(OPENED_FILE, fits ? { name, content: btoa(text) } : null); // never an older one beside newer questions
}
/** @returns {{name: string, content: Uint8Array<ArrayBuffer>}|null} */
export function readOpenedFile() {
  const kept = readStored(OPENED_FILE);
  if (typeof kept?.name !== "string" || typeof kept.content !== "string") return null;
  try {
    return { name: kept.name, content: Uint8Array.from(atob(kept.content), (sign) => sign.charCodeAt(0)) };
  } catch {
    return null;
  }
}

export function clearStorage() {
  for (const place of [SETS, RETURNS, OPENED, OPENED_FILE]) localStorage.removeItem(place);
}
