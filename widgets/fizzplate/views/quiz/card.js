// One question: its text, the controls for its answer, and the verdict on it.

import { make, makeButton, sayWhenFull } from "../kit/elements.js";
import { countText } from "../kit/say.js";
import { makeTiles } from "../workshop/tiles.js";
import { BETWEEN, earnedMarks, isMarkedByWriter, sectionAnswers } from "./mark.js";
import { drawSpecies } from "./particle_drawing.js";
import { isBeforeReason } from "./practice.js";
import { watchControls } from "./watching.js";

/** @typedef {import("./storage.js").Answer} Answer */

/** @param {number} count */
export const marksText = (count) => countText(count, "mark");
/** A part of a question, as it is numbered. @param {number} index */
export const partLabel = (index) => `(${"abcdefgh"[index]}) `;

/** Whether its answer is held against a list of points to tick. */
const isTicked = ({ kind }) => kind === "list" || kind === "plot";

/** A drawing by Python. @param {string} drawn */
function chartFigure(drawn) {
  const figure = make("figure", "", "fp-graph");
  figure.innerHTML = drawn; // drawn by Python
  return figure;
}

/** The graph that is the answer. @param {string} drawn */
export const modelGraph = (drawn) => [make("p", "A graph that earns every mark:"), chartFigure(drawn)];

/** Readings to plot, a row for each quantity. @param {[string, string[]][]} rows */
function readingsTable(rows) {
  const table = make("table", "", "fp-readings");
  table.style.setProperty("--fp-rows", String(rows[0][1].length + 1));
  for (const [name, values] of rows) {
    const row = make("tr");
    const head = make("th", name);
    head.setAttribute("scope", "row");
    row.append(head, ...values.map((value) => make("td", value)));
    table.append(row);
  }
  const frame = make("div", "", "fp-readings-frame");
  frame.append(table);
  return frame;
}

/** The text of a question, its chart, and its readings. */
export function questionParts(question) {
  const parts = [make("p", question.text, "fp-question")];
  if (question.chart) parts.push(chartFigure(question.chart));
  if (question.table?.length) parts.push(readingsTable(question.table));
  return parts;
}

/** Radio buttons, or boxes to tick. */
function optionFieldset(question, index, answer, onChange) {
  const many = isTicked(question);
  const box = make("fieldset", "", "fp-task");
  box.append(make("legend", many ? `Tick what your own ${question.kind === "plot" ? "graph" : "answer"} holds` : "Pick one"));
  const ticked = new Set(answer.given.split(" "));
  const texts = many ? question.points.map(({ statement }) => statement) : question.options.map(({ text }) => text);
  const inputs = texts.map((text, k) => {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = many ? "checkbox" : "radio";
    input.name = `fp-quiz-${index}`;
    input.value = many ? String(k + 1) : text;
    input.checked = many ? ticked.has(input.value) : answer.given === text;
    input.addEventListener("change", () => {
      answer.given = inputs.filter((each) => each.checked).map((each) => each.value).join(" ");
      onChange();
    });
    label.append(input, make("span", text));
    box.append(label);
    return input;
  });
  return box;
}

/** Say in the list which option is right, and which wrong one was picked. @param {ParentNode} box @param question @param {string} given */
export function showRightOption(box, question, given) {
  if (question.kind === "structured") {
    const answers = sectionAnswers(question, given);
    box.querySelectorAll(".fp-section").forEach((each, k) => showRightOption(each, question.sections[k], answers[k]));
  }
  if (question.kind !== "choice") return;
  for (const input of box.querySelectorAll(".fp-task input")) {
    const { value, parentElement: label } = /** @type {HTMLInputElement & {parentElement: HTMLElement}} */ (input);
    const isRight = question.options.some((each) => each.right && each.text === value);
    label.querySelector(".fp-option-mark")?.remove();
    label.classList.toggle("fp-right-option", isRight);
    const said = isRight ? " ✓ the one to pick" : value === given ? " ✗ your choice" : "";
    if (said) label.append(make("span", said, "fp-option-mark"));
  }
}

