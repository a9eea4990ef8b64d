// An indicator in the liquid: the colour of the model's pH at every place, written beside it, and
// bleached where chlorine is.

import { fieldAt } from "../record.js";
import { clamp, modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {[number, number[]][]} Scale pH and colour, in order */

const BLEACHERS = ["Cl2", "HClO", "ClO-"];
const HALF_BLEACHED_MOL_M3 = 0.5; // a choice: more of them than there is of an indicator
const STRENGTH = 0.62; // opacity of an indicator that is not bleached

/**
 * Red, green and blue of an indicator at a pH.
 * @param {Scale} scale @param {number} pH
 */
export function indicatorColour(scale, pH) {
  let k = 0;
  while (k < scale.length - 2 && pH > scale[k + 1][0]) k += 1;
  const [[low, first], [high, second]] = [scale[k], scale[k + 1]];
  const part = clamp((pH - low) / (high - low), 0, 1);
  return first.map((value, band) => Math.round(value + part * (second[band] - value)));
}

/**
 * pH, and how much of an indicator's colour is left there (1 to 0).
 * @param {RunRecord} record @param {import("../record.js").Instant} when
 * @param {number} along fraction of the drawn gap
 */
export function acidityAt(record, when, along) {
  const gapM = record.positionM[record.positionM.length - 1];
  const place = modelPlace(along, gapM, record.header.filmM);
  /** @param {string} formula */
  const c = (formula) => Math.max(0, fieldAt(record.concentration(formula), record, when, place));
  const bleach = BLEACHERS.reduce((sum, formula) => sum + c(formula), 0);
  return {
    pH: fieldAt(record.pH, record, when, place),
    left: HALF_BLEACHED_MOL_M3 / (HALF_BLEACHED_MOL_M3 + bleach),
  };
}

/**
 * The indicator's colour by place, to fill the liquid with.
 * @param {RunRecord} record @param {Scale} scale
 * @param {import("../record.js").Instant} when
 */
export function indicatorShade(record, scale, when) {
  return (/** @type {number} */ along) => {
    const { pH, left } = acidityAt(record, when, along);
    return `rgba(${indicatorColour(scale, pH).join(",")},${(STRENGTH * left).toFixed(3)})`;
  };
}

/**
 * Write the pH at both faces and in the middle, or that the colour is bleached.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {import("../record.js").Instant} when
 */
export function writePH(pen, record, layout, theme, when) {
  const size = clamp(layout.width / 66, 11, 17) * theme.letters;
  const y = layout.bounds.y + layout.bounds.height - size * (layout.level ? 0.9 : 1.4);
  const [first, last] = layout.electrodes.map((rod) => rod.x + rod.width / 2);
  pen.font = `600 ${size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  for (const [along, x] of [[0, first], [0.5, (first + last) / 2], [1, last]]) {
    const { pH, left } = acidityAt(record, when, along);
    const lines = [`pH ${pH.toFixed(1)}`, ...(left < 0.5 ? ["bleached"] : [])]; // a limb is narrow
    const width = Math.max(...lines.map((line) => pen.measureText(line).width)) + 12;
    const more = (lines.length - 1) * size * 1.3;
    const at = clamp(x, width / 2 + 2, layout.width - width / 2 - 2);
    const top = layout.level || along === 0.5 ? y : layout.liquidTop + layout.bounds.height * 0.5;
    pen.fillStyle = theme.colour("--fp-panel");
    pen.beginPath();
    pen.roundRect(at - width / 2, top - more - size * 0.8, width, size * 1.6 + more, 4);
    pen.fill();
    pen.fillStyle = theme.colour("--fp-ink");
    lines.forEach((line, k) => pen.fillText(line, at, top - more + k * size * 1.3));
  }
}
