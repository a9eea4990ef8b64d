// A haze: hydroxide and other solids that cloud the liquid where the run has them. The more there is at a
// place, the less can be seen through it, and the more specks are drawn. What has settled covers the bottom.

import { seededRandom } from "../motion/random.js";
import { fieldAt, sampleAt } from "../record.js";
import { modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{x: number, y: number, along: number, from: number}} Speck drawn from that opacity on */

const HAZE_SEED = 17;
const DENSE_MOL_M3 = 4; // a choice: from here little can be seen through
const MAX_OPACITY = 0.8; // opacity that a cloud comes near to
const AREA_PER_SPECK = 260; // px2, where it is thickest
const SPECK_PX = 1.7;
const SETTLED_PX = 7; // a choice: a real layer is thinner than a hair

/** How much of the view a haze takes, 0 to 0.8. @param {number} amount mol/m3 */
export function hazeOpacity(amount) {
  return MAX_OPACITY * (1 - Math.exp(-Math.max(0, amount) / DENSE_MOL_M3));
}

/** Places for specks, all over the liquid. @param {Layout} layout @returns {Speck[]} */
export function makeSpecks(layout) {
  const random = seededRandom(HAZE_SEED);
  const { x, y, width, height } = layout.bounds;
  const specks = [];
  for (let k = 0; k < (width * height) / AREA_PER_SPECK; k += 1) {
    const [px, py] = [x + random() * width, y + random() * height];
    specks.push({ x: px, y: py, along: layout.along(px, py), from: random() * MAX_OPACITY });
  }
  return specks;
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {import("../record.js").Instant} when @param {Speck[]} specks
 */
export function drawHaze(pen, record, layout, theme, when, specks) {
  const gapM = record.positionM[record.positionM.length - 1];
  for (const { formula, tint } of record.header.hazes) {
    const values = record.haze(formula);
    const opacity = (/** @type {number} */ along) =>
      hazeOpacity(fieldAt(values, record, when, modelPlace(along, gapM, record.header.filmM)));
    const colour = theme.colour(tint);
    layout.fill(pen, (along) => {
      const part = Math.round(255 * opacity(along)).toString(16).padStart(2, "0");
      return `${colour}${part}`;
    });
    pen.fillStyle = colour;
    for (const speck of specks) {
      if (opacity(speck.along) > speck.from) pen.fillRect(speck.x, speck.y, SPECK_PX, SPECK_PX);
    }
  }
}

/**
 * What has settled: a layer along the bottom that hides the more the more of the solid lies there.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {number} timeS
 */
export function drawSettled(pen, record, { bounds }, theme, timeS) {
  for (const { formula, tint } of record.header.hazes) {
    const inAllLiquid = sampleAt(record.settledMolM3(formula), record, timeS);
    pen.globalAlpha = hazeOpacity((inAllLiquid * bounds.height) / SETTLED_PX);
    pen.fillStyle = theme.colour(tint);
    pen.fillRect(bounds.x, bounds.y + bounds.height - SETTLED_PX, bounds.width, SETTLED_PX);
  }
  pen.globalAlpha = 1;
}
