// Molecules of water among the ions, on request: a few of very many. No field moves them.

import { WANDER_PX_S } from "./ions.js";
import { WATER } from "../particles.js";
import { placeInLayout } from "../vessels/vessel.js";

/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const AREA_PER_MOLECULE = 16; // in squares of an ion's radius
const MAX_MOLECULES = 120;

/** @typedef {{x: number, y: number, vx: number, vy: number}} Molecule */

/**
 * @param {Layout} layout @param {() => number} random
 * @param {{molecules: Molecule[], layout: Layout}|null} [before] as they stood in another drawing
 */
export function makeWater(layout, random, before = null) {
  const { x, y, width, height } = layout.bounds;
  const number = Math.min(MAX_MOLECULES, layout.liquidArea / (AREA_PER_MOLECULE * layout.ionRadius ** 2));
  /** @type {Molecule[]} */
  const molecules = [];
  for (const each of before?.molecules ?? []) {
    const place = before && molecules.length < number && placeInLayout(each, before.layout, layout);
    if (place) molecules.push({ ...each, ...place });
  }
  for (let attempt = 0; attempt < 20 * number && molecules.length < number; attempt += 1) {
    const at = { x: x + random() * width, y: y + random() * height, vx: 0, vy: 0 };
    if (layout.inside(at.x, at.y)) molecules.push(at);
  }
  return {
    molecules,
    /** @param {number} passedS */
    move(passedS) {
      const keep = Math.exp(-2.2 * passedS);
      const kick = WANDER_PX_S * 6 * Math.sqrt(passedS);
      for (const each of molecules) {
        each.vx = each.vx * keep + (random() - 0.5) * kick;
        each.vy = each.vy * keep + (random() - 0.5) * kick;
        const [nextX, nextY] = [each.x + each.vx * passedS, each.y + each.vy * passedS];
        if (layout.inside(nextX, nextY)) [each.x, each.y] = [nextX, nextY];
        else [each.vx, each.vy] = [-each.vx, -each.vy];
      }
    },
    /**
     * @param {CanvasRenderingContext2D} pen
     * @param {ReturnType<typeof import("../glyphs.js").makeGlyphs>} glyphs
     */
    draw(pen, glyphs) {
      for (const each of molecules) glyphs.draw(pen, WATER.formula, each.x, each.y, 0.85);
    },
  };
}
