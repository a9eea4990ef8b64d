// The crowd as it is drawn: each ion with its formula, an arrow before those that come up to their electrode, and the way
// back of one that is not discharged there.

import { MIN_CURRENT_A } from "../../kit/format.js";
import { arrowAlong, arrowHead } from "../arrows.js";
import { paleOf } from "../glyphs.js";
import { fieldAt, placeInTime, sampleAt } from "../record.js";
import { fastestDriftM_S, plainness, showsPH } from "./scale.js";
import { WIDE } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../record.js").Instant} Instant */
/** @typedef {import("../stage.js").Stage} Stage */
/** @typedef {import("../theme.js").Theme} Theme */
/** @typedef {import("./ions.js").Ion} Ion */

const FADED_OPACITY = 0.22; // opacity of ions that are not spoken of
const ARROW_RADII = 0.95; // length of the fastest ion's
const LEAST_ARROW = 0.2; // of that: of less only the head would be left
const COMING = 0.38; // of the way between the electrodes: from here an ion comes up to its electrode
const GHOST = 0.32; // opacity of an ion where it turned
const FULLY = 0.75; // plainness from which water's ions carry arrows too

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Stage} stage @param {Theme} theme
 * @param {{timeS: number, surface: import("../stage.js").Surface, meant: string[]}} view meant: species that stand out; none: all
 */
export function drawIons(pen, record, stage, theme, { timeS, surface, meant }) {
  const { crowd, glyphs } = stage;
  const when = placeInTime(record, timeS);
  const flows = sampleAt(record.currentA, record, timeS) >= MIN_CURRENT_A;
  const arrows = flows ? arrowsOf(record, stage, when) : null;
  for (const ion of crowd.ions) {
    const { x, y } = crowd.placeOf(ion);
    const spoken = !meant.length || meant.includes(ion.formula) ? 1 : FADED_OPACITY;
    const plain = showsPH(ion) ? plainness(fieldAt(record.pH, record, when, crowd.distribution.placeOfBin(ion.bin)), ion.formula) : 1;
    const opacity = crowd.opacity(ion) * spoken;
    if (surface === "explained" && ion.call?.turns && ion.call.inS <= 0) {
      pen.globalAlpha = GHOST * opacity;
      glyphs.draw(pen, ion.formula, ion.call.x, ion.call.y);
      pen.globalAlpha = opacity;
      drawWayBack(pen, stage.layout, theme, ion.call, x, y);
    }
    pen.globalAlpha = opacity;
    if (plain < 1) glyphs.draw(pen, paleOf(ion.formula), x, y);
    pen.globalAlpha = opacity * plain;
    if (plain > 0) glyphs.draw(pen, ion.formula, x, y);
    pen.globalAlpha = opacity;
    if (plain >= FULLY) arrows?.(pen, ion, x, y, theme);
    pen.globalAlpha = 1;
  }
}

/** How to draw the arrow of an ion at an instant. @param {RunRecord} record @param {Stage} stage @param {Instant} when */
function arrowsOf(record, { layout, crowd }, when) {
  const fastest = fastestDriftM_S(record);
  const longest = ARROW_RADII * layout.ionRadius;
  const places = crowd.ions.map((ion) => ({ ion, ...crowd.placeOf(ion) }));
  return (/** @type {CanvasRenderingContext2D} */ pen, /** @type {Ion} */ ion, /** @type {number} */ x, /** @type {number} */ y, /** @type {Theme} */ theme) => {
    if (ion.call && ion.call.inS <= 0) return;
    const real = fieldAt(record.drift(ion.formula), record, when, crowd.distribution.placeOfBin(ion.bin));
    const along = layout.along(x, y);
    if ((real < 0 ? along : 1 - along) > COMING || !real) return;
    const length = longest * Math.min(Math.abs(real) / fastest, 1.3);
    if (length < LEAST_ARROW * longest) return;
    const field = layout.direction(x, y);
    const way = { x: Math.sign(real) * field.x, y: Math.sign(real) * field.y };
    const from = (Math.hypot(way.x * ion.wide, way.y) + 0.1) * layout.ionRadius;
    // never through glass or a rod, where the ion itself could not go, nor onto another ion
    if (!layout.inside(x + (from + length - layout.ionRadius) * way.x, y + (from + length - layout.ionRadius) * way.y)) return;
    const [tipX, tipY] = [x + (from + length) * way.x, y + (from + length) * way.y];
    if (places.some((each) => each.ion !== ion && Math.hypot(each.x - tipX, each.y - tipY) < 1.15 * layout.ionRadius)) return;
    pen.strokeStyle = pen.fillStyle = theme.colour("--fp-ink");
    arrowAlong(pen, x + from * way.x, y + from * way.y, way, length, layout.stroke * 1.6);
  };
}

/**
 * Round from where an ion turned to where it is.
 * @param {CanvasRenderingContext2D} pen @param {import("../vessels/vessel.js").Layout} layout @param {Theme} theme
 * @param {import("./events.js").Called} call @param {number} x @param {number} y
 */
function drawWayBack(pen, layout, theme, call, x, y) {
  const r = layout.ionRadius;
  const away = Math.hypot(x - call.x, y - call.y);
  if (away < 1.4 * r) return;
  // out of the electrode and round, or down beside the rod
  const isOutwards = Math.abs(call.awayX) > Math.abs(call.awayY);
  const end = isOutwards ? { x: Math.sign(call.awayX), y: 0 } : { x: 0, y: Math.sign(call.awayY) };
  const from = { x: call.x, y: call.y + Math.sign(call.awayY) * 1.05 * r };
  const to = { x: x - 1.15 * WIDE * r * end.x, y: y - 1.1 * r * end.y };
  const bend = isOutwards ? { x: from.x, y: to.y } : { x: to.x, y: from.y };
  if (!isOutwards && (to.y - from.y) * end.y < 0.4 * r) return; // no room yet
  pen.strokeStyle = pen.fillStyle = theme.colour("--fp-ink");
  pen.lineWidth = layout.stroke * 1.6;
  pen.beginPath();
  pen.moveTo(from.x, from.y);
  pen.quadraticCurveTo(bend.x, bend.y, to.x, to.y);
  pen.stroke();
  arrowHead(pen, to.x + 0.1 * r * end.x, to.y + 0.1 * r * end.y, end, layout.stroke * 1.6);
}
