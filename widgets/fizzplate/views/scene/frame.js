// One frame of the picture, from the liquid behind to the words in front.

import { drawBubbles } from "./motion/bubbles.js";
import { drawEvents } from "./motion/event_drawing.js";
import { arrowAlong, drawCircuit } from "./circuit.js";
import { drawElectrodes } from "./deposit.js";
import { writePH } from "./indicator.js";
import { drawLabels } from "./labels.js";
import { drawLiquid } from "./liquid.js";
import { drawProbe } from "./probe.js";
import { fieldAt, placeInTime } from "./record.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./stage.js").Stage} Stage */
/** @typedef {import("./theme.js").Theme} Theme */

const FADED_OPACITY = 0.22; // opacity of ions that are not spoken of

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Stage} stage @param {Theme} theme
 * @param {{timeS: number, indicator: string, surface: import("./stage.js").Surface, focus: {species: string[], side: number}, probe: import("./probe.js").Probe|null, withArrows: boolean}} view
 *   focus: what stands out; withArrows: drift is shown by arrows, since nothing moves
 */
export function drawFrame(pen, record, stage, theme, { timeS, indicator, surface, focus, probe, withArrows }) {
  const { layout, density, glyphs, events, bubbles, water, specks } = stage;
  pen.setTransform(density, 0, 0, density, 0, 0);
  pen.clearRect(0, 0, layout.width, layout.height);
  drawLiquid(pen, record, layout, theme, timeS, { indicator, specks });
  water?.draw(pen, glyphs);
  drawElectrodes(pen, record, layout, theme, timeS);
  drawIons(pen, stage, focus.species);
  if (withArrows) drawDriftArrows(pen, record, stage, theme, timeS);
  if (surface === "explained") drawEvents(pen, events.at(timeS), glyphs, layout, theme, (formula) => formula);
  drawBubbles(pen, bubbles.at(timeS), theme);
  if (record.header.indicators[indicator]) {
    writePH(pen, record, layout, theme, placeInTime(record, timeS));
  }
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 2.4;
  layout.outline(pen);
  pen.stroke();
  drawCircuit(pen, record, layout, theme, timeS);
  if (focus.side >= 0) pointOut(pen, layout.electrodes[focus.side], theme);
  if (probe) drawProbe(pen, probe, layout, theme);
  drawLabels(pen, record, layout, theme, glyphs, timeS, Boolean(water));
}

/** @param {CanvasRenderingContext2D} pen @param {Stage} stage @param {string[]} meant species that stand out; none: all */
function drawIons(pen, { crowd, glyphs }, meant) {
  for (const list of crowd.ions.values()) {
    for (const ion of list) {
      const isMeant = !meant.length || meant.includes(ion.formula);
      const opacity = crowd.opacity(ion) * (isMeant ? 1 : FADED_OPACITY);
      if (opacity < 1) pen.globalAlpha = opacity;
      glyphs.draw(pen, ion.formula, ion.x, ion.y);
      if (opacity < 1) pen.globalAlpha = 1;
    }
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Stage} stage @param {Theme} theme @param {number} timeS
 */
function drawDriftArrows(pen, record, { layout, crowd }, theme, timeS) {
  const when = placeInTime(record, timeS);
  pen.strokeStyle = theme.colour("--fp-ink");
  for (const each of record.header.species) {
    const drift = record.drift(each.formula);
    const real = fieldAt(drift, record, when, record.positionM[record.positionM.length - 1] / 2);
    if (!real) continue;
    for (const ion of crowd.ions.get(each.formula) ?? []) {
      const sign = Math.sign(real);
      const along = layout.direction(ion.x, ion.y);
      const way = { x: sign * along.x, y: sign * along.y };
      const length = layout.ionRadius * 0.9;
      // before the ion, or behind it: never through glass or a rod
      for (const [side, from] of [[1, layout.ionRadius], [-1, -layout.ionRadius - length]]) {
        if (!layout.inside(ion.x + side * length * way.x, ion.y + side * length * way.y)) continue;
        arrowAlong(pen, ion.x + from * way.x, ion.y + from * way.y, way, length);
        break;
      }
    }
  }
}

/**
 * A broken line round an electrode that is spoken of.
 * @param {CanvasRenderingContext2D} pen @param {import("./vessels/vessel.js").Box} rod @param {import("./theme.js").Theme} theme
 */
function pointOut(pen, rod, theme) {
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 2.5;
  pen.setLineDash([9, 6]);
  pen.beginPath();
  pen.roundRect(rod.x - 22, rod.y - 8, rod.width + 44, rod.height + 30, 14);
  pen.stroke();
  pen.setLineDash([]);
}
