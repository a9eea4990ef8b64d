// The test of a gas as a small picture of its own, in an electrode's card: the cell keeps its size, and both electrodes' tests
// stay in sight.

import { drawProbe, PROBE_S } from "../../scene/probe.js";
import { readTheme } from "../../scene/theme.js";

/**
 * @param {HTMLCanvasElement} canvas as large as the page has it @param {{side: number, test: string, picture: string}} test
 * @param {boolean} isStill whether its end is shown at once
 */
export function mountTube(canvas, test, isStill) {
  const begunMs = performance.now();
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  function draw() {
    const age = isStill ? PROBE_S : Math.min((performance.now() - begunMs) / 1000, PROBE_S);
    const { clientWidth: width, clientHeight: height } = canvas;
    const density = globalThis.devicePixelRatio || 1;
    [canvas.width, canvas.height] = [Math.round(width * density), Math.round(height * density)];
    pen.scale(density, density);
    drawProbe(pen, { ...test, age }, { x: 0, y: 0, width, height }, readTheme(canvas));
    return age < PROBE_S;
  }
  const play = () => draw() && canvas.isConnected && requestAnimationFrame(play);
  new ResizeObserver(() => canvas.clientWidth && draw()).observe(canvas); // at first, and at another size
  if (!isStill) requestAnimationFrame(play);
}
