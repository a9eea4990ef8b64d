// What the class said, as bars or as dots: counts only, the first vote beside the second.

import { make } from "../kit/elements.js";
import { significant } from "../kit/format.js";
import { makeSvg } from "../kit/svg.js";

/** What is wrong with a half-equation, in the order in which the server counts. @type {[string, string][]} */
export const FAULTS = [
  ["right", "right"],
  ["charge", "charge does not balance"],
  ["atoms", "atoms do not balance"],
  ["single", "single atoms instead of molecules"],
  ["missing", "electrons missing"],
  ["side", "electrons on the wrong side"],
  ["species", "other substances"],
  ["unread", "cannot be read"],
  ["unjudged", "not judged: the phone had lost its connection"],
];

/** @typedef {{name: string, kind: string, label: string, options: string[], unit: string}} Part */
/** @typedef {{answered: number, counts: Record<string, number[]>}} Vote */
/** @typedef {number|number[]|null} Right the option or options that are right, or the model's number; null while it may not be told */

const RAN = "the cell"; // has decided
const DOT = 14;
const WIDE = 420;
const HIGH = 140;
const MANY = 7; // options, of which those are left out that nobody has chosen

/** The labels of what is counted. @param {Part} part */
export const rowsOf = (part) => (part.kind === "equation" ? FAULTS.map(([, label]) => label) : part.options);

/** What was asked, with the unit of its number where the question does not say it. @param {Part} part */
export const labelOf = ({ label, unit }) => (!unit || label.includes(` in ${unit}`) ? label : `${label} (${unit})`);

/** @param {Part} part @param {Vote[]} votes @param {Right} right @param {string} [word] what says that it is right */
export function barsOf(part, votes, right, word = RAN) {
  const table = /** @type {HTMLTableElement} */ (make("table", "", "fp-tally-bars"));
  table.createCaption().textContent = part.label;
  const body = table.createTBody();
  const most = Math.max(1, ...votes.flatMap((vote) => vote.counts[part.name] ?? []));
  const rights = right === null ? [] : [right].flat();
  const rows = rowsOf(part);
  rows.forEach((label, k) => {
    const counts = votes.map((vote) => vote.counts[part.name]?.[k] ?? 0);
    const isRight = rights.includes(k);
    if (rows.length >= MANY && !isRight && !counts.some(Boolean)) return;
    const row = body.insertRow();
    const head = make("th", label);
    head.setAttribute("scope", "row");
    row.toggleAttribute("data-right", isRight);
    if (isRight) head.append(make("strong", part.kind === "equation" ? " ✓" : ` ✓ ${word}`));
    const bars = make("td", "", "fp-bars");
    counts.forEach((count, vote) => {
      const bar = make("span", "", "fp-bar");
      bar.style.setProperty("--share", String(count / most));
      bar.toggleAttribute("data-last", vote === counts.length - 1);
      bars.append(bar);
    });
    row.append(head, bars, make("td", counts.join(" → "), "fp-count"));
  });
  return table;
}

/** Where each number stands, piled where several are alike; what lies far out is counted apart. @param {number[]} values @param {number|null} model */
export function pilesOf(values, model) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length * 0.8)] ?? 1;
  const top = Math.max(model === null ? 0 : model * 2, middle > 0 ? middle * 1.25 : 1, 1e-9);
  const inside = sorted.filter((value) => value >= 0 && value <= top);
  const columns = Math.floor(WIDE / DOT);
  /** @type {Map<number, number>} */
  const heights = new Map();
  const dots = inside.map((value) => {
    const column = Math.min(columns - 1, Math.floor((value / top) * columns));
    const height = heights.get(column) ?? 0;
    heights.set(column, height + 1);
    return { column, height };
  });
  return { dots, top, beyond: values.length - inside.length };
}

/** @param {Part} part @param {Vote[]} votes @param {Right} right the model's number */
export function dotsOf(part, votes, right) {
  const figure = make("figure", "", "fp-dot-plot");
  figure.append(make("figcaption", labelOf(part)));
  const values = votes.at(-1)?.counts[part.name] ?? [];
  const model = typeof right === "number" ? right : null;
  const { dots, top, beyond } = pilesOf(values, model);
  const told = model === null ? "" : `; the model: ${significant(model, 2)} ${part.unit}`;
  const svg = makeSvg("svg", { viewBox: `-10 0 ${WIDE + 20} ${HIGH + 26}`, role: "img", "aria-label": `${values.length} answers: ${values.map((value) => significant(value, 3)).join(", ")}${told}` });
  if (model !== null) makeSvg("line", { class: "fp-model", x1: (model / top) * WIDE, x2: (model / top) * WIDE, y1: 0, y2: HIGH }, svg);
  const size = Math.min(DOT, HIGH / Math.max(1, ...dots.map(({ height }) => height + 1))); // a high pile has smaller dots
  for (const { column, height } of dots) makeSvg("circle", { cx: (column + 0.5) * DOT, cy: HIGH - (height + 0.5) * size, r: Math.max(1, size / 2 - 0.5) }, svg);
  makeSvg("line", { class: "fp-axis", x1: 0, x2: WIDE, y1: HIGH, y2: HIGH }, svg);
  for (const share of [0, 0.5, 1]) makeSvg("text", { x: share * WIDE, y: HIGH + 20, "text-anchor": "middle" }, svg, significant(share * top, 2));
  figure.append(svg);
  if (model !== null) figure.append(make("p", `The model: ${significant(model, 2)} ${part.unit}`, "fp-model-text"));
  if (beyond) figure.append(make("p", `${beyond} further out`, "fp-note"));
  return figure;
}

/** @param {Part} part @param {Vote[]} votes */
const textsOf = (part, votes) => make("p", `${part.label} · ${votes.at(-1)?.counts[part.name]?.[0] ?? 0} written`, "fp-texts-count");

/** A part's answers. @param {Part} part @param {Vote[]} votes @param {Right} right @param {string} [word] */
export function tallyOf(part, votes, right, word) {
  if (part.kind === "number") return dotsOf(part, votes, right);
  if (part.kind === "text") return textsOf(part, votes);
  return barsOf(part, votes, right, word);
}
