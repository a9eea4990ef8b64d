// Bubbles: all of one size, so that their number is the gas that has left the electrode; they grow on it,
// rise, and are gone at the surface, or shrink away before if they dissolve. Where each is follows from the
// run and the time alone.

import { SHOW_S, paceOf } from "./clock.js";
import { roundFigure, scaleKept } from "./scale.js";
import { streamOf } from "./random.js";
import { forScales, sampleAt, timesOfPassing } from "../record.js";
import { clamp } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{side: number, x: number, y: number, size: number, tint: string, strength: number}} Bubble tint and strength of its gas's colour: none, 0 */

const BUBBLE_SEED = 31;
const BUBBLES_PER_S = 7; // at the busier electrode, while the run plays at its usual speed
const BUSIEST = 5; // times as many as without a change, before each stands for more
const SHINING_PX = 4;
const MIN_BUBBLE_CM3 = 0.002;
const GROWTH_S = 0.7;
const RISE_SHARE_S = 0.28; // of the wetted electrode's height in a second
// in an ion's radii
const FULL_SIZE = 0.25;
const CLINGING = 0.75; // of its own radius, from the face to the middle of a bubble on it
const DRIFT_PER_S = 0.24;
const SWAY = 0.09;
const SWAY_RAD_S = 5;

/** @param {RunRecord} record @param {number} side @param {number} timeS @param {"bubblesCm3"|"collectedCm3"} which */
function gasCm3(record, side, timeS, which) {
  const gases = record.header.electrodes[side].products.filter(({ kind }) => kind === "gas");
  return gases.reduce((total, { formula }) => total + sampleAt(record.electrode(side)[which](formula), record, timeS), 0);
}

/** Gases that are seen by their colour, and how strongly (common practice: in a beaker chlorine is pale, bromine's vapour is not). @type {Record<string, number>} */
export const COLOURED = { Cl2: 0.5, Br2: 1 };
const BUBBLE_MIX_S = 2; // of the picture: gas of so long is in one bubble

/**
 * The colour of a bubble: of the gas in it that has one, the paler the more of another is mixed with it.
 * @param {RunRecord} record @param {number} side @param {number} startS @param {number} paceS
 */
function colourOf(record, side, startS, paceS) {
  const found = record.header.electrodes[side].products.find(({ formula, kind }) => kind === "gas" && COLOURED[formula]);
  if (!found) return { tint: "", strength: 0 };
  const gained = (/** @type {Float32Array} */ values) => sampleAt(values, record, startS) - sampleAt(values, record, startS - BUBBLE_MIX_S * paceS);
  const all = releasedCm3(record, side, startS) - releasedCm3(record, side, startS - BUBBLE_MIX_S * paceS);
  const share = all > 0 ? clamp(gained(record.electrode(side).bubblesCm3(found.formula)) / all, 0, 1) : 1;
  return { tint: found.tint, strength: COLOURED[found.formula] * share };
}

/** Gas (cm3) that an electrode has let go in bubbles by a time. @param {RunRecord} record @param {number} side @param {number} timeS */
export const releasedCm3 = (record, side, timeS) => gasCm3(record, side, timeS, "bubblesCm3");

/** The part of those bubbles that reaches the surface. @param {RunRecord} record @param {number} side @param {number} timeS */
function arriving(record, side, timeS) {
  const released = releasedCm3(record, side, timeS);
  return released > 0 ? gasCm3(record, side, timeS, "collectedCm3") / released : 1;
}

/** Gas (cm3) that one drawn bubble stands for. @param {RunRecord} record */
export const gasOfOneBubble = (record) => scaleKept(gasOfOne(record), gasOfOne(forScales(record)), BUSIEST);

/** @param {RunRecord} record */
function gasOfOne(record) {
  const endS = record.timeS[record.timeS.length - 1];
  const most = Math.max(releasedCm3(record, 0, endS), releasedCm3(record, 1, endS));
  // less than this cannot be seen as a bubble, however few there are
  return Math.max(roundFigure(most / (BUBBLES_PER_S * SHOW_S)), MIN_BUBBLE_CM3);
}

