// A U-tube from the side, a rod in each limb: drawn wide, so that ions find room beside a rod and along the bottom.

import { AS_FILLED, clamp, isLow, sizes } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

const BEND_STEPS = 12; // of the liquid's colour, in each bend
const LIMB_STEPS = 16;
const BORE_RADII = { usual: 4.9, low: 4.5 }; // of an ion, besides the rod: one fits on either side of it
const BORE_MOST = { usual: 0.5, low: 0.715 }; // of the room below the circuit
const INNER = 0.22; // of the bore: radius of a bend's inside

/**
 * @typedef {{left: number, right: number, turnY: number, bottom: number, outer: number, bore: number, centre: number,
 *   limb: number, bend: number, base: number, whole: number, liquidTop: number}} Tube
 * left, right: of the glass; turnY: where the limbs end and the bends begin; outer, centre: radii of a bend's outside and of its middle
 * line; limb, bend, base and whole: lengths of liquid along that line
 */

/** The glass, from a height down and round to the same height. @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {number} top @param {boolean} isOpen */
function traceTube(pen, { left, right, turnY, outer, bore }, top, isOpen) {
  pen.beginPath();
  pen.moveTo(left, top);
  pen.lineTo(left, turnY);
  pen.arc(left + outer, turnY, outer, Math.PI, Math.PI / 2, true);
  pen.arc(right - outer, turnY, outer, Math.PI / 2, 0, true);
  pen.lineTo(right, top);
  if (isOpen) pen.moveTo(right - bore, top);
  else pen.lineTo(right - bore, top);
  pen.lineTo(right - bore, turnY);
  pen.arc(right - outer, turnY, outer - bore, 0, Math.PI / 2, false);
  pen.arc(left + outer, turnY, outer - bore, Math.PI / 2, Math.PI, false);
  pen.lineTo(left + bore, top);
}

/** The part from a bend's beginning to its end, in the colours of its places. @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {number} side -1 or 1 @param {(along: number) => string} colourAt */
function fillBend(pen, { left, right, turnY, outer, limb, bend, whole }, side, colourAt) {
  const middleX = side < 0 ? left + outer : right - outer;
  const colours = pen.createConicGradient(0, middleX, turnY); // from the right clockwise
  for (let step = 0; step <= BEND_STEPS; step += 1) {
    const share = step / BEND_STEPS;
    const angle = side < 0 ? Math.PI - (share * Math.PI) / 2 : (share * Math.PI) / 2;
    const along = (limb + share * bend) / whole;
    colours.addColorStop(angle / (2 * Math.PI), colourAt(side < 0 ? along : 1 - along));
  }
  pen.fillStyle = colours;
  pen.fillRect(side < 0 ? middleX - outer : middleX, turnY, outer, outer);
}

/** @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {number} side -1 or 1 @param {(along: number) => string} colourAt */
function fillLimb(pen, { left, right, turnY, bore, limb, whole, liquidTop }, side, colourAt) {
  const colours = pen.createLinearGradient(0, liquidTop, 0, turnY);
  for (let step = 0; step <= LIMB_STEPS; step += 1) {
    const share = step / LIMB_STEPS;
    const along = (share * limb) / whole;
    colours.addColorStop(share, colourAt(side < 0 ? along : 1 - along));
  }
  pen.fillStyle = colours;
  pen.fillRect(side < 0 ? left : right - bore, liquidTop, bore, turnY - liquidTop);
}

/** @param {CanvasRenderingContext2D} pen @param {Tube} tube @param {(along: number) => string} colourAt */
function fillBase(pen, { left, right, turnY, outer, limb, bend, base, whole }, colourAt) {
  const [from, to] = [left + outer, right - outer];
  if (to <= from) return;
  const colours = pen.createLinearGradient(from, 0, to, 0);
  for (let step = 0; step <= LIMB_STEPS; step += 1) {
    const share = step / LIMB_STEPS;
    colours.addColorStop(share, colourAt((limb + bend + share * base) / whole));
  }
  pen.fillStyle = colours;
  pen.fillRect(from, turnY, to - from, outer);
}

/** The share of the way through the liquid, from the left surface to the right. @param {Tube} tube @param {number} x @param {number} y */
function alongTube({ left, right, turnY, outer, limb, bend, whole, liquidTop }, x, y) {
  const isLeft = x < (left + right) / 2;
  /** @param {number} length from the nearer surface */
  const share = (length) => (isLeft ? length / whole : 1 - length / whole);
  if (y <= turnY) return share(y - liquidTop);
  const beyond = isLeft ? left + outer - x : x - right + outer; // towards the limb
  if (beyond <= 0) return (limb + bend + (x - left - outer)) / whole;
  const turned = clamp(Math.atan2(y - turnY, beyond), 0, Math.PI / 2);
  return share(limb + (turned / (Math.PI / 2)) * bend);
}

/** Which way leads to the right surface. @param {Tube} tube @param {number} x @param {number} y */
function directionInTube({ left, right, turnY, outer }, x, y) {
  const isLeft = x < (left + right) / 2;
  if (y <= turnY) return { x: 0, y: isLeft ? 1 : -1 };
  const middleX = isLeft ? left + outer : right - outer;
  if ((x - middleX) * (isLeft ? -1 : 1) <= 0) return { x: 1, y: 0 };
  const away = Math.hypot(x - middleX, y - turnY) || 1;
  return { x: (y - turnY) / away, y: (middleX - x) / away };
}

