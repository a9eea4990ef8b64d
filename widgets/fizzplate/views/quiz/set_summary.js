// What came of a set: marks by topic, and the ideas behind wrong choices, each as a small chart with its figures.

import { make, makeButton } from "../kit/elements.js";
import { countText } from "../kit/say.js";
import { marksText } from "./card.js";
import { earnedMarks } from "./mark.js";

/** @typedef {import("./session.js").Entry} Entry */

function row(name, won, of, said) {
  const line = document.createElement("tr");
  const head = make("th", name);
  head.setAttribute("scope", "row");
  const bar = make("td");
  const meter = document.createElement("meter");
  [meter.min, meter.max, meter.value] = [0, of, won];
  meter.setAttribute("aria-label", `${name}: ${said}`);
  bar.append(meter);
  line.append(head, bar, make("td", said));
  return line;
}

function chart(title, rows) {
  const table = document.createElement("table");
  table.createCaption().textContent = title;
  table.createTBody().append(...rows);
  return table;
}

/**
 * @param {Entry[]} entries @param {(entry: Entry) => any} markedOf null where nothing was marked yet
 * @param {Record<string, {wrong: string, right: string}>} ideas @param {(() => void)} again
 */
export function setSummary(entries, markedOf, ideas, again) {
  const box = make("section", "", "fp-set-summary");
  const marked = entries.map((entry) => ({ ...entry, marked: markedOf(entry) })).filter((each) => each.marked);
  if (!marked.length) return box;
  box.setAttribute("aria-label", "Result");
  /** @type {Map<string, [number, number]>} */
  const topics = new Map();
  /** @type {Map<number, number>} */
  const held = new Map();
  let short = 0;
  for (const { asked, answer, marked: found } of marked) {
    const won = earnedMarks(found, answer.own);
    const [before, of] = topics.get(asked.topic) ?? [0, 0];
    topics.set(asked.topic, [before + won, of + asked.marks]);
    if (found.misconception) held.set(found.misconception, (held.get(found.misconception) ?? 0) + 1);
    if (won < asked.marks) short += 1;
  }
  const [won, of] = [...topics.values()].reduce(([a, b], [c, d]) => [a + c, b + d], [0, 0]);
  box.append(
    make("h2", "Result"),
    make("p", `${won} of ${marksText(of)} in ${marked.length} of ${countText(entries.length, "question")}.`),
    chart("By topic", [...topics].map(([topic, [got, all]]) => row(topic, got, all, `${got} of ${all}`))),
  );
  if (held.size) {
    const most = Math.max(...held.values());
    const rows = [...held].map(([number, times]) => row(ideas[number]?.wrong ?? "", times, most, times === 1 ? "once" : `${times} times`));
    const right = make("ul");
    right.append(...[...held.keys()].map((number) => make("li", ideas[number]?.right ?? "")));
    box.append(chart("Ideas behind wrong choices", rows), make("p", "What is so:"), right);
  }
  const acts = make("div", "", "fp-options");
  if (short) acts.append(makeButton("Again what was not right", again));
  acts.append(makeButton("Print the result", () => {
    document.documentElement.dataset.fpPrint = "result";
    addEventListener("afterprint", () => delete document.documentElement.dataset.fpPrint, { once: true });
    print();
  }));
  box.append(acts);
  return box;
}
