// A U-tube from the side, a rod in each limb.

import { clamp, sizes } from "./vessel.js";

/** @typedef {import("./vessel.js").Layout} Layout */

const BEND_STEPS = 24; // of the liquid's colour
const LIMB_STEPS = 16;

/** @param {number} width @param {number} height @param {number} [scale] of the ions @returns {Layout} */
export function layOutUTube(width, height, scale = 1) {
  const { narrow, ionRadius, circuit } = sizes(width, height, scale);
  const bottom = height - (narrow ? 10 : 18);
  const outer = Math.min(width * (narrow ? 0.36 : 0.3), (bottom - circuit) * 0.52);
  const bore = outer * 0.58;
  const middleX = width / 2;
  const liquidTop = circuit + (bottom - circuit) * 0.16;
  const middleY = bottom - outer;
  const centre = outer - bore / 2;
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
      shape(pen, liquidTop, false);
      pen.closePath();
    },
    outline(pen) {
      shape(pen, glassTop, true);
    },
    inside(x, y) {
      const r = radius + 1;
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
    fill(pen, colourAt) {
      const turn = pen.createConicGradient(0, middleX, middleY); // from the right limb clockwise
      for (let step = 0; step <= BEND_STEPS; step += 1) {
        const angle = (Math.PI * step) / BEND_STEPS;
        const along = (limb + (Math.PI - angle) * centre) / whole;
        turn.addColorStop(angle / (2 * Math.PI), colourAt(along));
      }
      pen.fillStyle = turn;
      pen.fillRect(middleX - outer, middleY, 2 * outer, outer);
      for (const side of [-1, 1]) {
        const down = pen.createLinearGradient(0, liquidTop, 0, middleY);
        for (let step = 0; step <= LIMB_STEPS; step += 1) {
          const share = step / LIMB_STEPS;
          const along = (share * limb) / whole;
          down.addColorStop(share, colourAt(side < 0 ? along : 1 - along));
        }
        pen.fillStyle = down;
        const left = side < 0 ? middleX - outer : middleX + outer - bore;
        pen.fillRect(left, liquidTop, bore, middleY - liquidTop);
      }
    },
    direction(x, y) {
      const dx = x - middleX;
      if (y <= middleY) return { x: 0, y: dx < 0 ? 1 : -1 };
      const away = Math.hypot(dx, y - middleY) || 1;
      return { x: (y - middleY) / away, y: -dx / away };
    },
  };
}
