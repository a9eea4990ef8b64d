// A beaker from the side, with two rods.

import { aroundRods, AS_FILLED, clamp, depthAtStart, fillAcross, fitting, isLow, sizes, uprightRods, WIDE } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

/** @typedef {{left: number, right: number, bottom: number, corner: number}} Glass */

const INSET_PX = 2; // of the liquid from the glass

/** @param {CanvasRenderingContext2D} pen @param {Glass} glass @param {number} top */
function traceLiquid(pen, { left, right, bottom, corner }, top) {
  pen.beginPath();
  pen.moveTo(left + INSET_PX, top);
  pen.lineTo(left + INSET_PX, bottom - corner);
  pen.quadraticCurveTo(left + INSET_PX, bottom - INSET_PX, left + corner, bottom - INSET_PX);
  pen.lineTo(right - corner, bottom - INSET_PX);
  pen.quadraticCurveTo(right - INSET_PX, bottom - INSET_PX, right - INSET_PX, bottom - corner);
  pen.lineTo(right - INSET_PX, top);
  pen.closePath();
}

/** @param {CanvasRenderingContext2D} pen @param {Glass} glass @param {number} top @param {number} lip */
function traceGlass(pen, { left, right, bottom, corner }, top, lip) {
  pen.beginPath();
  pen.moveTo(left - lip, top);
  pen.quadraticCurveTo(left, top, left, top + lip);
  pen.lineTo(left, bottom - corner);
  pen.quadraticCurveTo(left, bottom, left + corner, bottom);
  pen.lineTo(right - corner, bottom);
  pen.quadraticCurveTo(right, bottom, right, bottom - corner);
  pen.lineTo(right, top + lip);
  pen.quadraticCurveTo(right, top, right + lip, top);
}

/** @param {number} width @param {number} height @param {number} [scale] of the ions @param {import("./vessel.js").Filling} [filling] @param {number} [least] radius of an ion (px) @returns {Layout} */
export function layOutBeaker(width, height, scale = 1, filling = AS_FILLED, least = 0) {
  const { narrow, circuit, stroke, ...wanted } = sizes(width, height, scale, least);
  const margin = narrow ? 10 : Math.max(16, width * 0.045);
  const left = margin;
  const right = width - margin;
  const bottom = height - (narrow ? 24 : Math.max(26, height * 0.055));
  const glassTop = circuit + (bottom - circuit) * 0.08;
  const startDepth = depthAtStart((bottom - circuit) * (isLow(height) && !narrow ? 0.85 : 0.76), (bottom - circuit) * 0.88, filling);
  const liquidTop = bottom - startDepth * filling.now;
  const ionRadius = fitting(wanted.ionRadius, startDepth);
  const span = right - left;
  const rodWidth = clamp(span * 0.045, 14, 160);
  const rodBottom = bottom - Math.min(Math.max(startDepth * 0.2, 2.3 * ionRadius), startDepth * 0.4);
  const across = { x: left, width: span };
  const electrodes = uprightRods([0.17, 0.83], across, rodWidth, circuit, rodBottom);
  const glass = { left, right, bottom, corner: Math.min(0.03 * width, span * 0.04) };
  const rods = aroundRods(electrodes);
  /** @param {number} x @param {number} y */
  const inside = (x, y) => {
    const [wide, r] = [WIDE * ionRadius + 2 * stroke, ionRadius + 1];
    if (x < left + wide || x > right - wide || y < liquidTop + r || y > bottom - r - 2 * stroke) return false;
    return rods.clear(x, y, r);
  };
  return {
    width,
    height,
    narrow,
    stroke,
    ionRadius,
    liquidTop,
    electrodes,
    gapPx: electrodes[1].x - electrodes[0].x - rodWidth,
    innerShare: 0.75,
    level: true,
    deep: true,
    caption: "",
    liquidArea: span * (bottom - liquidTop),
    bounds: { x: left, y: liquidTop, width: span, height: bottom - liquidTop },
    surfaces: [[left + 3 * stroke, right - 3 * stroke]],
    trace: (pen) => traceLiquid(pen, glass, liquidTop),
    outline: (pen) => traceGlass(pen, glass, glassTop, narrow ? 4 : 9),
    inside,
    free: inside,
    along: rods.along,
    fill(pen, colourAt, byDepth) {
      fillAcross(pen, this.bounds, (x) => this.along(x, 0), colourAt, byDepth);
    },
    direction: rods.direction,
  };
}
