// A haze: hydroxide and other solids that cloud the liquid where the run has them. The more there is at a
// place, the less can be seen through it, and the more flakes are drawn, each with an outline: a white cloud in pale water is
// not seen from afar by its colour. What has settled covers the bottom.

import { seededRandom } from "../motion/random.js";
import { fieldAt, sampleAt } from "../record.js";
import { modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{x: number, y: number, along: number, from: number, turn: number, size: number}} Flake drawn from that opacity on; turn (rad) and size of it */

const HAZE_SEED = 17;
const DENSE_MOL_M3 = 4; // a choice: from here little can be seen through
const MAX_OPACITY = 0.8; // opacity that a cloud comes near to
const FLAKES = { usual: 650, narrow: 260 }; // all over the liquid, where it is thickest: on a phone the first of them
const FLAKE = { radii: 0.15, leastPx: 2.3 }; // size of one, in an ion's radii
const RIM = 0.55; // opacity of its outline
const SETTLED = 9; // thickness of the layer, in plain lines; a choice: a real one is thinner than a hair

/** How much of the view a haze takes, 0 to 0.8. @param {number} amount mol/m3 */
export function hazeOpacity(amount) {
  return MAX_OPACITY * (1 - Math.exp(-Math.max(0, amount) / DENSE_MOL_M3));
}

/** Places for flakes, all over the liquid. Even a thin haze has some. @param {Layout} layout @returns {Flake[]} */
export function makeFlakes(layout) {
  const random = seededRandom(HAZE_SEED);
  const { x: left, y: top, width, height } = layout.bounds;
  const full = Math.max(FLAKE.radii * layout.ionRadius, FLAKE.leastPx);
  return Array.from({ length: layout.narrow ? FLAKES.narrow : FLAKES.usual }, () => {
    const [x, y] = [left + random() * width, top + random() * height];
    return { x, y, along: layout.along(x, y), from: random() ** 2 * MAX_OPACITY, turn: Math.PI * random(), size: full * (0.6 + 0.4 * random()) };
  });
}

/** A small uneven lump. @param {CanvasRenderingContext2D} pen @param {Flake} flake */
function traceFlake(pen, { x, y, turn, size }) {
  [1, 0.7, 0.9, 0.6, 0.8].forEach((share, k) => {
    const angle = turn + 0.4 * Math.PI * k;
    const [cornerX, cornerY] = [x + share * size * Math.cos(angle), y + share * size * Math.sin(angle)];
    if (k) pen.lineTo(cornerX, cornerY);
    else pen.moveTo(cornerX, cornerY);
  });
  pen.closePath();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {import("../record.js").Instant} when @param {Flake[]} flakes
 */
export function drawHaze(pen, record, layout, theme, when, flakes) {
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
    const shown = flakes.filter(({ along, from }) => opacity(along) > from);
    if (!shown.length) continue;
    pen.beginPath();
    for (const flake of shown) traceFlake(pen, flake);
    pen.fillStyle = colour;
    pen.fill();
    pen.strokeStyle = theme.colour("--fp-ion-ink");
    pen.lineWidth = Math.max(layout.stroke, 0.6);
    pen.globalAlpha = RIM;
    pen.stroke();
    pen.globalAlpha = 1;
  }
}

/**
 * What has settled: a layer along the bottom that hides the more the more of the solid lies there.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {number} timeS
 */
export function drawSettled(pen, record, { bounds, stroke }, theme, timeS) {
  const thick = SETTLED * stroke;
  for (const { formula, tint } of record.header.hazes) {
    const inAllLiquid = sampleAt(record.settledMolM3(formula), record, timeS);
    pen.globalAlpha = hazeOpacity((inAllLiquid * bounds.height) / thick);
    pen.fillStyle = theme.colour(tint);
    pen.fillRect(bounds.x, bounds.y + bounds.height - thick, bounds.width, thick);
  }
  pen.globalAlpha = 1;
}
