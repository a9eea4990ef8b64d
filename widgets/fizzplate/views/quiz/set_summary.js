// What came of a set: marks by topic, and the ideas behind wrong choices, each as a small chart with its figures.

import { make, makeButton } from "../kit/elements.js";
import { countText } from "../kit/say.js";
import { marksText } from "./card.js";
import { earnedMarks } from "./mark.js";

/** @typedef {import("./session.js").Entry} Entry */

function row(name, value, most, text) {
  const line = document.createElement("tr");
  const head = make("th", name);
  head.setAttribute("scope", "row");
  const bar = make("td");
  const meter = document.createElement("meter");
  [meter.min, meter.max, meter.value] = [0, most, value];
  meter.setAttribute("aria-label", `${name}: ${text}`);
  bar.append(meter);
  line.append(head, bar, make("td", text));
  return line;
}

function chart(title, rows) {
  const table = document.createElement("table");
  table.createCaption().textContent = title;
  table.createTBody().append(...rows);
  return table;
}

function byTopic(marked) {
  /** @type {Map<string, [number, number]>} */
  const topics = new Map();
  for (const { question, earned } of marked) {
    const [before, of] = topics.get(question.topic) ?? [0, 0];
    topics.set(question.topic, [before + earned, of + question.marks]);
  }
  return chart("By topic", [...topics].map(([topic, [earned, of]]) => row(topic, earned, of, `${earned} of ${of}`)));
}

/** The ideas behind wrong choices, how often each was chosen, and what is right instead. */
function misconceptionParts(marked, ideas) {
  /** @type {Map<number, number>} */
  const counts = new Map();
  for (const { misconception: number } of marked) if (number) counts.set(number, (counts.get(number) ?? 0) + 1);
  if (!counts.size) return [];
  const most = Math.max(...counts.values());
  const rows = [...counts].map(([number, times]) => row(ideas[number]?.wrong ?? "", times, most, times === 1 ? "once" : `${times} times`));
  const right = make("ul");
  right.append(...[...counts.keys()].map((number) => make("li", ideas[number]?.right ?? "")));
  return [chart("Ideas behind wrong choices", rows), make("p", "What is true:"), right];
}

function printResult() {
  document.documentElement.dataset.fpPrint = "result";
  addEventListener("afterprint", () => delete document.documentElement.dataset.fpPrint, { once: true });
  print();
}

/**
 * @param {Entry[]} entries @param {(entry: Entry) => any} marksOf null where nothing was marked yet
 * @param {Record<string, {wrong: string, right: string}>} ideas @param {() => void} onRetry
 */
export function setSummary(entries, marksOf, ideas, onRetry) {
  const box = make("section", "", "fp-set-summary");
  const marked = entries.flatMap((entry) => {
    const marks = marksOf(entry);
    return marks ? [{ question: entry.question, earned: earnedMarks(marks, entry.answer.own), misconception: marks.misconception }] : [];
  });
  if (!marked.length) return box;
  box.setAttribute("aria-label", "Result");
  const sum = (values) => values.reduce((total, each) => total + each, 0);
  const earned = sum(marked.map((each) => each.earned));
  const of = sum(marked.map(({ question }) => question.marks));
  box.append(
    make("h2", "Result"),
    make("p", `${earned} of ${marksText(of)} in ${marked.length} of ${countText(entries.length, "question")}.`),
    byTopic(marked),
    ...misconceptionParts(marked, ideas),
  );
  const buttons = make("div", "", "fp-options");
  if (earned < of) buttons.append(makeButton("Ask others like those that were not right", onRetry));
  buttons.append(makeButton("Print the result", printResult));
  box.append(buttons);
  return box;
}
