// One question: what is asked, what it is answered with, and what the marks say.

import { make, pressable, sayWhenFull } from "../kit/elements.js";
import { makeTiles } from "../workshop/tiles.js";
import { drawSpecies } from "./drawn.js";

/** @typedef {import("./kept.js").Answer} Answer */

/** @param {number} count @param {string} what */
export const counted = (count, what) => `${count} ${what}${count === 1 ? "" : "s"}`;
/** @param {number} count */
export const marksText = (count) => counted(count, "mark");
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

function picking(asked, index, answer, changed) {
  const many = asked.kind === "list";
  const box = make("fieldset", "", "fp-ask");
  box.append(make("legend", many ? "Tick what your own answer holds" : "Pick one"));
  const ticked = new Set(answer.given.split(" "));
  const texts = many ? asked.points.map(({ says }) => says) : asked.options.map(({ text }) => text);
  const inputs = texts.map((text, k) => {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = many ? "checkbox" : "radio";
    input.name = `fp-quiz-${index}`;
    input.value = many ? String(k + 1) : text;
    input.checked = many ? ticked.has(input.value) : answer.given === text;
    input.addEventListener("change", () => {
      answer.given = inputs.filter((each) => each.checked).map((each) => each.value).join(" ");
      changed();
    });
    label.append(input, make("span", text));
    box.append(label);
    return input;
  });
  return box;
}

/** One field with its label. @param {string} words @param {string} value @param {boolean} long @param {(text: string) => void} typed */
function field(words, value, long, typed) {
  const input = /** @type {HTMLInputElement} */ (make(long ? "textarea" : "input"));
  if (!long) input.type = "text";
  input.maxLength = long ? 2000 : 200;
  input.value = value;
  input.spellcheck = false;
  input.autocomplete = "off";
  input.addEventListener("input", () => typed(input.value));
  const label = make("label", words);
  label.append(input);
  const box = make("div", "", "fp-ask fp-workshop");
  box.append(label, sayWhenFull(input));
  return { box, input };
}

function numbers(asked, answer, changed) {
  const several = asked.parts.length > 1;
  const texts = several ? answer.given.split(";").map((each) => each.trim()) : [answer.given];
  return asked.parts.map(({ asks }, k) => {
    const words = `${several ? `(${"abcdefgh"[k]}) ` : ""}${asks || "Your answer, with its unit"}`;
    return field(words, texts[k] ?? "", false, (text) => {
      texts[k] = several ? text.replaceAll(";", " ") : text;
      const filled = asked.parts.map((_, each) => texts[each] ?? "");
      answer.given = filled.some((each) => each.trim()) ? filled.join("; ") : "";
      changed();
    }).box;
  });
}

/**
 * What is answered with: options, fields, or a text and then the list that it is held against. What is
 * answered goes into the answer itself.
 * @param asked @param {number} index @param {Answer} answer @param {() => void} changed @returns {HTMLElement[]}
 */
export function answering(asked, index, answer, changed) {
  if (asked.kind === "choice") return [picking(asked, index, answer, changed)];
  if (asked.kind === "number") return numbers(asked, answer, changed);
  if (asked.kind === "list") {
    const { box } = field("Your answer", answer.text ?? "", true, (text) => {
      answer.text = text;
      changed();
    });
    return answer.done ? [box, picking(asked, index, answer, changed)] : [box];
  }
  const { box, input } = field("Your answer", answer.given, asked.kind === "text", (text) => {
    answer.given = text;
    changed();
  });
  if (asked.task) box.append(makeTiles(input, asked.task.tiles, "Tiles"));
  return [box];
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
  box.append(make("p", `${earned} of ${marksText(asked.marks)}.${asked.kind === "list" ? " Tick above what your answer holds." : ""}`, "fp-marks"));
  const list = make("ul", "", "fp-mark-lines");
  list.append(...markLines(asked, marked, answer, claimed));
  box.append(list);
  if (marked.remark && marked.lines.every(({ reason }) => reason !== marked.remark)) box.append(make("p", marked.remark));
  if (asked.kind !== "list" && marked.lines.some((line) => !line.earned)) {
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
