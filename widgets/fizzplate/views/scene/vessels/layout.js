// Which drawing a vessel has.

import { layOutBeaker } from "./beaker.js";
import { layOutCrucible } from "./crucible.js";
import { layOutDish } from "./dish.js";
import { layOutStrip } from "./strip.js";
import { layOutUTube } from "./utube.js";
import { AS_FILLED, clamp, MIN_AREA_PER_ION, MAX_IONS } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

/** @type {Record<string, (width: number, height: number, scale?: number, filling?: import("./vessel.js").Filling, least?: number) => Layout>} */
const DRAWINGS = {
  beaker: layOutBeaker,
  "U-tube": layOutUTube,
  crucible: layOutCrucible,
  dish: layOutDish,
  "paper strip": layOutStrip,
};
const MIN_ION_RADIUS_PX = 6.5; // of an ion's radius: below that not even its shape is told apart

/**
 * @param {number} width @param {number} height @param {string} vessel
 * @param {boolean} [many] with ions so small that as many as are drawn at most find room
 * @param {import("./vessel.js").Filling} [filling] @param {number} [least] radius of an ion (px), where there is room
 * @returns {Layout}
 */
export function layOut(width, height, vessel, many = false, filling = AS_FILLED, least = 0) {
  const draw = DRAWINGS[vessel] ?? layOutBeaker;
  const plain = draw(width, height, 1, filling, least);
  if (!many) return plain;
  const fitting = Math.sqrt(plain.liquidArea / (MAX_IONS * MIN_AREA_PER_ION));
  return draw(width, height, clamp(fitting, MIN_ION_RADIUS_PX, plain.ionRadius) / plain.ionRadius, filling, least);
}

/**
 * A vessel drawn narrower, to leave room beside it, with ions as large as in the whole picture.
 * @param {number} width of the picture @param {number} strip that is left free @param {number} height @param {string} vessel
 * @param {boolean} many @param {import("./vessel.js").Filling} filling @param {number} least radius of an ion (px) @returns {Layout}
 */
export function layOutBeside(width, strip, height, vessel, many, filling, least) {
  const { ionRadius } = layOut(width, height, vessel, many, filling, least);
  return layOut(width - strip, height, vessel, many, filling, many ? least : ionRadius);
}
