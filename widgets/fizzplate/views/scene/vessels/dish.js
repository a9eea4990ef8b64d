// A few drops in a shallow dish from the side, two thin rods dipped in.

import { aroundRods, AS_FILLED, clamp, depthAtStart, fillAcross, fitting, isLow, sizes, uprightRods, WIDE } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

const RODS = [0.15, 0.85]; // of the width; behind them there is no room for two ions
const FLARE = 0.09; // of the width, by which each wall leans outwards

/**
 * @param {CanvasRenderingContext2D} pen
 * @param {{left: number, right: number, bottom: number, lean: number, inset: (y: number) => number}} bowl @param {number} top
 */
function traceBowl(pen, { left, right, bottom, lean, inset }, top) {
  pen.beginPath();
  pen.moveTo(left + inset(top), top);
  pen.lineTo(left + inset(bottom - 12), bottom - 12);
  pen.quadraticCurveTo(left + lean + 2, bottom, left + lean + 18, bottom);
  pen.lineTo(right - lean - 18, bottom);
  pen.quadraticCurveTo(right - lean - 2, bottom, right - inset(bottom - 12), bottom - 12);
  pen.lineTo(right - inset(top), top);
}

/** @param {number} width @param {number} height @param {number} [scale] of the ions @param {import("./vessel.js").Filling} [filling] @param {number} [least] radius of an ion (px) @returns {Layout} */
export function layOutDish(width, height, scale = 1, filling = AS_FILLED, least = 0) {
  const { narrow, circuit, stroke, ...wanted } = sizes(width, height, scale, least);
  const margin = narrow ? 10 : Math.max(16, width * 0.045);
  const [left, right] = [margin, width - margin];
  const span = right - left;
  const bottom = height - (narrow ? 40 : Math.max(52, height * 0.09));
  const usual = (bottom - circuit) * (narrow || isLow(height) ? 0.75 : 0.56);
  const rim = bottom - usual * 1.16;
  const startDepth = depthAtStart(usual, usual * 1.1, filling);
  const ionRadius = fitting(wanted.ionRadius, startDepth);
  const depth = startDepth * filling.now;
  const liquidTop = bottom - depth;
  const lean = span * FLARE;
  const rodWidth = clamp(span * 0.03, 10, 110);
  const rodBottom = bottom - startDepth * 0.24;
  const electrodes = uprightRods(RODS, { x: left, width: span }, rodWidth, circuit, rodBottom);
  const rods = aroundRods(electrodes);

  /** How far a wall stands in at a height. @param {number} y */
  const inset = (y) => (lean * (y - bottom + usual)) / usual;
  const bowl = { left, right, bottom, lean, inset };

  /** @param {number} x @param {number} y */
  const inside = (x, y) => {
    const r = ionRadius + 2;
    const wall = inset(y) + WIDE * r;
    if (x < left + wall || x > right - wall) return false;
    if (y < liquidTop + r || y > bottom - r - 2 * stroke) return false;
    return rods.clear(x, y, r);
  };
  return {
    width,
    height,
    narrow,
    stroke,
    ionRadius,
    liquidTop,
    electrodes,
    gapPx: electrodes[1].x - electrodes[0].x - rodWidth,
    innerShare: 0.75,
    level: true,
    deep: true,
    caption: "a few drops in a dish, drawn deeper than they are",
    liquidArea: (electrodes[1].x - electrodes[0].x - rodWidth) * depth,
    bounds: { x: left, y: liquidTop, width: span, height: depth },
    surfaces: [[left + inset(liquidTop) + 3 * stroke, right - inset(liquidTop) - 3 * stroke]],
    trace(pen) {
      traceBowl(pen, bowl, liquidTop);
      pen.closePath();
    },
    outline: (pen) => traceBowl(pen, bowl, rim),
    inside,
    free: (x, y) => inside(x, y) && x > electrodes[0].x && x < electrodes[1].x + rodWidth,
    along: rods.along,
    fill(pen, colourAt, byDepth) {
      fillAcross(pen, this.bounds, (x) => this.along(x, 0), colourAt, byDepth);
    },
    direction: rods.direction,
  };
}