/** One field with its label. @param {string} text @param {string} value @param {boolean} isLong @param {(value: string) => void} onInput */
function textField(text, value, isLong, onInput) {
  const input = /** @type {HTMLInputElement} */ (make(isLong ? "textarea" : "input"));
  if (!isLong) input.type = "text";
  input.maxLength = isLong ? 2000 : 200;
  input.value = value;
  input.spellcheck = false;
  input.autocomplete = "off";
  input.addEventListener("input", () => onInput(input.value));
  const label = make("label", text);
  label.append(input);
  const box = make("div", "", "fp-task fp-workshop");
  box.append(label, sayWhenFull(input));
  return { box, input };
}

/** A field for each part; the answers to several stand in one text with semicolons between. */
function numberFields(question, answer, onChange) {
  const several = question.parts.length > 1;
  const texts = several ? answer.given.split(";").map((each) => each.trim()) : [answer.given];
  return question.parts.map(({ prompt }, k) => {
    const label = `${several ? partLabel(k) : ""}${prompt || "Your answer, with its unit"}`;
    return textField(label, texts[k] ?? "", false, (text) => {
      texts[k] = several ? text.replaceAll(";", " ") : text;
      const filled = question.parts.map((_, each) => texts[each] ?? "");
      answer.given = filled.some((each) => each.trim()) ? filled.join("; ") : "";
      onChange();
    }).box;
  });
}

/** What an answer is held against: content that it may hold, and a mark to choose at its level. */
function levelFieldset(question, index, answer, onChange) {
  const box = make("fieldset", "", "fp-task");
  box.append(make("legend", "Pick the mark that describes your own answer best"));
  const content = make("ul");
  content.append(...question.points.map(({ statement }) => make("li", statement)));
  box.append(make("p", "A good answer may say:"), content);
  const perLevel = question.marks / question.levels.length;
  for (let mark = question.marks; mark >= 0; mark--) {
    const level = Math.ceil(mark / perLevel);
    if (mark === perLevel * level) box.append(make("p", level ? `Level ${level}: ${question.levels[level - 1]}` : "Nothing that answers the question:"));
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "radio";
    input.name = `fp-quiz-${index}`;
    input.value = String(mark);
    input.checked = answer.given === input.value;
    input.addEventListener("change", () => {
      answer.given = input.value;
      onChange();
    });
    label.append(input, make("span", marksText(mark)));
    box.append(label);
  }
  return box;
}

/** A box for each part of a question, with its own controls; the answers stand in one text. */
function sectionBoxes(question, index, answer, onChange) {
  const given = sectionAnswers(question, answer.given);
  return question.sections.map((section, k) => {
    const box = make("div", "", "fp-section");
    box.setAttribute("role", "group");
    box.setAttribute("aria-label", `Part ${partLabel(k).trim()}`);
    const own = { ...answer, given: given[k] };
    const controls = answerControls(section, `${index}-${k}`, own, () => {
      given[k] = own.given.replaceAll(BETWEEN, " ");
      answer.given = given.some((each) => each.trim()) ? given.join(` ${BETWEEN} `) : "";
      onChange();
    });
    box.hidden = k > 0 && isBeforeReason(question, answer);
    box.append(make("p", `${partLabel(k)}${section.text} [${marksText(section.marks)}]`, "fp-question"), ...controls);
    if (question.practice?.inSteps && k === 0 && answer.stepped) for (const each of box.querySelectorAll("input")) each.disabled = true;
    return box;
  });
}

/**
 * The controls for an answer: options, fields, or a text and then the list that it is compared with. They change the
 * answer itself.
 * @param question @param {number|string} index @param {Answer} answer @param {() => void} onChange @returns {HTMLElement[]}
 */
export function answerControls(question, index, answer, onChange) {
  if (question.kind === "choice") return [optionFieldset(question, index, answer, onChange)];
  if (question.kind === "number") return numberFields(question, answer, onChange);
  if (question.kind === "structured") return sectionBoxes(question, index, answer, onChange);
  if (isMarkedByWriter(question)) {
    const { box } = textField(question.kind === "plot" ? "What your line gives" : "Your answer", answer.text ?? "", true, (text) => {
      answer.text = text;
      onChange();
    });
    const judged = isTicked(question) ? optionFieldset : levelFieldset;
    // the graph that is the answer stands where it is compared with
    const graph = question.model ? modelGraph(question.model) : [];
    return answer.done ? [box, ...graph, judged(question, index, answer, onChange)] : [box];
  }
  const { box, input } = textField("Your answer", answer.given, question.kind === "text", (text) => {
    answer.given = text;
    onChange();
  });
  if (question.task) box.append(makeTiles(input, question.task.tiles, "Tiles"));
  return [box];
}

