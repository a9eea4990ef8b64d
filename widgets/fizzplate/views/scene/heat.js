// What heats a melt: arrows from below, with their name.

/** @typedef {import("./vessels/vessel.js").Layout} Layout */

import { arrowAlong } from "./arrows.js";
import { clamp } from "./vessels/vessel.js";

const ARROWS = 4;

/** @param {CanvasRenderingContext2D} pen @param {Layout} layout @param {import("./theme.js").Theme} theme */
export function drawHeat(pen, { heat, width, stroke, narrow }, theme) {
  if (!heat) return;
  const length = heat.height * 0.42;
  const bottom = heat.top + length + 6 * stroke;
  pen.strokeStyle = pen.fillStyle = theme.colour("--fp-ink");
  for (let k = 0; k < ARROWS; k += 1) {
    const x = width * (0.32 + (0.36 * k) / (ARROWS - 1));
    arrowAlong(pen, x, bottom, { x: 0, y: -1 }, length, 1.8 * stroke);
  }
  const size = clamp(width / 70, narrow ? 12 : 13, 48) * theme.letters;
  pen.font = `600 ${size}px ${theme.font}`;
  pen.textAlign = "right";
  pen.textBaseline = "middle";
  pen.fillText("heat", width * 0.32 - size, bottom - length / 2);
}
