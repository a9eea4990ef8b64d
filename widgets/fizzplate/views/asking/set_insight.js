// What a teacher learns, without names, of a class's answers to a set of questions.

import { LETTERS } from "./set_rounds.js";

const IONS_GIVE_ELECTRONS_AT_CATHODE = 10; // as data/misconceptions.csv numbers ideas
const CHLORINE_AS_ATOMS = 33;

/**
 * @typedef {import("../room/tallies.js").Vote} Vote
 * @typedef {{share: string, wrong: string, reason: string, idea: string, watch: string}} Insight empty where there is nothing to say
 */

/** Which question a part belongs to, the part of it that asks, and the number that is asked for. @param {any[]} questions @param {string} name */
function questionOf(questions, name) {
  const [, number, letter, part] = /^q(\d+)([a-h])?(?:-(\d+|own))?$/.exec(name) ?? [];
  const whole = questions[Number(number) - 1];
  const question = letter ? whole?.sections[LETTERS.indexOf(letter)] : whole;
  return { number: Number(number), question, watch: whole?.watch ?? "", part: question?.parts[Number(part ?? 0)], isOwn: part === "own" };
}

/** The right option, the right number, or "right" of an equation; nothing where a person marks. @param {any[]} questions @param {{name: string, kind: string}} asked @returns {number|null} */
export function rightAnswer(questions, { name, kind }) {
  const { question, part, isOwn } = questionOf(questions, name);
  if (!question || isOwn || kind === "text") return null;
  if (kind === "choice") return question.options.findIndex(({ right }) => right);
  return kind === "number" ? (part?.value ?? null) : 0;
}

/** @param {number} value @param {number} wanted @param {number} tolerance a share */
const isNear = (value, wanted, tolerance) => Math.abs(value - wanted) <= tolerance * Math.abs(wanted) + 1e-12;

/** Of several, the one that most have; -1 where nobody has any. @param {number[]} counts */
const commonest = (counts) => (counts.some(Boolean) ? counts.indexOf(Math.max(...counts)) : -1);

/** How many of those who answered are right. @param {any[]} questions @param {{name: string, kind: string}} asked @param {Vote|undefined} vote @returns {{right: number, of: number}|null} nothing where a person marks */
function shareOf(questions, asked, vote) {
  const answer = rightAnswer(questions, asked);
  const counts = vote?.counts[asked.name] ?? [];
  if (answer === null || !counts.length) return null;
  if (asked.kind !== "number") return { right: counts[answer] ?? 0, of: counts.reduce((sum, each) => sum + each, 0) };
  const { part } = questionOf(questions, asked.name);
  return { right: counts.filter((value) => isNear(value, answer, part.tolerance)).length, of: counts.length };
}

/** The number of the idea that a fault of a half-equation shows; 0 for none. @param {string} fault @param {{accepted: Record<string, number>[]}} task */
function ideaOfFault(fault, { accepted }) {
  const takesElectrons = accepted.some((form) => form["e-"] < 0);
  if (fault === "side" && takesElectrons) return IONS_GIVE_ELECTRONS_AT_CATHODE;
  return fault === "single" && accepted.some(({ Cl2 }) => Cl2) ? CHLORINE_AS_ATOMS : 0;
}

/** The commonest wrong step, the reason for it, and the number of the idea behind it. @param {any[]} questions @param {{name: string, kind: string}} asked @param {number[]} counts @param {[string, string][]} faults of equations */
function wrongStep(questions, { name, kind }, counts, faults) {
  const { question, part } = questionOf(questions, name);
  const answer = rightAnswer(questions, { name, kind });
  if (kind === "number") {
    const misses = part.nearMisses.map((miss) => counts.filter((value) => !isNear(value, part.value, part.tolerance) && isNear(value, miss.value, part.tolerance)).length);
    const at = commonest(misses);
    return at < 0 ? null : { wrong: `${misses[at]} made the same slip:`, reason: part.nearMisses[at].reason, idea: part.nearMisses[at].misconception ?? 0 };
  }
  const worst = commonest(counts.map((count, k) => (k === answer ? 0 : count)));
  if (worst < 0) return null;
  if (kind === "equation") return { wrong: `${counts[worst]}: ${faults[worst][1]}`, reason: "", idea: ideaOfFault(faults[worst][0], question.task) };
  const { text, reason, misconception } = question.options[worst];
  return { wrong: `${counts[worst]} chose “${text}”.`, reason, idea: misconception };
}

/** What most of those who marked their own answer had left out. @param {any} question @param {Vote|undefined} vote @param {number[]} counts @param {string} watch @returns {Insight|null} */
function mostMissed({ points, levels }, vote, counts, watch) {
  if (levels.length || !vote?.answered) return null;
  const held = counts.slice(0, points.length);
  const least = Math.min(...held);
  return { share: `${least} of ${vote.answered} had: ${points[held.indexOf(least)].statement}`, wrong: "", reason: "", idea: "", watch };
}

/**
 * What the teacher learns of one part: how many are right, the commonest wrong step with the idea behind it, and a cell that shows it.
 * @param {any[]} questions @param {Record<string, any>} ideas @param {{name: string, kind: string}} asked @param {Vote|undefined} vote
 * @param {[string, string][]} faults of equations @returns {Insight|null}
 */
export function insightOf(questions, ideas, asked, vote, faults) {
  const { question, watch, isOwn } = questionOf(questions, asked.name);
  const counts = vote?.counts[asked.name] ?? [];
  if (isOwn && question) return mostMissed(question, vote, counts, watch);
  const share = shareOf(questions, asked, vote);
  if (!share) return null;
  const { wrong = "", reason = "", idea = 0 } = wrongStep(questions, asked, counts, faults) ?? {};
  const { right, of } = share;
  return {
    share: of ? `${right} of ${of} right (${Math.round((100 * right) / of)} %)` : "nobody has answered",
    wrong, reason, idea: ideas[idea]?.wrong ?? "", watch: ideas[idea]?.watch || watch,
  };
}

/** Of several questions, the one that fewest have right. @param {any[]} questions @param {{name: string, kind: string}[]} parts @param {Vote|undefined} vote @returns {{number: number, right: number, of: number}|null} */
export function hardest(questions, parts, vote) {
  const shares = parts.map((part) => ({ number: questionOf(questions, part.name).number, ...shareOf(questions, part, vote) })).filter(({ of }) => of);
  if (new Set(shares.map(({ number }) => number)).size < 2) return null;
  return shares.reduce((least, each) => (each.right / each.of < least.right / least.of ? each : least));
}