/** How a learner claims a mark that was not given, by the kind of question. @type {Record<string, string>} */
const CLAIMS = {
  text: "I said it in other words (own judgement)",
  number: "I have this in another form (own judgement)",
  equation: "I have this in another form (own judgement)",
};

/** What a learner may claim for each line of marks. @returns {(string|undefined)[]} */
function claimsOf(question) {
  const asked = question.kind === "structured" ? question.sections : [question];
  return asked.flatMap(({ kind, marks }) => Array.from({ length: marks }, () => CLAIMS[kind]));
}

/** A box to tick for marks that are claimed. @param {string} text @param {boolean} isClaimed @param {(isClaimed: boolean) => void} onChange */
function claimBox(text, isClaimed, onChange) {
  const label = make("label", "", "fp-option");
  const input = document.createElement("input");
  input.type = "checkbox";
  input.checked = isClaimed;
  input.addEventListener("change", () => onChange(input.checked));
  label.append(input, make("span", text));
  return label;
}

/** The marks, one line for each that has its own reason. */
function markLines(question, marked, answer, onClaim) {
  const rows = [];
  const claims = claimsOf(question);
  marked.lines.forEach(({ earned, reason }, k) => {
    const last = rows.at(-1);
    if (last && last.reason === reason && last.earned === earned && question.kind !== "text") last.lines.push(k);
    else rows.push({ earned, reason, lines: [k] });
  });
  return rows.map(({ earned, reason, lines }) => {
    const row = make("li", "", "fp-mark-line");
    const isClaimed = lines.every((k) => answer.own.includes(k));
    row.append(make("span", (earned || isClaimed ? "✓" : "○").repeat(lines.length), "fp-tick"), make("span", earned ? "earned: " : "not earned: ", "fp-spoken"), make("span", reason));
    const claim = claims[lines[0]];
    if (!earned && claim) row.append(claimBox(claim, isClaimed, (is) => onClaim(lines, is)));
    return row;
  });
}

/** What is still to do above the marks, where the writer gives them. @type {Record<string, string>} */
const JUDGED_ABOVE = {
  list: " Tick above what your answer holds.",
  plot: " Tick above what your graph holds.",
  levels: " Pick above the mark that describes your answer best.",
};

/**
 * @param question @param marked @param {Answer} answer
 * @param {{ideas: Record<string, {watch: string, drawing: any}>, onClaim: (lines: number[], isClaimed: boolean) => void,
 *   onWatch: (cells: string) => void, onAnother: (() => void)|null}} options
 */
export function verdict(question, marked, answer, { ideas, onClaim, onWatch, onAnother }) {
  const box = make("div", "", "fp-verdicts");
  const earned = earnedMarks(marked, answer.own);
  box.append(make("p", `${earned} of ${marksText(question.marks)}.${JUDGED_ABOVE[question.kind] ?? ""}`, "fp-marks"));
  const list = make("ul", "", "fp-mark-lines");
  list.append(...markLines(question, marked, answer, onClaim));
  box.append(list);
  if (marked.remark && marked.lines.every(({ reason }) => reason !== marked.remark)) box.append(make("p", marked.remark));
  // of two steps each is marked in its list
  if (!isMarkedByWriter(question) && !question.practice?.inSteps && marked.lines.some((line) => !line.earned)) {
    // the option to pick may be the one false sentence of a list
    box.append(make("p", question.kind === "choice" ? `The option to pick: “${question.shown}”` : `A full answer: ${question.shown}`));
    if (question.kind === "choice" && marked.misconception) box.append(make("p", `Why: ${question.why}`));
  }
  const idea = ideas[marked.misconception];
  const drawing = idea?.drawing ? drawSpecies(idea.drawing) : null;
  if (drawing) box.append(drawing);
  const row = make("div", "", "fp-options");
  row.append(...watchControls(question, idea, onWatch));
  if (onAnother) row.append(makeButton("Another like this", onAnother));
  box.append(row);
  return box;
}
