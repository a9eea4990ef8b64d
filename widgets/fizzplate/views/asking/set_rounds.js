// A set of questions that a class answers together: one question at a time, or all of them at each phone's own pace; and
// what the teacher learns of it, without names.

/**
 * @typedef {import("../room/class_room.js").Round} Round
 * @typedef {import("../room/tallies.js").Vote} Vote
 * @typedef {{share: string, wrong: string, reason: string, idea: string, watch: string}} Insight empty where there is nothing to say
 */

const MAX_PARTS = 24; // of a round, as the server allows
const MAX_LABEL = 2000;
const MAX_NAME = 300; // of a set's name, as much as tells it apart

/** What a phone is asked of a question: choices, numbers and equations. @param {any} question @param {number} number from 1 @param {any} species */
export function partsOf(question, number, species) {
  const text = `${number}. ${question.text}`.slice(0, MAX_LABEL);
  const name = `q${number}`;
  if (question.kind === "choice") return [{ name, kind: "choice", label: text, options: question.options.map((option) => option.text) }];
  if (question.kind === "number") {
    return question.parts.map((part, k) => ({ name: `${name}-${k}`, kind: "number", label: (k || question.parts.length > 1 ? `${k ? `${number}.` : text} ${part.prompt}` : text).slice(0, MAX_LABEL), unit: part.unit }));
  }
  if (question.kind !== "equation") return [];
  const { accepted, goal, tiles } = question.task;
  return [{ name, kind: "equation", label: text, judge: { task: { accepted, goal }, species, tiles } }];
}

/** @param {any[]} questions @param {number} position of the one at hand @param {string} set its name @param {any} species @returns {Round[]} */
export function roundsOf(questions, position, set, species) {
  const all = questions.map((question, k) => partsOf(question, k + 1, species));
  const rounds = [];
  const memo = (what) => JSON.stringify([set.slice(0, MAX_NAME), what]);
  if (all[position]?.length) rounds.push({ name: `Question ${position + 1}`, title: `Question ${position + 1}`, memo: memo(position + 1), parts: all[position] });
  const answerable = all.filter((parts) => parts.length);
  const whole = [];
  for (const parts of answerable) if (whole.length + parts.length <= MAX_PARTS) whole.push(...parts);
  if (answerable.length > 1) rounds.push({ name: "The whole set, each at their own pace", title: "Answer the questions at your own pace", memo: memo("all"), parts: whole });
  return rounds;
}

/** @param {string} memo @returns {[string, number|string]} of which set, and which question of it or all */
function readMemo(memo) {
  try {
    const [set, what] = JSON.parse(memo);
    return [String(set), what];
  } catch {
    return ["", ""];
  }
}

/** The name of a round's set. @param {{memo: string}} asked */
export const setOf = ({ memo }) => readMemo(memo)[0];

/** @param {{memo: string}} asked @param {string} set its name */
export const isOfSet = (asked, set) => setOf(asked) === set.slice(0, MAX_NAME);

/**
 * Whether the answers may be told: of one question once the board has revealed it, of a whole set once it is closed.
 * @param {{memo: string}} asked @param {string} set @param {{position: number, isRevealed: boolean}} board @param {boolean} isOpen
 */
export function mayTellAnswer({ memo }, set, { position, isRevealed }, isOpen) {
  if (!isOfSet({ memo }, set)) return false;
  const [, what] = readMemo(memo);
  if (what === "all") return !isOpen;
  return Number(what) <= position || (Number(what) === position + 1 && isRevealed);
}

/** Which question a part belongs to, and which part of it. @param {any[]} questions @param {string} name */
function questionOf(questions, name) {
  const [, number, part] = /^q(\d+)(?:-(\d+))?$/.exec(name) ?? [];
  const question = questions[Number(number) - 1];
  return { question, part: question?.parts?.[Number(part ?? 0)] };
}

/** The right option, the right number, or "right" of an equation. @param {any[]} questions @param {{name: string, kind: string}} asked */
export function rightAnswer(questions, { name, kind }) {
  const { question, part } = questionOf(questions, name);
  if (!question) return null;
  if (kind === "choice") return question.options.findIndex(({ right }) => right);
  return kind === "number" ? (part?.value ?? null) : 0;
}

/** @param {number} value @param {number} wanted @param {number} tolerance a share */
const isNear = (value, wanted, tolerance) => Math.abs(value - wanted) <= tolerance * Math.abs(wanted) + 1e-12;

/** Of several, the one that most have; -1 where nobody has any. @param {number[]} counts */
const commonest = (counts) => (counts.some(Boolean) ? counts.indexOf(Math.max(...counts)) : -1);

/**
 * What the teacher learns of one part: how many are right, the commonest wrong step with the idea behind it, and a cell that shows it.
 * @param {any[]} questions @param {Record<string, any>} ideas @param {{name: string, kind: string}} asked @param {Vote|undefined} vote
 * @param {[string, string][]} faults of equations @returns {Insight|null}
 */
export function insightOf(questions, ideas, { name, kind }, vote, faults) {
  const { question, part } = questionOf(questions, name);
  const counts = vote?.counts[name] ?? [];
  if (!question || !counts.length) return null;
  const told = (right, of, wrong = "", reason = "", idea = null) => ({
    share: of ? `${right} of ${of} right (${Math.round((100 * right) / of)} %)` : "nobody has answered",
    wrong, reason, idea: idea?.wrong ?? "", watch: (wrong && idea?.watch) || question.watch || "",
  });
  if (kind === "number") {
    const right = counts.filter((value) => isNear(value, part.value, part.tolerance)).length;
    const misses = part.nearMisses.map((miss) => counts.filter((value) => !isNear(value, part.value, part.tolerance) && isNear(value, miss.value, part.tolerance)).length);
    const at = commonest(misses);
    return at < 0 ? told(right, counts.length) : told(right, counts.length, `${misses[at]} answered as if:`, part.nearMisses[at].reason);
  }
  const of = counts.reduce((sum, each) => sum + each, 0);
  const at = kind === "choice" ? question.options.findIndex(({ right }) => right) : 0;
  const worst = commonest(counts.map((count, k) => (k === at ? 0 : count)));
  if (worst < 0) return told(counts[at], of);
  if (kind === "equation") return told(counts[at], of, `${counts[worst]}: ${faults[worst][1]}`);
  const option = question.options[worst];
  return told(counts[at], of, `${counts[worst]} chose “${option.text}”.`, option.reason, ideas[option.misconception]);
}
