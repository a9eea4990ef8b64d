// Where everything stands: vessel, liquid, electrodes, and which place of the model a point shows.
// The unmixed layer at each electrode is far too thin to be seen; it is drawn wider.

/**
 * @typedef {{x: number, y: number, width: number, height: number}} Box
 * @typedef {{
 *   width: number, height: number, narrow: boolean, ionRadius: number, liquidArea: number,
 *   electrodes: Box[], liquidTop: number, isUTube: boolean,
 *   trace: (pen: CanvasRenderingContext2D) => void,
 *   outline: (pen: CanvasRenderingContext2D) => void,
 *   inside: (x: number, y: number) => boolean, bounds: Box,
 *   along: (x: number, y: number) => number,
 *   direction: (x: number, y: number) => {x: number, y: number}
 * }} Layout
 */

const FILM_SHARE = 0.16; // of the drawn gap, each

/** @param {number} value @param {number} low @param {number} high */
export const clamp = (value, low, high) => Math.min(Math.max(value, low), high);

/**
 * Place in the model (m) for a drawn fraction of the gap: the films widened.
 * @param {number} fraction @param {number} gapM @param {number} filmM
 */
export function modelPlace(fraction, gapM, filmM) {
  const s = clamp(fraction, 0, 1);
  if (s < FILM_SHARE) return (s / FILM_SHARE) * filmM;
  if (s > 1 - FILM_SHARE) return gapM - ((1 - s) / FILM_SHARE) * filmM;
  return filmM + ((s - FILM_SHARE) / (1 - 2 * FILM_SHARE)) * (gapM - 2 * filmM);
}

/** @param {number} width @param {number} height */
function sizes(width, height) {
  const narrow = width < 560;
  return {
    narrow,
    ionRadius: clamp(Math.min(width / 48, height / 25), 9.5, 21),
    circuit: clamp(height * 0.25, 76, 150),
  };
}

/**
 * @param {number} width @param {number} height @param {string} vessel
 * @returns {Layout}
 */
export function layOut(width, height, vessel) {
  return vessel === "U-tube" ? layOutUTube(width, height) : layOutBeaker(width, height);
}

/** @param {number} width @param {number} height @returns {Layout} */
function layOutBeaker(width, height) {
  const { narrow, ionRadius, circuit } = sizes(width, height);
  const margin = narrow ? 10 : Math.max(16, width * 0.13);
  const left = margin;
  const right = width - margin;
  const bottom = height - (narrow ? 10 : 18);
  const glassTop = circuit + (bottom - circuit) * 0.08;
  const liquidTop = circuit + (bottom - circuit) * 0.24;
  const span = right - left;
  const rodWidth = clamp(span * 0.05, 14, 38);
  const rodBottom = bottom - (bottom - liquidTop) * 0.2;
  const electrodes = [0.17, 0.83].map((share) => ({
    x: left + share * span - rodWidth / 2,
    y: circuit,
    width: rodWidth,
    height: rodBottom - circuit,
  }));
  const corner = Math.min(16, span * 0.04);
  const inset = 2;
  const faceLeft = electrodes[0].x + rodWidth;
  const faceRight = electrodes[1].x;
  return {
    width,
    height,
    narrow,
    ionRadius,
    liquidTop,
    electrodes,
    isUTube: false,
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
      return !electrodes.some(
        (rod) => x > rod.x - r && x < rod.x + rod.width + r && y < rodBottom + r,
      );
    },
    along(x) {
      // behind an electrode the same layers lie as before it: its whole surface works
      if (x < faceLeft) return clamp((electrodes[0].x - x) / (faceRight - faceLeft), 0, 0.5);
      if (x > faceRight) {
        return 1 - clamp((x - electrodes[1].x - rodWidth) / (faceRight - faceLeft), 0, 0.5);
      }
      return (x - faceLeft) / (faceRight - faceLeft);
    },
    direction(x) {
      return { x: x < electrodes[0].x || x > faceRight + rodWidth ? -1 : 1, y: 0 };
    },
  };
}

/** @param {number} width @param {number} height @returns {Layout} */
function layOutUTube(width, height) {
  const { narrow, ionRadius, circuit } = sizes(width, height);
  const bottom = height - (narrow ? 10 : 18);
  const outer = Math.min(width * (narrow ? 0.36 : 0.3), (bottom - circuit) * 0.52);
  const bore = outer * 0.52;
  const middleX = width / 2;
  const liquidTop = circuit + (bottom - circuit) * 0.16;
  const middleY = bottom - outer;
  const centre = outer - bore / 2;
  const rodWidth = clamp(bore * 0.24, 10, 30);
  const rodBottom = liquidTop + (middleY - liquidTop) * 0.8;
  const electrodes = [-1, 1].map((side) => ({
    x: middleX + side * centre - rodWidth / 2,
    y: circuit,
    width: rodWidth,
    height: rodBottom - circuit,
  }));
  const limb = Math.max(middleY - liquidTop, 1);
  const whole = 2 * limb + Math.PI * centre;
  const glassTop = liquidTop - (liquidTop - circuit) * 0.5;

  /** @param {CanvasRenderingContext2D} pen @param {number} top @param {boolean} open */
  function shape(pen, top, open) {
    pen.beginPath();
    pen.moveTo(middleX - outer, top);
    pen.lineTo(middleX - outer, middleY);
    pen.arc(middleX, middleY, outer, Math.PI, 0, true);
    pen.lineTo(middleX + outer, top);
    if (open) pen.moveTo(middleX + outer - bore, top);
    else pen.lineTo(middleX + outer - bore, top);
    pen.lineTo(middleX + outer - bore, middleY);
    pen.arc(middleX, middleY, outer - bore, 0, Math.PI, false);
    pen.lineTo(middleX - outer + bore, top);
  }

  return {
    width,
    height,
    narrow,
    ionRadius: Math.min(ionRadius, bore / 6),
    liquidTop,
    electrodes,
    isUTube: true,
    liquidArea: whole * bore,
    bounds: { x: middleX - outer, y: liquidTop, width: 2 * outer, height: bottom - liquidTop },
    trace(pen) {
      shape(pen, liquidTop, false);
      pen.closePath();
    },
    outline(pen) {
      shape(pen, glassTop, true);
    },
    inside(x, y) {
      const r = Math.min(ionRadius, bore / 6) + 1;
      if (y < liquidTop + r) return false;
      const dx = x - middleX;
      const away = y <= middleY ? Math.abs(dx) : Math.hypot(dx, y - middleY);
      if (away > outer - r || away < outer - bore + r) return false;
      return !electrodes.some(
        (rod) => x > rod.x - r && x < rod.x + rod.width + r && y < rodBottom + r,
      );
    },
    along(x, y) {
      const dx = x - middleX;
      if (y <= middleY) {
        const down = (y - liquidTop) / whole;
        return dx < 0 ? down : 1 - down;
      }
      const angle = Math.atan2(y - middleY, -dx); // 0 at the left limb, pi at the right
      return (limb + clamp(angle, 0, Math.PI) * centre) / whole;
    },
    direction(x, y) {
      const dx = x - middleX;
      if (y <= middleY) return { x: 0, y: dx < 0 ? 1 : -1 };
      const away = Math.hypot(dx, y - middleY) || 1;
      return { x: (y - middleY) / away, y: -dx / away };
    },
  };
}
