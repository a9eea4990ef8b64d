// What the class said, as a table to save and print: counts only, of the rounds that it was shown.

import { csvText } from "../kit/csv.js";
import { significant } from "../kit/format.js";
import { labelOf, rowsOf } from "./tallies.js";

/** @typedef {import("./shown_rounds.js").ShownRound} ShownRound */
/** @typedef {import("./tallies.js").Part} Part */

const VOTES = ["First vote", "Second vote", "Third vote"];
const DIGITS = 3;

/** A cell for each vote, empty where there was none. @param {(vote: import("./tallies.js").Vote, k: number) => unknown} cell @param {ShownRound} round */
const eachVote = (cell, { votes }) => VOTES.map((_, k) => (votes[k] ? String(cell(votes[k], k) ?? "") : ""));

/** Answers of a part, their counts, and whether they are right: empty while that may not be told. @param {Part} part @param {ShownRound} round @returns {string[][]} */
function partRows(part, round) {
  const { name, kind } = part;
  const { right = null, learned = [] } = round.told[name] ?? {};
  const counts = (vote) => vote.counts[name] ?? [];
  const ofPart = (rows) => [...rows, ...learned.map((said) => [said, ...VOTES.map(() => ""), ""])];
  if (kind === "text") return [["written", ...eachVote((vote) => counts(vote)[0] ?? 0, round), ""]];
  if (kind === "number") {
    const told = typeof right === "number" ? [["the model", ...VOTES.map(() => ""), significant(right, DIGITS)]] : [];
    return ofPart([["numbers", ...eachVote((vote) => counts(vote).map((value) => significant(value, DIGITS)).join("; "), round), ""], ...told]);
  }
  const rights = right === null ? null : [right].flat();
  const isTold = rights && kind !== "equation"; // an equation's rows say what is right
  return ofPart(rowsOf(part).map((label, k) => [label, ...eachVote((vote) => counts(vote)[k] ?? 0, round), isTold ? (rights.includes(k) ? "yes" : "no") : ""]));
}

/** @param {ShownRound} round @returns {string[][]} */
function roundRows(round) {
  const { asked, of, joined } = round;
  const phones = [
    ["phones that had joined", ...eachVote((_, k) => joined[k], round), ""],
    ["phones that answered", ...eachVote((vote) => vote.answered, round), ""],
  ];
  return [
    ...phones.map((cells) => [of, asked.title, "", ...cells]),
    ...asked.parts.flatMap((part) => partRows(part, round).map((cells) => [of, asked.title, labelOf(part), ...cells])),
  ];
}

/** @param {ShownRound[]} rounds @param {{of: string, right: string}} heads of the columns: of what a round is, and what is right @returns {string} CSV */
export const reportText = (rounds, { of, right }) => csvText([[of, "Round", "Question", "Answer", ...VOTES, right], ...rounds.flatMap(roundRows)]);
