// Bubbles: all of one size, so that their number is the gas that has left; they grow on the
// electrode, rise, and are gone at the surface.

import { SHOW_S } from "./clock.js";
import { roundFigure } from "./ions.js";
import { sampleAt } from "./record.js";
import { clamp } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */
/** @typedef {{side: number, x: number, y: number, age: number, sway: number, size: number}} Bubble */

const BUBBLES_A_SECOND = 7; // at the busier electrode, while the run plays at its usual speed
const SMALLEST_CM3 = 0.002;
const GROWS_S = 0.7;
const RISES_PX_S = 70;

/** Gas (cm3) released at an electrode by a time. @param {RunRecord} record @param {number} side @param {number} timeS */
export function releasedCm3(record, side, timeS) {
  let total = 0;
  for (const { formula, kind } of record.header.electrodes[side].products) {
    if (kind === "gas") total += sampleAt(record.electrode(side).collectedCm3(formula), record, timeS);
  }
  return total;
}

/** Gas (cm3) that one drawn bubble stands for. @param {RunRecord} record */
export function gasOfOneBubble(record) {
  const endS = record.timeS[record.timeS.length - 1];
  const most = Math.max(releasedCm3(record, 0, endS), releasedCm3(record, 1, endS));
  // less than this cannot be seen as a bubble, however few there are
  return Math.max(roundFigure(most / (BUBBLES_A_SECOND * SHOW_S)), SMALLEST_CM3);
}

/** @param {RunRecord} record @param {Layout} layout @param {() => number} random */
export function makeBubbles(record, layout, random) {
  const oneCm3 = gasOfOneBubble(record);
  /** @type {Bubble[]} */
  const live = [];
  const drawn = [0, 0];

  /** @param {number} side @param {number} timeS */
  const numberBy = (side, timeS) => (oneCm3 ? Math.floor(releasedCm3(record, side, timeS) / oneCm3) : 0);

  return {
    live,
    drawn,
    oneCm3,
    numberBy,
    /** @param {number} fromS @param {number} toS */
    start(fromS, toS) {
      for (const side of [0, 1]) {
        const rod = layout.electrodes[side];
        const due = numberBy(side, toS) - numberBy(side, fromS);
        drawn[side] += Math.max(due, 0);
        for (let each = 0; each < clamp(due, 0, 12); each += 1) {
          const low = layout.liquidTop + layout.ionRadius;
          const inner = random() < layout.innerShare;
          live.push({
            side,
            x: (side === 0) === inner ? rod.x + rod.width + 3 : rod.x - 3,
            y: low + random() * Math.max(rod.y + rod.height - low, 1),
            age: 0,
            sway: random() * 2 * Math.PI,
            size: layout.ionRadius * 0.34,
          });
        }
      }
    },
    /** @param {number} passedS */
    move(passedS) {
      for (let k = live.length - 1; k >= 0; k -= 1) {
        const bubble = live[k];
        bubble.age += passedS;
        if (bubble.age < GROWS_S) continue;
        const away = bubble.x > layout.electrodes[bubble.side].x ? 1 : -1;
        bubble.y -= RISES_PX_S * passedS;
        bubble.x += (away * 5 + Math.sin(bubble.age * 5 + bubble.sway) * 9) * passedS;
        if (bubble.y < layout.liquidTop + bubble.size) live.splice(k, 1);
      }
    },
    clear() {
      live.length = 0;
    },
  };
}

/**
 * @param {CanvasRenderingContext2D} pen @param {Bubble[]} bubbles
 * @param {import("./theme.js").Theme} theme
 */
export function drawBubbles(pen, bubbles, theme) {
  pen.fillStyle = theme.colour("--fp-bubble");
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.lineWidth = 1;
  for (const bubble of bubbles) {
    const size = bubble.size * clamp(0.25 + (0.75 * bubble.age) / GROWS_S, 0.25, 1);
    pen.beginPath();
    pen.arc(bubble.x, bubble.y, size, 0, 2 * Math.PI);
    pen.globalAlpha = 0.85;
    pen.fill();
    pen.globalAlpha = 1;
    pen.stroke();
  }
}
