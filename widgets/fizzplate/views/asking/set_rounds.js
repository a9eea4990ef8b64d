// A set of questions that a class answers together: one question at a time, or all of them at each phone's own pace.

import { isAbout, readMemo, writeMemo } from "./memo.js";

/** @typedef {import("../room/class_room.js").Round} Round */

const MAX_PARTS = 24; // of a round, as the server allows
const MAX_LABEL = 2000;
const MAX_OPTION = 500;
const MAX_LISTED = 8; // numbers of questions
export const LETTERS = "abcdefgh"; // of a question's parts
const NONE = "none of these";
const LEFT_OUT = "What is left out is answered on paper.";
const MAX_PICTURES = 8; // of a round
/** A phone shows a graph on a light ground, whatever its page's. */
const LIGHT = "--fp-ink:#1c1a16;--fp-edge:#8c8675;--fp-line:#d8d1bf;--fp-quiet:#5e5a50";

/**
 * What a phone is asked of a question: choices, numbers, equations and short texts. What its parts are about stands above the first.
 * @param {any} question @param {number} number from 1 @param {any} species @param {string} [letter] of a part
 */
export function partsOf(question, number, species, letter = "") {
  const parts = fieldsOf(question, number, species, letter);
  return question.chart ? parts.map((part, k) => (k ? part : { ...part, picture: question.chart.replace("<svg", `<svg style="${LIGHT}"`) })) : parts;
}

/** @param {any} question @param {number} number @param {any} species @param {string} letter */
function fieldsOf(question, number, species, letter) {
  const name = `q${number}${letter}`;
  const named = (text) => `${number}. ${letter ? `(${letter}) ` : ""}${text}`.slice(0, MAX_LABEL);
  const label = named(question.text);
  const { kind } = question;
  if (kind === "structured") return withStem(question.text, question.sections.flatMap((section, k) => partsOf(section, number, species, LETTERS[k])));
  if (kind === "choice") return [{ name, kind, label, options: question.options.map((option) => option.text) }];
  if (kind === "number") {
    const isOne = question.parts.length === 1;
    return question.parts.map(({ prompt, unit }, k) => ({ name: `${name}-${k}`, kind, label: isOne ? label : named(k ? prompt : `${question.text} ${prompt}`), unit }));
  }
  if (kind === "text") return [{ name, kind, label }];
  if (kind !== "equation") return [];
  const { accepted, goal, tiles } = question.task;
  return [{ name, kind, label, judge: { task: { accepted, goal }, species, tiles } }];
}

/** @param {string} stem @param {any[]} parts */
const withStem = (stem, parts) => parts.map((part, k) => (k ? part : { ...part, stem: stem.slice(0, MAX_LABEL) }));

/** What can be asked of an answer on paper once the right one is seen: which points it holds, or its level. @param {any} question @param {number} number @returns {any[]} */
function ownMarks({ kind, points, levels }, number) {
  const name = `q${number}-own`;
  if (kind === "levels") return [{ name, kind: "choice", label: "The level of your own answer", options: [...levels.map((text, k) => `Level ${k + 1}: ${text}`.slice(0, MAX_OPTION)), "below level 1"] }];
  const label = `Tick what your own ${kind === "plot" ? "graph" : "answer"} holds`;
  return points.length ? [{ name, kind: "several", label, options: [...points.map(({ statement }) => statement.slice(0, MAX_OPTION)), NONE] }] : [];
}

/** The rounds of the question on the board. @param {any} question @param {number} number @param {boolean} isRevealed @param {any} species @param {string} memo @returns {Round[]} */
function roundsOfQuestion(question, number, isRevealed, species, memo) {
  const title = `Question ${number}`;
  const parts = partsOf(question, number, species);
  const own = ownMarks(question, number);
  const rounds = parts.length ? [{ name: parts.length > 1 && question.sections.length ? `${title}, all its parts` : title, title, memo, parts }] : [];
  question.sections.forEach((section, k) => {
    const letter = LETTERS[k];
    const ofPart = withStem(question.text, partsOf(section, number, species, letter));
    if (ofPart.length) rounds.push({ name: `${title} (${letter})`, title: `${title} (${letter})`, memo, parts: ofPart });
  });
  if (own.length && isRevealed) rounds.push({ name: `${title}: ${own[0].label}`, title, memo, parts: own });
  else if (!rounds.length) rounds.push({ name: `${title} is answered on paper${own.length ? ": phones can tick its points once the answer is revealed" : ""}`, title, memo, parts: [] });
  return rounds;
}

/** @param {any[]} parts of one round */
const isTooMuch = (parts) => parts.length > MAX_PARTS || parts.filter(({ picture }) => picture).length > MAX_PICTURES;

/** @param {number[]} numbers */
const listed = (numbers) => (numbers.length > MAX_LISTED ? `${numbers.length} of them` : numbers.join(", ").replace(/, (?=\d+$)/, " and "));

/** A set in as few rounds as hold it, each at its phone's own pace. @param {any[]} questions @param {any} species @param {string} memo @returns {Round[]} */
function roundsOfSet(questions, species, memo) {
  /** @type {{from: number, to: number, left: number[], parts: any[]}[]} left: what is not asked */
  const runs = [];
  questions.forEach((question, k) => {
    const parts = partsOf(question, k + 1, species);
    let run = runs.at(-1);
    if (!run || isTooMuch([...run.parts, ...parts])) runs.push((run = { from: k + 1, to: k + 1, left: [], parts: [] }));
    run.to = k + 1;
    run.parts.push(...parts);
    if (!parts.length) run.left.push(k + 1);
  });
  return runs.filter(({ parts }) => parts.length).map(({ from, to, left, parts }) => {
    const what = `questions ${from} to ${to}${left.length ? `, without ${listed(left)}` : ""}`;
    const stem = [left.length ? LEFT_OUT : "", parts[0].stem ?? ""].filter(Boolean).join("\n");
    return { name: `At each phone's own pace: ${what}`, title: `At your own pace: ${what}`, memo, parts: withStem(stem, parts) };
  });
}

/** @param {any[]} questions @param {{position: number, isRevealed: boolean}} board @param {string} set its name @param {any} species @returns {Round[]} a round without parts says why it cannot be asked */
export function roundsOf(questions, { position, isRevealed }, set, species) {
  const question = questions[position];
  const whole = questions.length > 1 ? roundsOfSet(questions, species, writeMemo(set, "all")) : [];
  return [...(question ? roundsOfQuestion(question, position + 1, isRevealed, species, writeMemo(set, position + 1)) : []), ...whole];
}

/**
 * Whether the answers may be told: of one question once the board has revealed it, of a whole set once it is closed.
 * @param {{memo: string}} asked @param {string} set @param {{position: number, isRevealed: boolean}} board @param {boolean} isOpen
 */
export function mayTellAnswer(asked, set, { position, isRevealed }, isOpen) {
  if (!isAbout(asked, set)) return false;
  const [, what] = readMemo(asked);
  if (what === "all") return !isOpen;
  return Number(what) <= position || (Number(what) === position + 1 && isRevealed);
}
