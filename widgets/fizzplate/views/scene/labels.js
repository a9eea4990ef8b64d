// The words in the picture: which electrode is which, what is out of scale, which ions go where.

import { arrow, voltageAcross } from "./circuit.js";
import { sinks } from "./liquid.js";
import { waterReacts } from "./particles.js";
import { MIN_CURRENT_A } from "../kit/format.js";
import { say } from "../kit/say.js";
import { sampleAt } from "./record.js";
import { showsPH } from "./motion/scale.js";
import { clamp, plainRadius } from "./vessels/vessel.js";

const HARDLY = 0.01; // of the most concentrated ion: of less, such as zincate in an acid solution, none is drawn

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessels/vessel.js").Layout} Layout */
/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {ReturnType<typeof import("./glyphs.js").makeGlyphs>} Glyphs */

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {Glyphs} glyphs @param {number} timeS
 * @param {boolean} withWater whether molecules of water are drawn among the ions
 */
export function drawLabels(pen, record, layout, theme, glyphs, timeS, withWater) {
  const size = clamp(layout.width / 66, 10.5, 17) * theme.letters;
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  pen.textBaseline = "middle";
  nameElectrodes(pen, record, layout, theme, size, swapped);
  pen.textAlign = "center";
  pen.font = `${size * 0.86}px ${theme.font}`;
  pen.fillStyle = theme.colour("--fp-quiet");
  if (layout.caption) pen.fillText(layout.caption, layout.width / 2, layout.height - size * 0.9);
  if (layout.narrow) return;
  sayWhatIsOutOfScale(pen, record, layout, size, withWater);
  if (layout.level && flows(record, timeS)) pointTheWay(pen, record, layout, theme, glyphs, size, swapped);
  pen.textAlign = "center";
}

/** @param {RunRecord} record @param {number} timeS */
const flows = (record, timeS) => sampleAt(record.currentA, record, timeS) >= MIN_CURRENT_A;

/** What the picture shows otherwise than it is. @param {RunRecord} record @param {Layout} layout @param {boolean} withWater */
function outOfScale(record, layout, withWater) {
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
 * What a narrow picture has no room for, to be said beside it.
 * @param {RunRecord} record @param {Layout} layout @param {number} timeS
 * @param {boolean} withWater @returns {string[]}
 */
export function notesBeside(record, layout, timeS, withWater) {
  if (!layout.narrow) return [];
  const notes = outOfScale(record, layout, withWater);
  if (record.header.filmM) notes.push(WIDENED);
  if (flows(record, timeS)) {
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
    pen.font = `700 ${clamp(rod.width * 0.8, 13, 26 * theme.letters)}px ${theme.font}`;
    pen.textAlign = "center";
    const dark = record.header.electrodes[side].material === "graphite";
    pen.fillStyle = theme.colour(dark ? "--fp-on-graphite" : "--fp-ion-ink");
    pen.fillText(cathode ? "−" : "+", rod.x + rod.width / 2, rod.y + rod.width * 0.55);
    pen.font = `600 ${size}px ${theme.font}`;
    pen.fillStyle = theme.colour("--fp-ink");
    const name = record.header.names[cathode ? 0 : 1];
    const outside = side === 0 ? rod.x - 8 : rod.x + rod.width + 8;
    const width = side === 0 ? outside : layout.width - outside;
    // towards the middle where there is no room beside the rod
    const fits = pen.measureText(name).width <= width - 2;
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
  let down = 1.1;
  for (const lines of outOfScale(record, layout, withWater)) {
    for (const line of lines) {
      pen.fillText(line, 14, size * down);
      down += 1.1;
    }
    down += 0.2;
  }
  pen.textAlign = "right";
  if (!record.header.filmM) return;
  WIDENED.forEach((line, k) => pen.fillText(line, layout.width - 14, size * 1.1 * (k + 1)));
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {Glyphs} glyphs @param {number} size @param {boolean} swapped
 */
function pointTheWay(pen, record, layout, theme, glyphs, size, swapped) {
  const mark = plainRadius(layout.width, layout.height);
  const y = layout.height - size * 5.2;
  /** @param {string} formula */
  const highest = (formula) => record.concentration(formula).reduce((most, c) => Math.max(most, c), 0);
  const most = Math.max(...record.header.species.map(({ formula }) => highest(formula)));
  /** The water's own ions are there at any pH. @param {string} formula */
  const isSeen = (formula) => showsPH({ formula }) || highest(formula) > HARDLY * most;
  for (const side of [0, 1]) {
    const away = side === 0 ? 1 : -1;
    const from = side === 0 ? layout.bounds.x - 12 : layout.width - layout.bounds.x + 12;
    const to = side === 0 ? 14 : layout.width - 14;
    const cathode = (side === 0) !== swapped;
    pen.textAlign = side === 0 ? "left" : "right";
    pen.fillStyle = theme.colour("--fp-quiet");
    pen.strokeStyle = theme.colour("--fp-ink");
    const words = say(cathode ? "to {the_cathode}" : "to {the_anode}", record.header.slots);
    const width = Math.abs(from - to); // not over the glass
    // layout alone: what is too wide goes on two lines, whatever its words are
    const broken = pen.measureText(words).width > 1.2 * width ? words.lastIndexOf(" ") : 0;
    if (broken) pen.fillText(words.slice(0, broken), to, y - size * 1.1, width);
    pen.fillText(words.slice(broken).trim(), to, y, width);
    arrow(pen, from, y + size * 1.1, to);
    const travellers = record.header.species
      .filter((each) => Math.sign(each.charge) === (cathode ? 1 : -1) && !each.dissolved && isSeen(each.formula))
      .slice(0, 3);
    travellers.forEach((each, k) => {
      const step = mark * 1.75;
      const x = to + away * (step * 0.5 + k * step);
      glyphs.draw(pen, each.formula, x, y + size * 3, (0.74 * mark) / layout.ionRadius);
    });
  }
}
