// The close-up's steps: what happens at both electrodes, one event at a time, the same number of
// electrons passing both in every round.

import { countText } from "../../kit/say.js";

/** @typedef {import("../record.js").Product} Product */
/** @typedef {"arrive"|"cross"|"form"} Phase */
/**
 * What is seen at one electrode in a step.
 * @typedef {{
 *   phase: Phase, waiting: boolean, ions: number, crossing: number, crossed: number, formed: boolean
 * }} Moment
 * waiting: the event goes on in the next round; ions: at the face; crossing, crossed: electrons of this
 * event that cross in this step, and that have crossed; formed: whether the product stands there
 */
/** @typedef {{phase: Phase, passed: number, sides: Moment[]}} CloseStep */

const PHASES = /** @type {const} */ (["arrive", "cross", "form"]);

/** @param {number} a @param {number} b @returns {number} */
const commonDivisor = (a, b) => (b ? commonDivisor(b, a % b) : a);

/**
 * All steps until both electrodes have finished their events together.
 * @param {Product[]} products what forms at either electrode
 * @returns {CloseStep[]}
 */
export function closeUpSteps(products) {
  const each = products.map((product) => product.electrons);
  const shared = each.reduce((a, b) => (a * b) / commonDivisor(a, b));
  const aRound = each.reduce(commonDivisor);
  const steps = [];
  for (let round = 0; round < shared / aRound; round += 1) {
    for (const phase of PHASES) {
      const across = phase === "arrive" ? 0 : aRound;
      steps.push({
        phase,
        passed: round * aRound + across,
        sides: products.map((product) => {
          const rounds = product.electrons / aRound; // that one event takes
          const before = (round % rounds) * aRound;
          const last = round % rounds === rounds - 1;
          const formed = phase === "form" && last;
          return {
            phase,
            waiting: phase === "arrive" ? before > 0 : phase === "form" && !last,
            ions: formed ? 0 : product.consumed.count,
            crossing: phase === "cross" ? aRound : 0,
            crossed: before + across,
            formed,
          };
        }),
      });
    }
  }
  return steps;
}

/**
 * A step at one electrode in words.
 * @param {Moment} moment @param {Product} product @param {string} label of what is discharged, or empty
 * @param {boolean} oxidation
 */
export function stepWords(moment, product, label, oxidation) {
  const from = label || "the atom";
  if (moment.waiting) return `The electrode waits: ${countText(product.electrons - moment.crossed, "electron")} still to cross.`;
  if (moment.phase === "arrive") {
    if (!label) return "An atom of the metal is at the surface.";
    return `${moment.ions > 1 ? `${moment.ions} ${label} arrive` : `One ${label} arrives`} at the electrode.`;
  }
  if (moment.phase === "cross") {
    const verb = moment.crossing === 1 ? "crosses" : "cross";
    const way = oxidation ? `from ${from} to the electrode` : `from the electrode to ${from}`;
    return `${countText(moment.crossing, "electron")} ${verb} ${way}.`;
  }
  if (!product.released.length) return `One ${product.label} has formed.`;
  const released = product.released.map((each) => `${each.count > 1 ? each.count : "one"} ${each.label}`);
  return `One ${product.label} and ${released.join(" and ")} have formed.`;
}
