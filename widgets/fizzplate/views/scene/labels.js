// The words in the picture: which electrode is which, what is out of scale, which ions go where.

import { arrow } from "./circuit.js";
import { sampleAt } from "./record.js";
import { clamp, plainRadius } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */
/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {ReturnType<typeof import("./glyphs.js").makeGlyphs>} Glyphs */

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {Glyphs} glyphs @param {number} timeS
 * @param {{withWater: boolean, names: string[]}} words names: of cathode and anode
 */
export function drawLabels(pen, record, layout, theme, glyphs, timeS, { withWater, names }) {
  const size = clamp(layout.width / 66, 10.5, 17);
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  pen.textBaseline = "middle";
  nameElectrodes(pen, record, layout, theme, size, swapped, names);
  pen.textAlign = "center";
  pen.font = `${size * 0.86}px ${theme.font}`;
  pen.fillStyle = theme.colour("--fp-quiet");
  if (layout.caption) pen.fillText(layout.caption, layout.width / 2, layout.height - size * 0.9);
  if (layout.narrow) return;
  sayWhatIsOutOfScale(pen, record, layout, size, withWater);
  if (layout.level) pointTheWay(pen, record, layout, theme, glyphs, size, swapped, names);
  pen.textAlign = "center";
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {number} size @param {boolean} swapped @param {string[]} names
 */
function nameElectrodes(pen, record, layout, theme, size, swapped, names) {
  layout.electrodes.forEach((rod, side) => {
    const cathode = (side === 0) !== swapped;
    pen.font = `700 ${clamp(rod.width * 0.8, 13, 26)}px ${theme.font}`;
    pen.textAlign = "center";
    const dark = record.header.electrodes[side].material === "graphite";
    pen.fillStyle = dark ? "#fdfaf2" : theme.colour("--fp-ion-ink");
    pen.fillText(cathode ? "−" : "+", rod.x + rod.width / 2, rod.y + rod.width * 0.55);
    pen.font = `600 ${size}px ${theme.font}`;
    pen.fillStyle = theme.colour("--fp-ink");
    const name = names[cathode ? 0 : 1];
    const outside = side === 0 ? rod.x - 8 : rod.x + rod.width + 8;
    const room = side === 0 ? outside : layout.width - outside;
    // towards the middle where there is no room beside the rod
    const fits = pen.measureText(name).width <= room - 2;
    pen.textAlign = (side === 0) === fits ? "right" : "left";
    const inner = side === 0 ? rod.x + rod.width + 6 : rod.x - 6;
    pen.fillText(name, fits ? outside : inner, rod.y + size * 0.9);
  });
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {number} size @param {boolean} withWater
 */
function sayWhatIsOutOfScale(pen, record, layout, size, withWater) {
  pen.textAlign = "left";
  pen.fillText("number of H⁺ and OH⁻", 14, size * 1.1);
  pen.fillText("shows pH, not amount", 14, size * 2.2);
  if (withWater) pen.fillText("water: far more than drawn", 14, size * 3.5);
  pen.textAlign = "right";
  if (!record.header.filmM) return;
  pen.fillText("the layer at each electrode", layout.width - 14, size * 1.1);
  pen.fillText("is drawn wider than it is", layout.width - 14, size * 2.2);
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {Glyphs} glyphs @param {number} size @param {boolean} swapped @param {string[]} names
 */
function pointTheWay(pen, record, layout, theme, glyphs, size, swapped, names) {
  const mark = plainRadius(layout.width, layout.height);
  const y = layout.height - size * 5.2;
  for (const side of [0, 1]) {
    const away = side === 0 ? 1 : -1;
    const from = side === 0 ? layout.bounds.x - 12 : layout.width - layout.bounds.x + 12;
    const to = side === 0 ? 14 : layout.width - 14;
    const cathode = (side === 0) !== swapped;
    pen.textAlign = side === 0 ? "left" : "right";
    pen.fillStyle = theme.colour("--fp-quiet");
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.fillText(`to the ${names[cathode ? 0 : 1]}`, to, y);
    arrow(pen, from, y + size * 1.1, to);
    const travellers = record.header.species
      .filter((each) => Math.sign(each.charge) === (cathode ? 1 : -1) && !each.dissolved)
      .slice(0, 3);
    travellers.forEach((each, k) => {
      const step = mark * 1.75;
      const x = to + away * (step * 0.5 + k * step);
      glyphs.draw(pen, each.formula, x, y + size * 3, (0.74 * mark) / layout.ionRadius);
    });
  }
}
