// Which drawing a vessel has.

import { layOutBeaker } from "./beaker.js";
import { layOutDish } from "./dish.js";
import { layOutStrip } from "./strip.js";
import { layOutUTube } from "./utube.js";

/** @typedef {import("./vessel.js").Layout} Layout */

/** @type {Record<string, (width: number, height: number) => Layout>} */
const DRAWINGS = {
  beaker: layOutBeaker,
  "U-tube": layOutUTube,
  dish: layOutDish,
  "paper strip": layOutStrip,
};

/**
 * @param {number} width @param {number} height @param {string} vessel
 * @returns {Layout}
 */
export function layOut(width, height, vessel) {
  return (DRAWINGS[vessel] ?? layOutBeaker)(width, height);
}
