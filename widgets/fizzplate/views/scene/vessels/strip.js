// A damp strip of filter paper on a glass slide from above, held by a clip at each end.

import { AS_FILLED, clamp, fillAcross, fitting, sizes, WIDE } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

/** @param {number} width @param {number} height @param {number} [scale] of the ions @param {import("./vessel.js").Filling} [_filling] nothing is poured onto it @param {number} [least] radius of an ion (px) @returns {Layout} */
export function layOutStrip(width, height, scale = 1, _filling = AS_FILLED, least = 0) {
  const { narrow, circuit, stroke, ...wanted } = sizes(width, height, scale, least);
  const margin = narrow ? 14 : Math.max(20, width * 0.07);
  const left = margin;
  const right = width - margin;
  const bottom = height - (narrow ? 48 : Math.max(70, height * 0.11));
  const top = circuit + (bottom - circuit) * 0.2;
  const ionRadius = fitting(wanted.ionRadius, bottom - top);
  const clip = clamp((right - left) * 0.035, 14, 130);
  const overlap = 6; // of a clip over the paper's edge
  const electrodes = [left, right - clip].map((x) => ({
    x,
    y: circuit,
    width: clip,
    height: bottom + overlap - circuit,
  }));
  const faceLeft = left + clip;
  const faceRight = right - clip;
  const glass = narrow ? 6 : 14;
  /** @param {number} x @param {number} y */
  const inside = (x, y) => {
    const [wide, r] = [WIDE * ionRadius + 1, ionRadius + 1];
    return x > faceLeft + wide && x < faceRight - wide && y > top + r && y < bottom - r;
  };
  return {
    width,
    height,
    narrow,
    stroke,
    ionRadius,
    liquidTop: top,
    electrodes,
    gapPx: faceRight - faceLeft,
    lowest: bottom - 1.6 * ionRadius, // below stands the pH
    innerShare: 1,
    level: true,
    deep: false,
    caption: "damp filter paper on glass, seen from above",
    liquidArea: (faceRight - faceLeft) * (bottom - top),
    bounds: { x: left, y: top, width: right - left, height: bottom - top },
    surfaces: [],
    trace(pen) {
      pen.beginPath();
      pen.rect(left, top, right - left, bottom - top);
    },
    outline(pen) {
      pen.beginPath();
      pen.rect(faceLeft, top, faceRight - faceLeft, bottom - top);
      pen.roundRect(left - glass, top - glass, right - left + 2 * glass, bottom - top + 2 * glass, 6);
    },
    inside,
    free: inside,
    along: (x) => clamp((x - faceLeft) / (faceRight - faceLeft), 0, 1),
    fill(pen, colourAt) {
      fillAcross(pen, this.bounds, (x) => this.along(x, 0), colourAt);
    },
    direction: () => ({ x: 1, y: 0 }),
  };
}
