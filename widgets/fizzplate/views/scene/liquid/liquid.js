// The liquid: its ground, its own colour by Beer and Lambert, what clouds it, an indicator, its surface.

import { drawHaze, drawSettled } from "./haze.js";
import { indicatorShade } from "./indicator.js";
import { fieldAt, placeInTime, sampleAt } from "../record.js";
import { clamp, modelPlace } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const HEAVY = ["I2", "I3^-", "Br2", "Br3^-"];
// a choice, as the model has no depth: how steeply the amount grows with depth, at the face and far from it
const STREAM_POWER = 0.35;
const POOL_POWER = 3;
const POOL_AWAY = 0.3; // of the drawn gap
const TINT = 0.55; // opacity of a liquid that lets no light of some band through

/**
 * Parts of red, green and blue light that a mixture lets through, by Beer and Lambert.
 * @param {{absorbance: number[], concentration: number}[]} colours
 */
export function letThrough(colours) {
  return [0, 1, 2].map(
    (band) => 10 ** -colours.reduce((sum, c) => sum + c.absorbance[band] * c.concentration, 0),
  );
}

/** Whether a run makes a halogen whose solution is denser than the rest. @param {RunRecord} record */
export const sinks = (record) =>
  record.header.liquidColours.some(({ formula }) => HEAVY.includes(formula)) &&
  record.header.electrodes.some(({ products }) => products.some(({ kind }) => kind === "dissolved"));

/**
 * How many times as much of what sinks there is at a depth as on the mean over the depth: more below, the
 * more so farther from where it is made. Over the whole depth the mean is 1: the model's amount is kept.
 * @param {number} depth 0 to 1 @param {number} away from the face, share of the drawn gap
 */
export function sunk(depth, away) {
  const power = STREAM_POWER + (POOL_POWER - STREAM_POWER) * clamp(away / POOL_AWAY, 0, 1);
  return (power + 1) * depth ** power;
}

/**
 * The solution's own colour by place, or nothing where it has none.
 * @param {RunRecord} record @param {import("../record.js").Instant} when @param {number} timeS
 * @returns {import("../vessels/vessel.js").ColourAt|null}
 */
export function ownShade(record, when, timeS) {
  const colours = record.header.liquidColours.map(({ formula, absorbance }) => ({
    values: record.concentration(formula),
    absorbance,
    heavy: HEAVY.includes(formula),
  }));
  if (!colours.length) return null;
  const gapM = record.positionM[record.positionM.length - 1];
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  return (along, depth) => {
    const place = modelPlace(along, gapM, record.header.filmM);
    const share = depth === undefined ? 1 : sunk(depth, swapped ? along : 1 - along);
    const light = letThrough(colours.map(({ values, absorbance, heavy }) => ({
      absorbance,
      concentration: (heavy ? share : 1) * Math.max(0, fieldAt(values, record, when, place)),
    })));
    const rgb = light.map((part) => Math.round(255 * part)).join(",");
    return `rgba(${rgb},${(TINT * (1 - Math.min(...light))).toFixed(3)})`;
  };
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {number} timeS
 * @param {{indicator: string, flakes: import("./haze.js").Flake[]}} within
 */
export function drawLiquid(pen, record, layout, theme, timeS, { indicator, flakes }) {
  pen.save();
  layout.trace(pen);
  pen.clip();
  const { x, y, width, height } = layout.bounds;
  pen.fillStyle = theme.colour(record.header.melt ? "--fp-melt" : "--fp-liquid");
  pen.fillRect(x, y, width, height);
  const when = placeInTime(record, timeS);
  const own = ownShade(record, when, timeS);
  if (own) layout.fill(pen, own, sinks(record));
  const scale = record.header.indicators[indicator];
  if (scale) layout.fill(pen, indicatorShade(record, scale, when));
  drawHaze(pen, record, layout, theme, when, flakes);
  drawSettled(pen, record, layout, theme, timeS);
  pen.restore();
  drawSurface(pen, layout, theme);
}

const MENISCUS = { high: 5, wide: 9 }; // how far the surface climbs glass and rods, in thicknesses of a plain line

/** The liquid's surface, which climbs a little at glass and rods. @param {CanvasRenderingContext2D} pen @param {Layout} layout @param {import("../theme.js").Theme} theme */
function drawSurface(pen, { surfaces, electrodes, liquidTop, stroke }, theme) {
  const [high, wide] = [MENISCUS.high * stroke, MENISCUS.wide * stroke];
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.globalAlpha = 0.45;
  pen.lineWidth = 1.3 * stroke;
  pen.beginPath();
  for (const [start, end] of surfaces) {
    const within = electrodes.filter(({ x }) => x > start && x < end);
    const edges = [start, ...within.flatMap(({ x, width }) => [x, x + width]), end];
    for (let k = 0; k < edges.length; k += 2) {
      const [from, to] = [edges[k], edges[k + 1]];
      pen.moveTo(from, liquidTop - high);
      pen.quadraticCurveTo(from + 0.1 * wide, liquidTop, from + wide, liquidTop);
      pen.lineTo(to - wide, liquidTop);
      pen.quadraticCurveTo(to - 0.1 * wide, liquidTop, to, liquidTop - high);
    }
  }
  pen.stroke();
  pen.globalAlpha = 1;
}
