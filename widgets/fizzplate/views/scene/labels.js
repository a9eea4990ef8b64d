// The words in the picture: which electrode is which, what is out of scale, which ions go where.

import { voltageAcross } from "./circuit.js";
import { sinks } from "./liquid/liquid.js";
import { plainness } from "./motion/scale.js";
import { waterReacts } from "./particles.js";
import { MIN_CURRENT_A } from "../kit/format.js";
import { say } from "../kit/say.js";
import { sampleAt } from "./record.js";
import { clamp } from "./vessels/vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessels/vessel.js").Layout} Layout */
/** @typedef {import("./theme.js").Theme} Theme */

/** Which ions are pale in the picture: in an acid there is plenty of one of them, in an alkali of the other. @param {RunRecord} record */
export function paleIons({ pH }) {
  const pale = Object.entries({ "H+": "H⁺", "OH-": "OH⁻" }).filter(([formula]) => plainness(pH[0], formula) < 1);
  return `pale ${pale.map(([, label]) => label).join(" and ")}: from water, very few`;
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {number} timeS
 */
export function drawLabels(pen, record, layout, theme, timeS) {
  const size = clamp(layout.width / 62, 11, 48) * theme.letters;
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  pen.textBaseline = "middle";
  nameElectrodes(pen, record, layout, theme, size, swapped);
  const small = clamp(layout.width / 80, 10, 38) * theme.letters;
  pen.font = `${small}px ${theme.font}`;
  pen.fillStyle = theme.colour("--fp-quiet");
  pen.textAlign = "center";
  const apart = record.header.melt?.caption ?? paleIons(record);
  const words = layout.caption && !layout.narrow ? `${layout.caption} · ${apart}` : apart;
  pen.fillText(words, layout.width / 2, layout.height - small * 0.75, layout.width - 12);
  if (layout.caption && layout.narrow) pen.fillText(layout.caption, layout.width / 2, layout.height - small * 2);
}

/** @param {RunRecord} record @param {number} timeS */
const flows = (record, timeS) => sampleAt(record.currentA, record, timeS) >= MIN_CURRENT_A;

/** What the picture shows otherwise than it is. @param {RunRecord} record @param {Layout} layout @param {boolean} withWater */
function outOfScale(record, layout, withWater) {
  if (record.header.melt) return [["ions, bubbles and metal:", "drawn, not calculated"]];
  const words = [["the H⁺ and OH⁻ drawn show", "the pH, not real numbers"]];
  if (withWater) words.push(["water: far more than drawn"]);
  else if (waterReacts(record)) words.push(["water: only what reacts", "is drawn"]);
  if (sinks(record)) {
    if (layout.deep) words.push(["sinking of the colour:", "drawn, not computed"]);
    else words.push(["colour shown", "along the cell only"]);
  }
  return words;
}

const WIDENED = ["the layer at each electrode", "is drawn wider than it is"];

/**
 * What is to be said beside the picture: what it shows otherwise than it is, and what a narrow one has no room for.
 * @param {RunRecord} record @param {Layout} layout @param {number} timeS
 * @param {boolean} withWater @returns {string[]}
 */
export function notesBeside(record, layout, timeS, withWater) {
  const notes = outOfScale(record, layout, withWater);
  if (record.header.filmM) notes.push(WIDENED);
  if (layout.narrow && flows(record, timeS)) {
    notes.unshift([say("electrons: out of −, to {the_cathode}", record.header.slots)]);
    if (record.header.lamp) notes.unshift([voltageAcross(record, timeS)]);
  }
  return notes.map((lines) => lines.join(" "));
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {number} size @param {boolean} swapped
 */
function nameElectrodes(pen, record, layout, theme, size, swapped) {
  layout.electrodes.forEach((rod, side) => {
    const cathode = (side === 0) !== swapped;
    pen.font = `700 ${clamp(rod.width * 0.8, 12, 60)}px ${theme.font}`;
    pen.textAlign = "center";
    const dark = record.header.electrodes[side].material === "graphite";
    pen.fillStyle = theme.colour(dark ? "--fp-on-graphite" : "--fp-ion-ink");
    pen.fillText(cathode ? "−" : "+", rod.x + rod.width / 2, rod.y + Math.max(rod.width * 0.55, 10)); // below the clip
    pen.font = `600 ${size}px ${theme.font}`;
    pen.fillStyle = theme.colour("--fp-ink");
    const name = record.header.names[cathode ? 0 : 1];
    const outside = side === 0 ? rod.x - 8 : rod.x + rod.width + 8;
    const width = side === 0 ? outside : layout.width - outside;
    // towards the middle where there is no room beside the rod
    const fits = pen.measureText(name).width <= width - 10; // clear of the glass
    pen.textAlign = (side === 0) === fits ? "right" : "left";
    const inner = side === 0 ? rod.x + rod.width + 6 : rod.x - 6;
    pen.fillText(name, fits ? outside : inner, rod.y + size * 0.9);
  });
}
