// One frame of the picture, from the liquid behind to the words in front.

import { drawBubbles } from "./motion/bubbles.js";
import { drawEvents } from "./motion/event_drawing.js";
import { drawIons } from "./motion/ion_drawing.js";
import { drawCircuit } from "./circuit.js";
import { drawElectrodes } from "./deposit.js";
import { drawHeat } from "./heat.js";
import { drawGlass } from "./glass.js";
import { writePH } from "./liquid/indicator.js";
import { drawLabels } from "./labels.js";
import { drawLiquid } from "./liquid/liquid.js";
import { drawMolten } from "./liquid/molten.js";
import { drawProbe } from "./probe.js";
import { placeInTime } from "./record.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./stage.js").Stage} Stage */
/** @typedef {import("./theme.js").Theme} Theme */

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Stage} stage @param {Theme} theme
 * @param {{timeS: number, pictureS: number, indicator: string, surface: import("./stage.js").Surface,
 *   focus: {species: string[], side: number}, probe: import("./probe.js").Probe|null}} view focus: what stands out
 */
export function drawFrame(pen, record, stage, theme, { timeS, pictureS, indicator, surface, focus, probe }) {
  const { layout, density, glyphs, events, bubbles, water, flakes } = stage;
  pen.setTransform(density, 0, 0, density, 0, 0);
  pen.clearRect(0, 0, stage.width, stage.height);
  pen.translate(stage.left, 0);
  drawLiquid(pen, record, layout, theme, timeS, { indicator, flakes });
  water?.draw(pen, glyphs, pictureS);
  drawElectrodes(pen, record, layout, theme, timeS);
  if (record.header.melt) drawMolten(pen, record, layout, theme, timeS);
  if (focus.side >= 0) pointOut(pen, layout.electrodes[focus.side], layout.stroke, theme); // behind ions, whose charges it would cross
  drawBubbles(pen, bubbles.at(timeS), theme);
  drawIons(pen, record, stage, theme, { timeS, surface, meant: focus.species });
  if (surface === "explained") drawEvents(pen, events.at(timeS), glyphs, layout, theme);
  if (record.header.indicators[indicator]) {
    writePH(pen, record, layout, theme, placeInTime(record, timeS));
  }
  drawGlass(pen, layout, theme);
  drawHeat(pen, layout, theme);
  drawCircuit(pen, record, layout, theme, timeS);
  if (probe && stage.aside) drawProbe(pen, probe, stage.aside, theme);
  drawLabels(pen, record, layout, theme, timeS);
}

/**
 * A broken line round what is spoken of: an electrode, below the name that stands at its top.
 * @param {CanvasRenderingContext2D} pen @param {import("./vessels/vessel.js").Box} rod @param {number} stroke @param {Theme} theme
 */
function pointOut(pen, rod, stroke, theme) {
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 2.5 * stroke;
  pen.setLineDash([9 * stroke, 6 * stroke]);
  pen.beginPath();
  const top = rod.y + Math.min(44 * stroke, rod.height / 3);
  pen.roundRect(rod.x - 22 * stroke, top, rod.width + 44 * stroke, rod.y + rod.height + 22 * stroke - top, 14 * stroke);
  pen.stroke();
  pen.setLineDash([]);
}
