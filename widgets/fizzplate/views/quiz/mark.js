// Mark an answer in the page from plain data made by Python, as questions/question_types do: answers stay here.

import { isUnread, judge } from "../workshop/judge.js";
import { markParts, readNumber } from "./numbers.js";
import { markPoint } from "./words.js";

/**
 * @typedef {{lines: import("./numbers.js").MarkLine[], remark: string, misconception: number}} MarkedAnswer
 */

const LONGEST_TEXT = 10_000;
const RAISED = /[⁰¹²³⁴-⁹⁺⁻]+/g;
const SIDES = "The reactants, the products and the electrons are on the correct sides.";
const NOT_SIDES = "The reactants, the products and the electrons are not all on the correct sides.";

/** Plain signs: look-alikes made the same, unseen marks left out. @param {string} answer */
export function plainAnswer(answer) {
  const cut = [...answer].slice(0, LONGEST_TEXT).join("").replace(RAISED, "^$&");
  return cut.normalize("NFKC").replaceAll("−", "-").replaceAll("’", "'").replace(/\p{Cf}/gu, "").split(/\s+/).filter(Boolean).join(" ");
}

const times = (count, earned, reason) => Array.from({ length: count }, () => ({ earned, reason }));

function markChoice(asked, answer) {
  const option = asked.options.find((each) => plainAnswer(each.text) === answer);
  const remark = option ? option.reason : "None of the options was chosen.";
  return {
    lines: times(asked.marks, Boolean(option?.right), remark),
    remark,
    misconception: !option || option.right ? 0 : option.misconception,
  };
}

function markEquation(asked, answer, species) {
  const { code, says, inPlace } = judge(answer, asked.task, species);
  const said = says.join(" ");
  const right = code === "right" || code === "multiple";
  const sides = right ? { earned: true, reason: SIDES } : { earned: Boolean(inPlace), reason: inPlace ? SIDES : NOT_SIDES };
  return { lines: [sides, ...times(asked.marks - 1, right, said)], remark: said, misconception: 0 };
}

function markText(asked, answer) {
  return { lines: asked.points.map((point) => markPoint(point, answer)), remark: "", misconception: 0 };
}

function markList(asked, answer) {
  const ticked = new Set((answer.match(/[0-9]{1,2}/g) ?? []).map(Number));
  const lines = asked.points.map(({ says }, k) => ({ earned: ticked.has(k + 1), reason: `${says} (own judgement)` }));
  return { lines, remark: "Marked by yourself.", misconception: 0 };
}

/** How many marks an answer earns. @param {MarkedAnswer} marked @param {number[]} own lines that the learner claims */
export const earnedMarks = ({ lines }, own) => lines.filter(({ earned }, k) => earned || own.includes(k)).length;

/** Of each field of an answer, whether nothing in it could be read. @param asked @param {string} answer @param species @returns {boolean[]} */
export function unreadFields(asked, answer, species) {
  const typed = plainAnswer(answer).split(";");
  if (asked.kind === "number") return asked.parts.map((part, k) => typeof readNumber(typed[k] ?? "", part) === "string");
  return asked.kind === "equation" ? [isUnread(judge(plainAnswer(answer), asked.task, species).code)] : [];
}

/** @param asked a question as plain data @param {string} answer @param species of equations @returns {MarkedAnswer} */
export function markAnswer(asked, answer, species) {
  // a new line of a text begins a new sentence
  const plain = plainAnswer(asked.kind === "text" ? answer.replaceAll("\n", ". ") : answer);
  if (asked.kind === "choice") return markChoice(asked, plain);
  if (asked.kind === "number") return markParts(asked.parts, plain, asked.strict);
  if (asked.kind === "equation") return markEquation(asked, plain, species);
  if (asked.kind === "text") return markText(asked, plain);
  return markList(asked, plain);
}
