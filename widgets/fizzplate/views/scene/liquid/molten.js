// The metal of a melt: liquid, it sinks and runs together at the bottom, or floats at the surface beside its electrode. How
// much there is follows from the charge that has passed; how large the pool and its drops are is only drawn.

import { seededRandom } from "../motion/random.js";
import { sampleAt } from "../record.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

const DROP_SEED = 43;
const DROPS = 4; // on their way at a time
const WAY_SHARE = 0.06; // of the run, that a drop takes
const DROP = 0.3; // of an ion's radius
// of the pool at the end, in an ion's radii
const POOL = { wide: 3.4, high: 0.8 };
const LEAST_SHARE = 0.002; // of the charge, before there is any

/** How much of the pool there is, 0 to 1, by volume. @param {RunRecord} record @param {number} timeS */
export function poolShare(record, timeS) {
  const all = record.chargeC[record.chargeC.length - 1];
  return all > 0 ? sampleAt(record.chargeC, record, timeS) / all : 0;
}

/** @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout @param {import("../theme.js").Theme} theme @param {number} timeS */
export function drawMolten(pen, record, layout, theme, timeS) {
  record.header.electrodes.forEach(({ pool, layerTint }, side) => {
    const share = poolShare(record, timeS);
    if ((pool !== "sinks" && pool !== "floats") || share < LEAST_SHARE) return;
    const rod = layout.electrodes[side];
    const x = rod.x + rod.width / 2;
    const r = layout.ionRadius;
    const { bounds, liquidTop, stroke } = layout;
    const [from, to] = pool === "sinks" ? [rod.y + rod.height, bounds.y + bounds.height - 2 * stroke] : [liquidTop + 2.4 * r, liquidTop];
    const size = Math.cbrt(share);
    pen.save();
    layout.trace(pen);
    pen.clip();
    pen.fillStyle = theme.colour(layerTint);
    pen.strokeStyle = theme.colour("--fp-ion-ink");
    pen.lineWidth = 1.2 * stroke;
    const way = WAY_SHARE * record.timeS[record.timeS.length - 1];
    if (timeS < record.timeS[record.timeS.length - 1]) dropsAt(timeS / way).forEach(({ part, aside }) => {
      pen.beginPath();
      pen.arc(x + aside * rod.width * 0.6, from + (to - from) * part * part, DROP * r, 0, 2 * Math.PI);
      pen.fill();
      pen.stroke();
    });
    pen.beginPath();
    pen.ellipse(x, to, Math.max(POOL.wide * r * size, DROP * r), Math.max(POOL.high * r * size, DROP * r), 0, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
    pen.restore();
  });
}

/** Drops on their way: how far each is, and to which side. @param {number} ways that the time is long */
function dropsAt(ways) {
  return Array.from({ length: DROPS }, (_, k) => {
    const run = ways + k / DROPS;
    const random = seededRandom(DROP_SEED + 17 * k + Math.floor(run));
    return { part: run - Math.floor(run), aside: random() < 0.5 ? -1 : 1 };
  });
}
