// Molecules of water among the ions, on request: a few of very many. No field moves them; each wanders about its place.

import { WATER } from "../particles.js";
import { streamOf } from "./random.js";

/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const WATER_SEED = 97;
const AREA_PER_MOLECULE = 16; // in squares of an ion's radius
const MAX_MOLECULES = 120;
const WANDER = 0.5; // of an ion's radius, either way
const ATTEMPTS = 40;
const TURNS_RAD_S = 0.9;

/** @param {Layout} layout */
export function makeWater(layout) {
  const { x, y, width, height } = layout.bounds;
  const number = Math.floor(Math.min(MAX_MOLECULES, layout.liquidArea / (AREA_PER_MOLECULE * layout.ionRadius ** 2)));
  const reach = WANDER * layout.ionRadius;
  const molecules = Array.from({ length: number }, (_, which) => {
    const random = streamOf(WATER_SEED, which);
    const turns = Array.from({ length: 4 }, () => ({ phase: 2 * Math.PI * random(), rate: TURNS_RAD_S * (0.5 + random()) }));
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      const at = { x: x + random() * width, y: y + random() * height };
      const corners = [[-1, -1], [-1, 1], [1, -1], [1, 1]];
      if (corners.every(([dx, dy]) => layout.inside(at.x + dx * reach, at.y + dy * reach))) return { ...at, turns };
    }
    return null;
  }).filter((each) => each !== null);
  /** @param {number} pictureS */
  const at = (pictureS) => molecules.map(({ x: homeX, y: homeY, turns }) => {
    const [a, b, c, d] = turns.map(({ phase, rate }) => Math.sin(phase + rate * pictureS));
    return { x: homeX + (reach * (a + b)) / 2, y: homeY + (reach * (c + d)) / 2 };
  });
  return {
    /** Where all are at a time of the picture. */
    at,
    /**
     * @param {CanvasRenderingContext2D} pen @param {ReturnType<typeof import("../glyphs.js").makeGlyphs>} glyphs @param {number} pictureS
     */
    draw(pen, glyphs, pictureS) {
      for (const each of at(pictureS)) glyphs.draw(pen, WATER.formula, each.x, each.y, 0.62);
    },
  };
}
