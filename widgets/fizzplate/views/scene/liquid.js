// The liquid: its ground, its own colour by Beer and Lambert, what clouds it, an indicator, its surface.

import { drawHaze } from "./haze.js";
import { indicatorShade } from "./indicator.js";
import { fieldAt, placeInTime } from "./record.js";
import { modelPlace } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */

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

/**
 * The solution's own colour by place, or nothing where it has none.
 * @param {RunRecord} record @param {import("./record.js").Instant} when
 */
function ownShade(record, when) {
  const colours = record.header.liquidColours.map(({ formula, absorbance }) => ({
    values: record.concentration(formula),
    absorbance,
  }));
  if (!colours.length) return null;
  const gapM = record.positionM[record.positionM.length - 1];
  return (/** @type {number} */ along) => {
    const place = modelPlace(along, gapM, record.header.filmM);
    const light = letThrough(colours.map(({ values, absorbance }) => ({
      absorbance,
      concentration: Math.max(0, fieldAt(values, record, when, place)),
    })));
    const rgb = light.map((part) => Math.round(255 * part)).join(",");
    return `rgba(${rgb},${(TINT * (1 - Math.min(...light))).toFixed(3)})`;
  };
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("./theme.js").Theme} theme @param {number} timeS
 * @param {{indicator: string, specks: import("./haze.js").Speck[]}} within
 */
export function drawLiquid(pen, record, layout, theme, timeS, { indicator, specks }) {
  pen.save();
  layout.trace(pen);
  pen.clip();
  const { x, y, width, height } = layout.bounds;
  pen.fillStyle = theme.colour("--fp-liquid");
  pen.fillRect(x, y, width, height);
  const when = placeInTime(record, timeS);
  const own = ownShade(record, when);
  if (own) layout.fill(pen, own);
  const scale = record.header.indicators[indicator];
  if (scale) layout.fill(pen, indicatorShade(record, scale, when));
  drawHaze(pen, record, layout, theme, when, specks);
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.globalAlpha = 0.35;
  pen.lineWidth = 2;
  pen.beginPath();
  pen.moveTo(x, y);
  pen.lineTo(x + width, y);
  pen.stroke();
  pen.restore();
}
