// What a class hears of what it predicted and wrote, from plain data: points of an observation, and words that lose marks.

/** @typedef {{name: string, words: string[]}} Point */
/** @typedef {{word: string, unless: string[], advice?: string, says?: string}} Trap says: as results kept by an earlier version name it */

/**
 * @param {string} text @param {Point[]} points @param {Trap[]} traps
 * @returns {{mentioned: string[], missing: string[], trapped: string[]}}
 */
export function compareObservation(text, points, traps) {
  const lower = ` ${text.toLowerCase()} `;
  /** @param {string[]} words */
  const holds = (words) => words.some((word) => lower.includes(word));
  const trapped = traps
    .filter((trap) => lower.includes(` ${trap.word}`) && !holds(trap.unless))
    .map(({ advice, says }) => advice ?? says);
  return {
    mentioned: points.filter((point) => holds(point.words)).map((point) => point.name),
    missing: points.filter((point) => !holds(point.words)).map((point) => point.name),
    trapped: [...new Set(trapped)],
  };
}

/**
 * How a prediction compares with the rule and with the run.
 * @param {string} predicted @param {{expected: string, outcome?: string}} question
 */
export function judgePrediction(predicted, question) {
  const outcome = question.outcome ?? question.expected;
  if (predicted === question.expected && predicted === outcome) return "right by the rule, and in this run";
  if (predicted === question.expected) return `right by the rule; in this run it is ${outcome}`;
  if (predicted === outcome) return `right in this run; the rule says ${question.expected}`;
  return `the rule says ${question.expected}`;
}