/** Whether a place is in the liquid, so far from the glass and from its surface. @param {Tube} tube @param {number} x @param {number} y @param {number} margin */
function isInTube({ left, right, turnY, bottom, outer, bore, liquidTop }, x, y, margin) {
  if (y < liquidTop + margin) return false;
  const middle = (left + right) / 2;
  const dx = Math.abs(x - middle);
  const half = middle - left;
  if (y <= turnY) return dx <= half - margin && dx >= half - bore + margin;
  const beyond = dx - (half - outer);
  if (beyond <= 0) return y <= bottom - margin && y >= bottom - bore + margin;
  const away = Math.hypot(beyond, y - turnY);
  return away <= outer - margin && away >= outer - bore + margin;
}

/**
 * @param {number} width @param {number} circuit height that the circuit takes @param {number} bottom @param {number} bore
 * @param {number} margin @returns {Tube}
 */
function measureTube(width, circuit, bottom, bore, margin) {
  const outer = Math.round(bore * (1 + INNER));
  const left = Math.round(margin);
  const right = width - left;
  const liquidTop = circuit + (bottom - circuit) * 0.16;
  const turnY = Math.round(bottom - outer); // no seam between what is filled one after the other
  const centre = outer - bore / 2;
  const limb = Math.max(turnY - liquidTop, 1);
  const bend = (Math.PI / 2) * centre;
  const base = Math.max(right - left - 2 * outer, 0);
  return { left, right, turnY, bottom, outer, bore, centre, limb, bend, base, whole: 2 * limb + 2 * bend + base, liquidTop };
}

/** @param {number} width @param {number} height @param {number} [scale] of the ions @param {import("./vessel.js").Filling} [_filling] nothing is poured into it @param {number} [least] radius of an ion (px) @returns {Layout} */
export function layOutUTube(width, height, scale = 1, _filling = AS_FILLED, least = 0) {
  const { narrow, ionRadius, circuit, stroke } = sizes(width, height, scale, least);
  const bottom = height - (narrow ? 24 : Math.max(26, height * 0.055));
  const margin = narrow ? 22 : Math.max(16, width * 0.09);
  const size = narrow ? "usual" : least || isLow(height) ? "low" : "usual";
  const rodWidth = clamp(width * (size === "low" ? 0.018 : 0.026), 9, 110);
  const radii = BORE_RADII[size];
  // at most so wide that the limbs stay apart and keep some length
  const bore = Math.min((radii * ionRadius) / scale + rodWidth, (width - 2 * margin) * 0.4, (bottom - circuit) * (narrow ? 0.64 : BORE_MOST[size]));
  const radius = scale * Math.min(ionRadius / scale, (bore - rodWidth) / radii);
  const tube = measureTube(width, circuit, bottom, bore, margin);
  const { left, right, turnY, whole, liquidTop } = tube;
  const rodBottom = liquidTop + Math.max((turnY - liquidTop) * 0.85, 3 * radius);
  const electrodes = [left + bore / 2, right - bore / 2].map((x) => ({
    x: x - rodWidth / 2,
    y: circuit,
    width: rodWidth,
    height: rodBottom - circuit,
  }));
  const glassTop = liquidTop - (liquidTop - circuit) * 0.5;
  /** @param {number} x @param {number} y @param {number} r */
  const isAtRod = (x, y, r) => y < rodBottom + r && electrodes.some((rod) => x > rod.x - r && x < rod.x + rod.width + r);
  /** @param {number} x @param {number} y */
  const inside = (x, y) => isInTube(tube, x, y, 1.05 * radius + 2 * stroke) && !isAtRod(x, y, radius + 1);
  return {
    width,
    height,
    narrow,
    stroke,
    ionRadius: radius,
    liquidTop,
    electrodes,
    gapPx: whole,
    innerShare: 0.5,
    level: false,
    deep: false,
    caption: "",
    liquidArea: (whole - (least ? 2 * (rodBottom - liquidTop) : 0)) * bore, // in one of two pictures all find room below the rods
    bounds: { x: left, y: liquidTop, width: right - left, height: bottom - liquidTop },
    surfaces: [[left + 3 * stroke, left + bore - 3 * stroke], [right - bore + 3 * stroke, right - 3 * stroke]],
    trace(pen) {
      traceTube(pen, tube, liquidTop, false);
      pen.closePath();
    },
    outline: (pen) => traceTube(pen, tube, glassTop, true),
    inside,
    free: (x, y) => y > rodBottom + 0.4 * radius && inside(x, y), // beside the rods there is room only for what happens there
    along: (x, y) => clamp(alongTube(tube, x, y), 0, 1),
    fill(pen, colourAt) {
      for (const side of [-1, 1]) fillBend(pen, tube, side, colourAt);
      fillBase(pen, tube, colourAt);
      for (const side of [-1, 1]) fillLimb(pen, tube, side, colourAt);
    },
    direction: (x, y) => directionInTube(tube, x, y),
  };
}
