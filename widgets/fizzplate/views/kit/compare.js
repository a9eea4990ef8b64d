// Compare what a class wrote with what is expected, from plain data: points and words that lose marks.

/** @typedef {{name: string, words: string[]}} Point */
/** @typedef {{word: string, unless: string[], says: string}} Trap */

/**
 * @param {string} text @param {Point[]} points @param {Trap[]} traps
 * @returns {{said: string[], missing: string[], trapped: string[]}}
 */
export function compareObservation(text, points, traps) {
  const lower = ` ${text.toLowerCase()} `;
  /** @param {string[]} words */
  const holds = (words) => words.some((word) => lower.includes(word));
  const trapped = traps
    .filter((trap) => lower.includes(` ${trap.word}`) && !holds(trap.unless))
    .map((trap) => trap.says);
  return {
    said: points.filter((point) => holds(point.words)).map((point) => point.name),
    missing: points.filter((point) => !holds(point.words)).map((point) => point.name),
    trapped: [...new Set(trapped)],
  };
}

/**
 * What a prediction was worth, beside the rule and the bench.
 * @param {string} said @param {{expected: string, bench?: string}} ask
 */
export function judgePrediction(said, ask) {
  const bench = ask.bench ?? ask.expected;
  if (said === ask.expected && said === bench) return "as the rule says, and as it happens";
  if (said === ask.expected) return `as the rule says; in this run it is ${bench}`;
  if (said === bench) return `as it happens in this run; the rule says ${ask.expected}`;
  return `the rule says ${ask.expected}`;
}
