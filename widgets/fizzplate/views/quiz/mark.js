// Mark an answer in the page from plain data made by Python, as lesson/marking.py does: answers stay here.

import { judge } from "../workshop/judge.js";

/**
 * @typedef {{earned: boolean, reason: string}} MarkLine
 * @typedef {{lines: MarkLine[], remark: string, misconception: number}} MarkedAnswer
 */

const LONGEST_TEXT = 10_000;
const NUMBER = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)(.*)$/s;

/** Plain signs: look-alikes made the same, unseen marks left out. @param {string} answer */
export function plainAnswer(answer) {
  const cut = [...answer].slice(0, LONGEST_TEXT).join("");
  return cut.normalize("NFKC").replaceAll("−", "-").replace(/\p{Cf}/gu, "").split(/\s+/).filter(Boolean).join(" ");
}

const times = (count, line) => Array.from({ length: count }, () => ({ ...line }));
const nothing = (asked, remark) => ({ lines: times(asked.marks, { earned: false, reason: remark }), remark, misconception: 0 });

function markChoice(asked, answer) {
  const option = asked.options.find((each) => plainAnswer(each.text) === answer);
  if (!option) return nothing(asked, "None of the options was chosen.");
  return {
    lines: times(asked.marks, { earned: option.right, reason: option.reason }),
    remark: option.reason,
    misconception: option.right ? 0 : option.misconception,
  };
}

function aboutUnit(asked, unit) {
  if (!unit) return asked.unit ? `Give the unit: ${asked.unit}. ` : "";
  const same = unit.replace("³", "3").toLowerCase() === asked.unit.replace("³", "3").toLowerCase();
  return same ? "" : `The unit asked for is ${asked.unit}. `;
}

function aboutFigures(asked, digits) {
  const shown = digits.replace(/[eE].*$/, "").replace(/[,.]/g, "").replace(/^[+\-0]+/, "").length;
  return shown > asked.figures + 1 ? `That is more figures than the data allow: ${asked.figures} are enough. ` : "";
}

function markNumber(asked, answer) {
  const found = NUMBER.exec(answer.replaceAll(" ", ""));
  if (!found) return nothing(asked, "No number could be read.");
  const value = Number(found[1].replace(",", "."));
  const remark = aboutUnit(asked, found[2]) + aboutFigures(asked, found[1]);
  const near = (wanted) => Math.abs(value - wanted) <= asked.tolerance * Math.abs(wanted);
  if (near(asked.value)) {
    return { lines: times(asked.marks, { earned: true, reason: asked.why }), remark: remark.trim(), misconception: 0 };
  }
  const miss = asked.nearMisses.find((each) => near(each.value));
  if (miss) {
    const lines = Array.from({ length: asked.marks }, (_, k) => ({ earned: k < miss.marks, reason: miss.reason }));
    return { lines, remark: `${miss.reason} ${remark}`.trim(), misconception: 0 };
  }
  return nothing(asked, `The answer is ${asked.answer}: ${asked.why}`);
}

function markEquation(asked, answer, species) {
  const { code, says } = judge(answer, asked.task, species);
  const said = says.join(" ");
  if (code === "right" || code === "multiple") {
    return { lines: times(asked.marks, { earned: true, reason: said }), remark: said, misconception: 0 };
  }
  const atomsRight = code === "unbalanced" && says.every((text) => text.startsWith("Charge"));
  const earned = Math.min(code === "cancel" || atomsRight ? 1 : 0, asked.marks - 1);
  const lines = Array.from({ length: asked.marks }, (_, k) => ({ earned: k < earned, reason: said }));
  return { lines, remark: said, misconception: 0 };
}

function markText(asked, answer) {
  const lower = ` ${answer.toLowerCase()} `;
  const lines = asked.points.map(({ says, words, contradictions }) => {
    const word = words.find((each) => lower.includes(each));
    const against = contradictions.find((each) => lower.includes(each));
    if (word && !against) return { earned: true, reason: `${says}: “${word.trim()}” says it.` };
    if (against) return { earned: false, reason: `${says}: “${against.trim()}” takes it back.` };
    return { earned: false, reason: `${says}: not said.` };
  });
  return { lines, remark: "", misconception: 0 };
}

function markList(asked, answer) {
  const ticked = new Set((answer.match(/\d{1,2}/g) ?? []).map(Number));
  const lines = asked.points.map(({ says }, k) => ({ earned: ticked.has(k + 1), reason: `${says} (own judgement)` }));
  return { lines, remark: "Marked by yourself.", misconception: 0 };
}

/** @param asked a question as plain data @param {string} answer @param species of equations @returns {MarkedAnswer} */
export function markAnswer(asked, answer, species) {
  const plain = plainAnswer(answer);
  if (asked.kind === "choice") return markChoice(asked, plain);
  if (asked.kind === "number") return markNumber(asked, plain);
  if (asked.kind === "equation") return markEquation(asked, plain, species);
  if (asked.kind === "text") return markText(asked, plain);
  return markList(asked, plain);
}
