// A beaker from the side, with two rods.

import { aroundRods, clamp, fillAcross, sizes, uprightRods } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

/** @param {number} width @param {number} height @param {number} [scale] of the ions @returns {Layout} */
export function layOutBeaker(width, height, scale = 1) {
  const { narrow, ionRadius, circuit } = sizes(width, height, scale);
  const margin = narrow ? 10 : Math.max(16, width * 0.13);
  const left = margin;
  const right = width - margin;
  const bottom = height - (narrow ? 10 : 18);
  const glassTop = circuit + (bottom - circuit) * 0.08;
  const liquidTop = circuit + (bottom - circuit) * 0.24;
  const span = right - left;
  const rodWidth = clamp(span * 0.05, 14, 80);
  const rodBottom = bottom - (bottom - liquidTop) * 0.2;
  const across = { x: left, width: span };
  const electrodes = uprightRods([0.17, 0.83], across, rodWidth, circuit, rodBottom);
  const corner = Math.min(16, span * 0.04);
  const inset = 2;
  const rods = aroundRods(electrodes);
  return {
    width,
    height,
    narrow,
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
    trace(pen) {
      pen.beginPath();
      pen.moveTo(left + inset, liquidTop);
      pen.lineTo(left + inset, bottom - corner);
      pen.quadraticCurveTo(left + inset, bottom - inset, left + corner, bottom - inset);
      pen.lineTo(right - corner, bottom - inset);
      pen.quadraticCurveTo(right - inset, bottom - inset, right - inset, bottom - corner);
      pen.lineTo(right - inset, liquidTop);
      pen.closePath();
    },
    outline(pen) {
      const lip = narrow ? 4 : 9;
      pen.beginPath();
      pen.moveTo(left - lip, glassTop);
      pen.quadraticCurveTo(left, glassTop, left, glassTop + lip);
      pen.lineTo(left, bottom - corner);
      pen.quadraticCurveTo(left, bottom, left + corner, bottom);
      pen.lineTo(right - corner, bottom);
      pen.quadraticCurveTo(right, bottom, right, bottom - corner);
      pen.lineTo(right, glassTop + lip);
      pen.quadraticCurveTo(right, glassTop, right + lip, glassTop);
    },
    inside(x, y) {
      const r = ionRadius + 1;
      if (x < left + r || x > right - r || y < liquidTop + r || y > bottom - r) return false;
      return rods.clear(x, y, r);
    },
    along: rods.along,
    fill(pen, colourAt, byDepth) {
      fillAcross(pen, this.bounds, (x) => this.along(x, 0), colourAt, byDepth);
    },
    direction: rods.direction,
  };
}
