// A U-tube from the side, a rod in each limb.

import { clamp, sizes } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

const BEND_STEPS = 24; // of the liquid's colour
const LIMB_STEPS = 16;

/**
 * @typedef {{middleX: number, middleY: number, outer: number, bore: number, centre: number, limb: number, whole: number,
 *   liquidTop: number}} Tube outer: radius of the bend's outside; centre: of its middle line; limb and whole: lengths of
 *   liquid along that line; middleX, middleY: of the bend
 */

/** The glass, from a height down and round to the same height. @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {number} top @param {boolean} isOpen */
function traceTube(pen, { middleX, middleY, outer, bore }, top, isOpen) {
  pen.beginPath();
  pen.moveTo(middleX - outer, top);
  pen.lineTo(middleX - outer, middleY);
  pen.arc(middleX, middleY, outer, Math.PI, 0, true);
  pen.lineTo(middleX + outer, top);
  if (isOpen) pen.moveTo(middleX + outer - bore, top);
  else pen.lineTo(middleX + outer - bore, top);
  pen.lineTo(middleX + outer - bore, middleY);
  pen.arc(middleX, middleY, outer - bore, 0, Math.PI, false);
  pen.lineTo(middleX - outer + bore, top);
}

/** @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {(along: number) => string} colourAt */
function fillBend(pen, { middleX, middleY, outer, centre, limb, whole }, colourAt) {
  const colours = pen.createConicGradient(0, middleX, middleY); // from the right limb clockwise
  for (let step = 0; step <= BEND_STEPS; step += 1) {
    const angle = (Math.PI * step) / BEND_STEPS;
    const along = (limb + (Math.PI - angle) * centre) / whole;
    colours.addColorStop(angle / (2 * Math.PI), colourAt(along));
  }
  pen.fillStyle = colours;
  pen.fillRect(middleX - outer, middleY, 2 * outer, outer);
}

/** @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {number} side -1 or 1 @param {(along: number) => string} colourAt */
function fillLimb(pen, { middleX, middleY, outer, bore, limb, whole, liquidTop }, side, colourAt) {
  const colours = pen.createLinearGradient(0, liquidTop, 0, middleY);
  for (let step = 0; step <= LIMB_STEPS; step += 1) {
    const share = step / LIMB_STEPS;
    const along = (share * limb) / whole;
    colours.addColorStop(share, colourAt(side < 0 ? along : 1 - along));
  }
  pen.fillStyle = colours;
  const left = side < 0 ? middleX - outer : middleX + outer - bore;
  pen.fillRect(left, liquidTop, bore, middleY - liquidTop);
}

/** The share of the way through the liquid, from the left surface to the right. @param {Tube} tube @param {number} x @param {number} y */
function alongTube({ middleX, middleY, centre, limb, whole, liquidTop }, x, y) {
  const dx = x - middleX;
  if (y <= middleY) {
    const down = (y - liquidTop) / whole;
    return dx < 0 ? down : 1 - down;
  }
  const angle = Math.atan2(y - middleY, -dx); // 0 at the left limb, pi at the right
  return (limb + clamp(angle, 0, Math.PI) * centre) / whole;
}

/** Which way leads to the right surface. @param {Tube} tube @param {number} x @param {number} y */
function directionInTube({ middleX, middleY }, x, y) {
  const dx = x - middleX;
  if (y <= middleY) return { x: 0, y: dx < 0 ? 1 : -1 };
  const away = Math.hypot(dx, y - middleY) || 1;
  return { x: (y - middleY) / away, y: -dx / away };
}

/** Whether a place is in the liquid, so far from the glass and from its surface. @param {Tube} tube @param {number} x @param {number} y @param {number} margin */
function isInTube({ middleX, middleY, outer, bore, liquidTop }, x, y, margin) {
  if (y < liquidTop + margin) return false;
  const dx = x - middleX;
  const away = y <= middleY ? Math.abs(dx) : Math.hypot(dx, y - middleY);
  return away <= outer - margin && away >= outer - bore + margin;
}

/** @param {number} width @param {number} circuit height that the circuit takes @param {number} bottom @param {boolean} narrow @returns {Tube} */
function measureTube(width, circuit, bottom, narrow) {
  const outer = Math.min(width * (narrow ? 0.36 : 0.3), (bottom - circuit) * 0.52);
  const bore = outer * 0.58;
  const liquidTop = circuit + (bottom - circuit) * 0.16;
  const middleY = bottom - outer;
  const centre = outer - bore / 2;
  const limb = Math.max(middleY - liquidTop, 1);
  return { middleX: width / 2, middleY, outer, bore, centre, limb, whole: 2 * limb + Math.PI * centre, liquidTop };
}

/** @param {number} width @param {number} height @param {number} [scale] of the ions @returns {Layout} */
export function layOutUTube(width, height, scale = 1) {
  const { narrow, ionRadius, circuit } = sizes(width, height, scale);
  const bottom = height - (narrow ? 10 : 18);
  const tube = measureTube(width, circuit, bottom, narrow);
  const { middleX, middleY, outer, bore, centre, whole, liquidTop } = tube;
  // thin enough that the ions beside a rod have room: its whole surface works
  const rodWidth = clamp(bore * 0.18, 9, 52);
  const radius = scale * Math.min(ionRadius / scale, bore / 9);
  const rodBottom = liquidTop + (middleY - liquidTop) * 0.8;
  const electrodes = [-1, 1].map((side) => ({
    x: middleX + side * centre - rodWidth / 2,
    y: circuit,
    width: rodWidth,
    height: rodBottom - circuit,
  }));
  const glassTop = liquidTop - (liquidTop - circuit) * 0.5;
  /** @param {number} x @param {number} y @param {number} r */
  const isAtRod = (x, y, r) => y < rodBottom + r && electrodes.some((rod) => x > rod.x - r && x < rod.x + rod.width + r);
  return {
    width,
    height,
    narrow,
    ionRadius: radius,
    liquidTop,
    electrodes,
    gapPx: whole,
    innerShare: 0.5,
    level: false,
    deep: false,
    caption: "",
    liquidArea: whole * bore,
    bounds: { x: middleX - outer, y: liquidTop, width: 2 * outer, height: bottom - liquidTop },
    trace(pen) {
      traceTube(pen, tube, liquidTop, false);
      pen.closePath();
    },
    outline: (pen) => traceTube(pen, tube, glassTop, true),
    inside: (x, y) => isInTube(tube, x, y, radius + 1) && !isAtRod(x, y, radius + 1),
    along: (x, y) => alongTube(tube, x, y),
    fill(pen, colourAt) {
      fillBend(pen, tube, colourAt);
      for (const side of [-1, 1]) fillLimb(pen, tube, side, colourAt);
    },
    direction: (x, y) => directionInTube(tube, x, y),
  };
}
