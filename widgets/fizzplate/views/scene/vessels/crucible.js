// A crucible with a melt, heated from below, with two rods: a beaker's inside within a thick wall.

import { layOutBeaker } from "./beaker.js";
import { AS_FILLED, clamp } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

const HEAT_SHARE = 0.1; // of the picture's height, below the crucible
const WALL = { wide: 16, narrow: 8 }; // plain lines thick, outside what the melt fills

/** @param {number} width @param {number} height @param {number} [scale] of the ions @param {import("./vessel.js").Filling} [filling] @param {number} [least] radius of an ion (px) @returns {Layout} */
export function layOutCrucible(width, height, scale = 1, filling = AS_FILLED, least = 0) {
  const heat = clamp(height * HEAT_SHARE, 26, 130);
  const inner = layOutBeaker(width, height - heat, scale, filling, least);
  const wall = inner.narrow ? WALL.narrow : WALL.wide;
  const half = (wall / 2) * inner.stroke;
  const { x, y, width: span, height: depth } = inner.bounds;
  /** @param {CanvasRenderingContext2D} pen */
  function outline(pen) {
    pen.save();
    pen.translate(x + span / 2, y);
    pen.scale((span + 2 * half) / span, (depth + half) / depth);
    pen.translate(-x - span / 2, -y);
    inner.outline(pen);
    pen.restore();
  }
  return { ...inner, height, outline, wall, heat: { top: height - heat + half, height: heat - half } };
}
