// The columns of the results table: what each expects, what the class wrote there, and how the two compare.

import { judge } from "../../workshop/judge.js";
import { say } from "../../kit/say.js";
import { compareObservation, judgePrediction } from "./feedback.js";

/** @typedef {{name: string, role?: string, part?: string, title: string, of: (entry: any) => string}} Column `of` gives what is expected; `role` and `part` say of which electrode, and what of it */

/** What is asked of each electrode, in the order of the table. @type {[string, string][]} */
export const PARTS = [["predicted", "Predicted"], ["seen", "Observed"], ["test", "Test"], ["product", "Product"], ["equation", "Half-equation"]];

const TITLES = {
  cathode: ["Predicted, {cathode_in_full}", "Observed, {cathode_in_full}", "Test, {cathode_in_full}", "Product, {cathode_in_full}", "Half-equation, {cathode_in_full}"],
  anode: ["Predicted, {anode_in_full}", "Observed, {anode_in_full}", "Test, {anode_in_full}", "Product, {anode_in_full}", "Half-equation, {anode_in_full}"],
};

/** The columns, with the electrodes as the board calls them. @param {import("../../kit/say.js").Slots} slots @returns {Column[]} */
export const columnsFor = (slots) => [
  { name: "ions", title: "Ions present", of: ({ row }) => row.ions },
  ...Object.entries(TITLES).flatMap(([role, titles]) => {
    const [predicted, seen, test, product, equation] = titles.map((title) => say(title, slots));
    return [
      { name: `${role}-predicted`, role, part: "predicted", title: predicted, of: (entry) => entry[`${role}:predicted`] ?? "" },
      { name: `${role}-seen`, role, part: "seen", title: seen, of: ({ row }) => row[role].seen },
      { name: `${role}-test`, role, part: "test", title: test, of: ({ row }) => row[role].test },
      { name: `${role}-product`, role, part: "product", title: product, of: ({ row }) => row[role].product },
      { name: `${role}-equation`, role, part: "equation", title: equation, of: ({ row }) => row[role].equation },
    ];
  }),
  { name: "left", title: "Solution becomes", of: ({ row, liquids = [] }) => [row.left, ...liquids.filter(({ text }) => text).map(({ since, text }) => `${since}in the liquid: ${text}`)].filter(Boolean).join("; ") },
  { name: "pH", title: "pH change", of: ({ row }) => row.pH },
];

/** @type {Record<string, string>} under what the class's answers at an electrode are kept */
const AT_ELECTRODE = { predicted: "predicted", seen: "observed", test: "tested" };

/** What the class wrote: in the table, or else at the electrode. @param {any} entry @param {Column} column */
export function classAnswer(entry, { name, role, part = "" }) {
  return entry[`cell:${name}`] || (entry[`${role}:${AT_ELECTRODE[part]}`] ?? "");
}

/** The two answers that most gave, and how many gave others. @param {[string, number][]} vote */
function voteText(vote) {
  const sorted = [...vote].sort(([, a], [, b]) => b - a);
  const others = sorted.slice(2).reduce((sum, [, count]) => sum + count, 0);
  const shown = others ? [...sorted.slice(0, 2), ["others", others]] : sorted;
  return shown.map(([option, count]) => `${option} ${count}`).join(", ");
}

/** What the class said at an electrode, vote by vote; empty where it was not asked. @param entry of the store @param {string} role */
export function votesText(entry, role) {
  const said = (entry[`${role}:votes`] ?? []).filter((vote) => vote.length).map(voteText);
  return said.length ? `The class: ${said.join("; then ")}` : "";
}

/** What the class's phones said, in the column of what was predicted. @param entry of the store @param {Column} column */
export const votesOf = (entry, { part, role = "" }) => (part === "predicted" ? votesText(entry, role) : "");

/** What the class noted of the liquid, in the column of what becomes of the solution. @param entry of the store @param {Column} column */
export const notesOf = (entry, { name }) =>
  name === "left" ? (entry.liquids ?? []).filter(({ key }) => entry[key]).map(({ key, since }) => `${since}noted in the liquid: ${entry[key]}`) : [];

/** An answer by which two spellings compare: signs that look alike are the same. @param {string} text */
const plain = (text) =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[−–]/g, "-")
    .replace(/->|→/g, "=")
    .replace(/[\s.,^]+/g, "");

/** How an answer compares with what is expected. */
export function verdict(entry, { name, role = "", part }, answer, expected, species) {
  if (!answer) return "nothing written";
  const task = entry.row[role]?.task;
  if (part === "equation" && task) {
    const { code, sentences } = judge(answer, task, species);
    return `${code === "right" ? "✓ " : ""}${sentences.join(" ")}`;
  }
  if (part === "seen") {
    const { missing, trapped } = compareObservation(answer, entry[`${role}:points`] ?? [], entry.traps ?? []);
    return [missing.length ? `left out: ${missing.join(", ")}` : "✓", ...trapped].join(" ");
  }
  if (part === "predicted") {
    const [ruled, outcome] = entry.row.accepts?.[`${role}-product`] ?? [];
    return ruled ? judgePrediction(answer, { expected: ruled, outcome }) : "kept as you wrote it";
  }
  const accepted = [expected, ...(entry.row.accepts?.[name] ?? [])]; // rows kept by an older page have none
  return accepted.some((each) => plain(answer) === plain(each)) ? "✓" : "compare with what is expected";
}
