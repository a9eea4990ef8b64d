// Mark an answer in the page from plain data made by Python, as questions/question_types do: answers stay here.

import { isUnread, judge, normalised } from "../workshop/judge.js";
import { madeForAnElectron } from "./numbers/carried_forward.js";
import { answersOfParts, linesJoined, markParts, readNumber } from "./numbers/numbers.js";
import { markPoint } from "./words.js";

/**
 * @typedef {{lines: import("./numbers/numbers.js").MarkLine[], remark: string, misconception: number}} MarkedAnswer
 */

const MAX_TEXT_LENGTH = 10_000;
const RAISED = /[⁰¹²³⁴-⁹⁺⁻]+/g;
/** Stands between the answers to the parts of a question. */
export const BETWEEN = "¦";
const LETTERS = "abcdefgh";
const SIDES = "The reactants, the products and the electrons are on the correct sides.";
const NOT_SIDES = "The reactants, the products and the electrons are not all on the correct sides.";

/** Plain signs: look-alikes made the same, unseen marks left out. @param {string} answer */
export function plainAnswer(answer) {
  const cut = [...answer].slice(0, MAX_TEXT_LENGTH).join("").replace(RAISED, "^$&");
  return cut.normalize("NFKC").replaceAll("−", "-").replaceAll("’", "'").replace(/\p{Cf}/gu, "").split(/\s+/).filter(Boolean).join(" ");
}

/** An answer with plain signs: a new line of a text begins a new sentence, one of numbers the next step. @param {{kind: string}} question @param {string} answer */
function plainOf({ kind }, answer) {
  return plainAnswer(kind === "text" ? answer.replaceAll("\n", ". ") : kind === "number" ? linesJoined(answer) : answer);
}

const times = (count, earned, reason) => Array.from({ length: count }, () => ({ earned, reason }));

function markChoice(question, answer) {
  const option = question.options.find((each) => plainAnswer(each.text) === answer);
  const remark = option ? option.reason : "None of the options was chosen.";
  return {
    lines: times(question.marks, Boolean(option?.right), remark),
    remark,
    misconception: !option || option.right ? 0 : option.misconception,
  };
}

function markEquation(question, answer, species) {
  const { code, sentences, inPlace } = judge(answer, question.task, species);
  const said = sentences.join(" ");
  const right = code === "right" || code === "multiple";
  const sides = right ? { earned: true, reason: SIDES } : { earned: Boolean(inPlace), reason: inPlace ? SIDES : NOT_SIDES };
  return { lines: [sides, ...times(question.marks - 1, right, said)], remark: said, misconception: 0 };
}

function markText(question, answer) {
  return { lines: question.points.map((point) => markPoint(point, answer)), remark: "", misconception: 0 };
}

function markList(question, answer) {
  const ticked = new Set((answer.match(/[0-9]{1,2}/g) ?? []).map(Number));
  const isWhole = answer === plainAnswer(question.answer);
  const lines = question.points.map(({ statement }, k) => ({ earned: isWhole || ticked.has(k + 1), reason: `${statement} (own judgement)` }));
  return { lines, remark: "Marked by yourself.", misconception: 0 };
}

/** Whether who wrote an answer marks it too: against a list, or against levels. */
export const isMarkedByWriter = ({ kind }) => kind === "list" || kind === "plot" || kind === "levels";

/** Two marks a level, as the writer judges. */
function markLevels(question, answer) {
  const earned = Number(answer.match(/[0-9]{1,2}/)?.[0] ?? 0);
  const lines = times(question.marks, false, "").map((_, k) => {
    const level = Math.floor((k * question.levels.length) / question.marks);
    return { earned: k < earned, reason: `Level ${level + 1}: ${question.levels[level]} (own judgement)` };
  });
  return { lines, remark: "Marked by yourself.", misconception: 0 };
}

/** The answers to the parts of a question. @param question @param {string} answer @returns {string[]} */
export function sectionAnswers({ sections }, answer) {
  const given = answer.split(BETWEEN);
  return sections.map((_, k) => (given[k] ?? "").trim());
}

/** @returns {MarkedAnswer} */
function markSections(question, answer, species) {
  const given = sectionAnswers(question, answer);
  let fromEquation = null;
  const marked = question.sections.map((section, k) => {
    const each = markAnswer(section, given[k], species, fromEquation);
    if (section.task) fromEquation = madeForAnElectron(section.task.accepted[0], normalised(plainAnswer(given[k])));
    return each;
  });
  const lines = marked.flatMap((each, k) => each.lines.map(({ earned, reason }) => ({ earned, reason: `(${LETTERS[k]}) ${reason}` })));
  return { lines, remark: "", misconception: marked.find(({ misconception }) => misconception)?.misconception ?? 0 };
}

/** How many marks an answer earns. @param {MarkedAnswer} marked @param {number[]} own lines that the learner claims */
export const earnedMarks = ({ lines }, own) => lines.filter(({ earned }, k) => earned || own.includes(k)).length;

/** Of each number, why it cannot be read; a part that is left empty is only unread where all are. @param question @param {string} plain */
function unreadNumbers({ parts }, plain) {
  const typed = answersOfParts(plain, parts);
  const isEmpty = !plain.replace(/[; ]+/g, "");
  return parts.map((part, k) => {
    const text = typed[k]?.trim() ?? "";
    const read = text || isEmpty ? readNumber(text, part) : [];
    return typeof read === "string" ? read : "";
  });
}

/** Of each field of an answer, why nothing in it could be read; nothing where it could. @param question @param {string} answer @param species @returns {string[]} */
export function unreadReasons(question, answer, species) {
  const plain = plainOf(question, answer);
  if (question.kind === "structured") {
    return sectionAnswers(question, answer).flatMap((given, k) => {
      const section = question.sections[k]; // a part that is left empty is not unread
      const reasons = given ? unreadReasons(section, given, species) : [];
      const fields = section.options.length || Math.max(1, section.parts.length);
      return Array.from({ length: fields }, (_, field) => reasons[field] ?? "");
    });
  }
  if (question.kind === "number") return unreadNumbers(question, plain);
  if (question.kind === "equation") {
    const { code, sentences } = judge(plain, question.task, species);
    return [isUnread(code) ? sentences.join(" ") : ""];
  }
  return [];
}

/** @param question a question as plain data @param {string} answer @param species of equations @param {number|null} [fromEquation] @returns {MarkedAnswer} */
export function markAnswer(question, answer, species, fromEquation) {
  if (question.kind === "structured") return markSections(question, answer, species);
  const plain = plainOf(question, answer);
  if (question.kind === "choice") return markChoice(question, plain);
  if (question.kind === "number") return markParts(question.parts, plain, question.strict, fromEquation);
  if (question.kind === "equation") return markEquation(question, plain, species);
  if (question.kind === "text") return markText(question, plain);
  if (question.kind === "levels") return markLevels(question, plain);
  return markList(question, plain);
}