/** @param {RunRecord} record @param {Layout} layout */
export function makeBubbles(record, layout) {
  const oneCm3 = gasOfOneBubble(record);
  const paceS = paceOf(record); // of the run, in a second of the picture
  const all = [0, 1].flatMap((side) => {
    const released = Array.from(record.timeS, (timeS) => releasedCm3(record, side, timeS));
    return timesOfPassing(released, record, oneCm3).map((startS, number) => {
      const random = streamOf(BUBBLE_SEED + side, number);
      const bubble = { side, startS, ...colourOf(record, side, startS, paceS), inner: random() < layout.innerShare, depth: random(), sway: random() * 2 * Math.PI };
      // of its way up, where it is gone: beyond the surface, unless it dissolves
      return { ...bubble, reach: random() < arriving(record, side, startS) ? Infinity : random() };
    });
  });

  /** @param {typeof all[0]} bubble @param {number} age in seconds of the picture @returns {Bubble|null} */
  function place({ side, tint, strength, inner, depth, sway, reach }, age) {
    const rod = layout.electrodes[side];
    const r = layout.ionRadius;
    const rising = Math.max(age - GROWTH_S, 0);
    const left = depth - RISE_SHARE_S * rising; // of the way below the surface
    const kept = 1 - (depth > 0 ? (depth - left) / depth / reach : 0);
    if (left < 0 || kept <= 0) return null;
    const right = (side === 0) === inner;
    const full = FULL_SIZE * r;
    const size = full * Math.cbrt(kept) * clamp(0.25 + (0.75 * age) / GROWTH_S, 0.25, 1);
    const top = layout.liquidTop + full;
    const turned = Math.cos(sway) - Math.cos(sway + SWAY_RAD_S * rising);
    return {
      side,
      tint,
      strength,
      x: (right ? rod.x + rod.width + CLINGING * size : rod.x - CLINGING * size) + r * ((right ? 1 : -1) * DRIFT_PER_S * rising + SWAY * turned),
      y: top + left * Math.max(rod.y + rod.height - top, 1),
      size,
    };
  }

  return {
    oneCm3,
    /** How many have come at an electrode by a time. @param {number} side @param {number} timeS */
    numberBy: (side, timeS) => all.filter((bubble) => bubble.side === side && bubble.startS <= timeS).length,
    /** Those that are in the liquid at a time. @param {number} timeS */
    at(timeS) {
      /** @type {Bubble[]} */
      const found = [];
      for (const bubble of all) {
        const bubbleNow = bubble.startS <= timeS && place(bubble, (timeS - bubble.startS) / paceS);
        if (bubbleNow) found.push(bubbleNow);
      }
      return found;
    },
  };
}

/**
 * @param {CanvasRenderingContext2D} pen @param {Bubble[]} bubbles
 * @param {import("../theme.js").Theme} theme
 */
export function drawBubbles(pen, bubbles, theme) {
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  for (const { x, y, size, tint, strength } of bubbles) {
    pen.lineWidth = 1;
    pen.beginPath();
    pen.arc(x, y, size, 0, 2 * Math.PI);
    pen.globalAlpha = 0.85;
    pen.fillStyle = theme.colour("--fp-bubble");
    pen.fill();
    if (strength > 0) {
      pen.globalAlpha = strength;
      pen.fillStyle = theme.colour(tint);
      pen.fill();
    }
    pen.globalAlpha = 1;
    pen.stroke();
    if (size < SHINING_PX) continue;
    pen.globalAlpha = 0.35; // the rim in the shade
    pen.lineWidth = 0.16 * size;
    pen.beginPath();
    pen.ellipse(x, y, 0.74 * size, 0.74 * size, 0, 0.1 * Math.PI, 0.6 * Math.PI);
    pen.stroke();
    pen.globalAlpha = 1;
  }
}
