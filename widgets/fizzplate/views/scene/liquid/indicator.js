// An indicator in the liquid: the colour of the model's pH at every place, written beside it, and
// bleached where chlorine is.

import { fieldAt } from "../record.js";
import { clamp, modelPlace, WIDE } from "../vessels/vessel.js";

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

/** Height of its letters. @param {Layout} layout @param {import("../theme.js").Theme} theme */
const typeOf = (layout, theme) => clamp(layout.width / 70, 11, 48) * theme.letters;

const LINE = 1.3; // of the type
const PADDING = 0.3;
const SIGN_EM = 4.3; // about the widest that is written, "bleached" in bold type
const CLEAR = 6; // from the glass
const SPACE_FOR_ION = 4; // in its radii: between two signs that are closer an ion would be caught

/**
 * Where the pH at both faces and in the middle is written: on the bottom of the liquid; beside the limbs of a U-tube, which
 * are too narrow for ions and signs, or, on a phone, two of them there. Each grows upwards from its lower edge.
 * @param {Layout} layout @param {import("../theme.js").Theme} theme
 */
function placesOfPH(layout, theme) {
  const { bounds, electrodes: rods, level } = layout;
  const size = typeOf(layout, theme);
  const half = (SIGN_EM / 2) * size;
  const [first, last] = rods.map((rod) => rod.x + rod.width / 2);
  const middle = (first + last) / 2;
  const low = bounds.y + bounds.height;
  if (level) {
    const wall = wallAt(layout, low - 1.5 * layout.ionRadius - CLEAR) + half;
    return [[0, Math.max(first, wall)], [0.5, middle], [1, Math.min(last, layout.width - wall)]].map(([along, x]) => ({ along, x, bottom: low - 0.1 * size }));
  }
  const bore = 2 * (first - bounds.x);
  const bend = low - bore - CLEAR; // the glass below the air between the limbs
  const beside = bore / 2 + CLEAR + half;
  const limb = Math.min(rods[0].y + rods[0].height, bend);
  const isTight = last - first - 2 * beside < 4 * half; // no room for a third between them
  return [{ along: 0, x: first + beside, bottom: limb }, { along: 0.5, x: middle, bottom: isTight ? low - CLEAR : bend }, { along: 1, x: last - beside, bottom: limb }];
}

/** Where the liquid begins at a height. @param {Layout} layout @param {number} y */
function wallAt(layout, y) {
  const reach = WIDE * layout.ionRadius; // of an ion, which stays clear of the glass
  let x = layout.bounds.x;
  while (x < layout.width / 2 && !layout.inside(x + reach, y)) x += 1;
  return x;
}

/**
 * Room in the liquid that ions leave to what is written there.
 * @param {RunRecord} record @param {Layout} layout @param {import("../theme.js").Theme} theme @returns {import("../motion/spacing.js").Zone[]}
 */
export function roomForPH(record, layout, theme) {
  const size = typeOf(layout, theme);
  const lines = record.header.species.some(({ formula }) => BLEACHERS.includes(formula)) ? 2 : 1;
  const half = (SIGN_EM / 2) * size;
  const caught = (SPACE_FOR_ION / 2) * layout.ionRadius;
  return placesOfPH(layout, theme)
    .map(({ x, bottom }) => ({ left: x - half, right: x + half, top: bottom - (lines * LINE + PADDING) * size, bottom, out: 0 }))
    .filter(({ left, right, bottom }) => layout.level || layout.inside((left + right) / 2, bottom - 1.5 * layout.ionRadius))
    .map((zone, k, all) => {
      const next = all[k + 1]?.left - zone.right;
      const before = zone.left - all[k - 1]?.right;
      return { ...zone, left: zone.left - (before < 2 * caught ? before / 2 : 0), right: zone.right + (next < 2 * caught ? next / 2 : 0) };
    });
}

/**
 * Write the pH at both faces and in the middle, or that the colour is bleached.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {import("../record.js").Instant} when
 */
export function writePH(pen, record, layout, theme, when) {
  const size = typeOf(layout, theme);
  pen.font = `600 ${size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  for (const { along, x, bottom } of placesOfPH(layout, theme)) {
    const { pH, left } = acidityAt(record, when, along);
    const lines = [`pH ${pH.toFixed(1)}`, ...(left < 0.5 ? ["bleached"] : [])];
    const width = Math.max(...lines.map((line) => pen.measureText(line).width)) + 12;
    const top = bottom - (lines.length * LINE + PADDING) * size;
    pen.fillStyle = theme.colour("--fp-panel");
    pen.beginPath();
    pen.roundRect(x - width / 2, top, width, bottom - top, 4);
    pen.fill();
    pen.fillStyle = theme.colour("--fp-ink");
    lines.forEach((line, k) => pen.fillText(line, x, top + (PADDING / 2 + (k + 0.5) * LINE) * size));
  }
}
