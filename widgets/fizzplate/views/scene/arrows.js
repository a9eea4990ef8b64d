// Arrows: a line with a filled head.

const HEAD = { length: 5.5, half: 2.7 }; // in thicknesses of the line

/** @param {CanvasRenderingContext2D} pen @param {number} tipX @param {number} tipY @param {{x: number, y: number}} way of length 1 @param {number} line its thickness */
export function arrowHead(pen, tipX, tipY, way, line) {
  const [back, half] = [HEAD.length * line, HEAD.half * line];
  pen.beginPath();
  pen.moveTo(tipX, tipY);
  pen.lineTo(tipX - way.x * back - way.y * half, tipY - way.y * back + way.x * half);
  pen.lineTo(tipX - way.x * back + way.y * half, tipY - way.y * back - way.x * half);
  pen.closePath();
  pen.fill();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y of its blunt end
 * @param {{x: number, y: number}} way of length 1 @param {number} length @param {number} [line] its thickness
 */
export function arrowAlong(pen, x, y, way, length, line = 1.6) {
  const shaft = Math.max(length - HEAD.length * line * 0.8, 0);
  pen.lineWidth = line;
  pen.beginPath();
  pen.moveTo(x, y);
  pen.lineTo(x + way.x * shaft, y + way.y * shaft);
  pen.stroke();
  arrowHead(pen, x + way.x * length, y + way.y * length, way, line);
}

/** @param {CanvasRenderingContext2D} pen @param {number} fromX @param {number} y @param {number} toX @param {number} [line] */
export const arrow = (pen, fromX, y, toX, line) => arrowAlong(pen, fromX, y, { x: Math.sign(toX - fromX), y: 0 }, Math.abs(toX - fromX), line);
