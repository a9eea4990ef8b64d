// Scales of the moving picture, in figures that a class can read.

import { fieldAt } from "../record.js";
import { modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const DRIFT_PX_S = 22; // of the fastest common ion, on a wide scene

/** Its water's ions show pH, not amount. @param {{formula: string}} species */
export const showsPH = (species) => species.formula === "H+" || species.formula === "OH-";

/** The nearest of 1, 2, 5 and their tenfolds. @param {number} value */
export function roundFigure(value) {
  if (!(value > 0) || !Number.isFinite(value)) return 0;
  const power = 10 ** Math.floor(Math.log10(value));
  const lead = value / power;
  return (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10) * power;
}

/**
 * How many times faster than they are the ions are drawn to drift.
 * @param {RunRecord} record @param {Layout} layout
 */
export function driftScaleOf(record, layout) {
  const gapM = record.positionM[record.positionM.length - 1];
  const width = layout.bounds.width;
  const pxPerM = width / (gapM * 1.5);
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
  return roundFigure((DRIFT_PX_S * Math.min(1, width / 700)) / (fastest * pxPerM));
}
