// Electrodes, the layer that grows on them, and an anode that thins. The layer is drawn far thicker
// than it is, in proportion to its mass.

import { sampleAt } from "./record.js";
import { materialColour } from "./theme.js";
import { clamp } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */

const LOOSE_DARKNESS = 0.45;
const THICKEST_SHARE = 0.42; // of the rod's width, for the largest mass of the run

/** @param {RunRecord} record */
function largestMassG(record) {
  let most = 0;
  for (const side of [0, 1]) {
    for (const mass of record.electrode(side).layerG) most = Math.max(most, Math.abs(mass));
  }
  return most;
}

/**
 * Thickness of the layer in pixels at each electrode: negative where the rod has thinned.
 * @param {RunRecord} record @param {Layout} layout @param {number} timeS
 */
export function layersPx(record, layout, timeS) {
  const most = largestMassG(record);
  return [0, 1].map((side) => {
    if (!most) return 0;
    const mass = sampleAt(record.electrode(side).layerG, record, timeS);
    return (mass / most) * THICKEST_SHARE * layout.electrodes[side].width;
  });
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("./theme.js").Theme} theme @param {number} timeS
 */
export function drawElectrodes(pen, record, layout, theme, timeS) {
  const layers = layersPx(record, layout, timeS);
  layout.electrodes.forEach((rod, side) => {
    const wetTop = layout.liquidTop;
    const wet = rod.y + rod.height - wetTop;
    const layer = layers[side];
    const material = record.header.electrodes[side].material;
    if (layer > 0.2) {
      const tint = record.header.electrodes[side].layerTint;
      pen.fillStyle = theme.colour(tint);
      if (record.header.electrodes[side].spongy) spongy(pen, rod, wetTop, wet, layer);
      else rounded(pen, rod.x - layer, wetTop + 3, rod.width + 2 * layer, wet - 3 + layer, 4);
      pen.fill();
      if (record.header.electrodes[side].spongy) {
        // loose metal looks dark
        pen.fillStyle = theme.colour("--fp-ion-ink");
        pen.globalAlpha = LOOSE_DARKNESS;
        pen.fill();
        pen.globalAlpha = 1;
      }
      if (materialColour(material) === tint) {
        pen.lineWidth = 1;
        pen.setLineDash([3, 3]);
        pen.strokeStyle = theme.colour("--fp-ion-ink");
        pen.stroke();
        pen.setLineDash([]);
      }
    }
    const lost = clamp(-layer, 0, rod.width * 0.3);
    pen.fillStyle = theme.colour(materialColour(material));
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.lineWidth = 1.4;
    rounded(pen, rod.x, rod.y, rod.width, wetTop - rod.y + 4, 4);
    pen.fill();
    rounded(pen, rod.x + lost, wetTop, rod.width - 2 * lost, wet - lost, 4);
    pen.fill();
    pen.beginPath();
    pen.moveTo(rod.x + lost, wetTop + 2);
    pen.lineTo(rod.x + lost, rod.y + rod.height - lost);
    pen.lineTo(rod.x + rod.width - lost, rod.y + rod.height - lost);
    pen.lineTo(rod.x + rod.width - lost, wetTop + 2);
    pen.globalAlpha = 0.5;
    pen.stroke();
    pen.globalAlpha = 1;
  });
  return layers;
}

/**
 * The outline of a loose layer: grains of uneven size along both faces.
 * @param {CanvasRenderingContext2D} pen @param {import("./vessel.js").Box} rod @param {number} top
 * @param {number} wet @param {number} layer
 */
function spongy(pen, rod, top, wet, layer) {
  pen.beginPath();
  const grain = Math.max(3, rod.width * 0.16);
  for (let k = 0; k * grain < wet; k += 1) {
    const y = top + 3 + k * grain;
    const uneven = 0.75 + 0.5 * Math.abs(Math.sin(12.9 * k)); // the same grains in every frame
    for (const x of [rod.x, rod.x + rod.width]) {
      const radius = Math.max(grain * 0.7, layer * uneven);
      pen.moveTo(x + radius, y);
      pen.arc(x, y, radius, 0, 2 * Math.PI);
    }
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} width
 * @param {number} height @param {number} radius
 */
export function rounded(pen, x, y, width, height, radius) {
  pen.beginPath();
  pen.roundRect(x, y, Math.max(width, 0), Math.max(height, 0), radius);
}
