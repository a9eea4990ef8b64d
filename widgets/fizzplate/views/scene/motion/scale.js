// Scales of the moving picture, in figures that a class can read.

import { fieldAt, forScales } from "../record.js";
import { modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const HARDLY_SMALLER = 1.2;
const DRIFT_PER_S = 0.022; // of the picture's width, by the fastest common ion

/** Its water's ions show pH, not amount. @param {{formula: string}} species */
export const showsPH = (species) => species.formula === "H+" || species.formula === "OH-";

/** How plainly, 0 to 1, water's own ions are drawn at a pH: pale up to a ten-thousandth of a mole in a dm3. @param {number} pH @param {string} formula */
export function plainness(pH, formula) {
  const power = formula === "H+" ? 4 - pH : pH - 10; // of ten, against that
  return Math.min(Math.max(power / 1.5, 0), 1);
}

/** The nearest of 1, 2, 5 and their tenfolds. @param {number} value */
export function roundFigure(value) {
  if (!(value > 0) || !Number.isFinite(value)) return 0;
  const power = 10 ** Math.floor(Math.log10(value));
  const lead = value / power;
  return (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10) * power;
}

/** The next 1, 2, 5 or tenfold of them that is hardly smaller. @param {number} value */
export function roundUp(value) {
  if (!(value > 0) || !Number.isFinite(value)) return 0;
  const power = 10 ** Math.floor(Math.log10(value));
  return ([1, 2, 5].find((lead) => lead * HARDLY_SMALLER >= value / power) ?? 10) * power;
}

/**
 * The scale of a run that was changed: that of the run without changes, so that what was seen before looks the same, unless
 * it would draw the rest too large by far.
 * @param {number} own by the run with its changes @param {number} kept by the run without @param {number} most times as large
 */
export const scaleKept = (own, kept, most) => kept > 0 && own <= most * kept ? kept : own;

/** Speed (m/s) of the fastest common ion between the electrodes in the whole run. @param {RunRecord} run */
export function fastestDriftM_S(run) {
  const record = forScales(run);
  const gapM = record.positionM[record.positionM.length - 1];
  const middle = modelPlace(0.5, gapM, record.header.filmM);
  let fastest = 0;
  for (const each of record.header.species) {
    if (showsPH(each) || each.charge === 0) continue;
    const drift = record.drift(each.formula);
    for (let sample = 0; sample < record.timeS.length; sample += 1) {
      const when = { before: sample, after: sample, part: 0 };
      fastest = Math.max(fastest, Math.abs(fieldAt(drift, record, when, middle)));
    }
  }
  return fastest;
}

/**
 * How many times faster than they are the ions are drawn to drift, while the run plays at its usual speed.
 * @param {RunRecord} record @param {Layout} layout
 */
export function driftScaleOf(record, layout) {
  const gapM = record.positionM[record.positionM.length - 1];
  const pxPerM = layout.bounds.width / (gapM * 1.5);
  return roundFigure((DRIFT_PER_S * layout.bounds.width) / (fastestDriftM_S(record) * pxPerM));
}
