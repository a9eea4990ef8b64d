// One question: what is asked, what it is answered with, and what the marks say.

import { make, pressable, sayWhenFull } from "../bench/ask.js";
import { makeTiles } from "../workshop/tiles.js";
import { drawSpecies } from "./drawn.js";

/** @typedef {import("./kept.js").Answer} Answer */

export const marksText = (count) => `${count} mark${count === 1 ? "" : "s"}`;
/** @param marked @param {number[]} own lines that the learner claims */
export const earnedOf = (marked, own) => marked.lines.filter(({ earned }, k) => earned || own.includes(k)).length;

/** What is asked, with its chart. */
export function questionParts(asked) {
  const parts = [make("p", asked.text, "fp-question")];
  if (asked.chart) {
    const figure = make("figure", "", "fp-graph");
    figure.innerHTML = asked.chart; // drawn by Python
    parts.push(figure);
  }
  return parts;
}

function picking(asked, index, given, changed) {
  const many = asked.kind === "list";
  const box = make("fieldset", "", "fp-ask");
  box.append(make("legend", many ? "Tick what your own answer holds" : "Pick one"));
  const ticked = new Set(given.split(" "));
  const texts = many ? asked.points.map(({ says }) => says) : asked.options.map(({ text }) => text);
  const inputs = texts.map((text, k) => {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = many ? "checkbox" : "radio";
    input.name = `fp-quiz-${index}`;
    input.value = many ? String(k + 1) : text;
    input.checked = many ? ticked.has(input.value) : given === text;
    input.addEventListener("change", changed);
    label.append(input, make("span", text));
    box.append(label);
    return input;
  });
  return { nodes: [box], value: () => inputs.filter((each) => each.checked).map((each) => each.value).join(" ") };
}

function writing(asked, given, changed) {
  const long = asked.kind === "text";
  const parts = asked.kind === "number" ? asked.parts : [{ asks: "" }];
  const before = parts.length > 1 ? given.split(";") : [given];
  const fields = [];
  const nodes = parts.map(({ asks }, k) => {
    const field = /** @type {HTMLInputElement} */ (make(long ? "textarea" : "input"));
    if (!long) field.type = "text";
    field.maxLength = long ? 2000 : 200;
    field.value = (before[k] ?? "").trim();
    field.spellcheck = false;
    field.autocomplete = "off";
    field.addEventListener("input", changed);
    fields.push(field);
    const letter = parts.length > 1 ? `(${"abcdefgh"[k]}) ` : "";
    const words = asked.kind === "number" ? `${letter}${asks || "Your answer, with its unit"}` : "Your answer";
    const label = make("label", words);
    label.append(field);
    const box = make("div", "", "fp-ask fp-workshop");
    box.append(label, sayWhenFull(field));
    if (asked.task) box.append(makeTiles(field, asked.task.tiles, "Tiles"));
    return box;
  });
  const value = () => (fields.length > 1 ? fields.map((each) => each.value.replaceAll(";", " ")).join("; ") : fields[0].value);
  return { nodes, value: () => (fields.some((each) => each.value.trim()) ? value() : "") };
}

/**
 * What is answered with: options, fields, or a list to tick.
 * @param asked @param {number} index @param {string} given @param {() => void} changed
 * @returns {{nodes: HTMLElement[], value: () => string}}
 */
export function answering(asked, index, given, changed) {
  const picks = asked.kind === "choice" || asked.kind === "list";
  return picks ? picking(asked, index, given, changed) : writing(asked, given, changed);
}

/** The marks, one line for each that has its own reason. */
function markLines(asked, marked, answer, claimed) {
  const rows = [];
  marked.lines.forEach(({ earned, reason }, k) => {
    const last = rows.at(-1);
    if (last && last.reason === reason && last.earned === earned && asked.kind !== "text") last.count += 1;
    else rows.push({ earned, reason, count: 1, k });
  });
  return rows.map(({ earned, reason, count, k }) => {
    const row = make("li", "", "fp-mark");
    const won = earned || answer.own.includes(k);
    row.append(make("span", (won ? "✓" : "○").repeat(count), "fp-tick"), make("span", earned ? "earned: " : "not earned: ", "fp-spoken"), make("span", reason));
    if (asked.kind === "text" && !earned) {
      const label = make("label", "", "fp-option");
      const input = document.createElement("input");
      input.type = "checkbox";
      input.checked = won;
      input.addEventListener("change", () => claimed(k, input.checked));
      label.append(input, make("span", "I said it in other words (own judgement)"));
      row.append(label);
    }
    return row;
  });
}

/**
 * @param asked @param marked @param {Answer} answer
 * @param {{ideas: Record<string, {watch: string, drawn: any}>, claimed: (line: number, on: boolean) => void,
 *   watch: (cells: string) => void, like: (() => void)|null}} acts
 */
export function verdict(asked, marked, answer, { ideas, claimed, watch, like }) {
  const box = make("div", "", "fp-verdicts");
  const earned = earnedOf(marked, answer.own);
  box.append(make("p", `${earned} of ${marksText(asked.marks)}.`, "fp-marks"));
  const list = make("ul", "", "fp-mark-lines");
  list.append(...markLines(asked, marked, answer, claimed));
  box.append(list);
  if (marked.remark && marked.lines.every(({ reason }) => reason !== marked.remark)) box.append(make("p", marked.remark));
  if (marked.lines.some((line) => !line.earned)) {
    box.append(make("p", `A full answer: ${asked.shown.replace(/\.$/, "")}.`));
    if (asked.kind === "choice" && marked.misconception) box.append(make("p", `Why: ${asked.why}`));
  }
  const idea = ideas[marked.misconception];
  const drawing = idea?.drawn ? drawSpecies(idea.drawn) : null;
  if (drawing) box.append(drawing);
  const row = make("div", "", "fp-options");
  const cells = idea?.watch || asked.watch;
  if (cells && !drawing) row.append(pressable("Watch it in a cell", () => watch(cells)));
  if (like) row.append(pressable("Another like this", like));
  box.append(row);
  return box;
}
