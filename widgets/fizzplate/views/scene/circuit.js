// The circuit above the cell: supply with its terminals, wires, electrons, lamp and readings.
// Electrons move out of the minus terminal to the cathode, and from the anode back to plus.

import { rounded } from "./deposit.js";
import { drawElectron } from "./events.js";
import { sampleAt } from "./record.js";
import { clamp } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */
/** @typedef {import("./theme.js").Theme} Theme */

const LIGHT_EXPONENT = 3.4; // of a tungsten lamp's light against its voltage
const SPACING_PX = 30;
const PASSES_PX = 1100; // how far the electrons move in the wire over a whole run at most

/** Light of the lamp against its rating. @param {RunRecord} record @param {number} timeS */
export function lampLight(record, timeS) {
  const { lamp } = record.header;
  if (!lamp) return 0;
  const volts = sampleAt(record.lampV, record, timeS);
  return volts > 0 ? (volts / lamp.volts) ** LIGHT_EXPONENT : 0;
}

/** @param {number} amps */
export function readingOfCurrent(amps) {
  if (amps < 5e-7) return "0 mA";
  return amps >= 1 ? `${amps.toFixed(2)} A` : `${(amps * 1000).toPrecision(3)} mA`;
}

/** How far (px) the electrons have moved by a time. @param {RunRecord} record @param {number} timeS */
export function electronPathPx(record, timeS) {
  const charges = record.chargeC;
  const all = charges[charges.length - 1];
  return all > 0 && !record.header.idle ? (sampleAt(charges, record, timeS) / all) * PASSES_PX : 0;
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {number} timeS
 */
export function drawCircuit(pen, record, layout, theme, timeS) {
  const [left, right] = layout.electrodes.map((rod) => rod.x + rod.width / 2);
  const top = layout.electrodes[0].y;
  const wireY = clamp(top * 0.42, 26, 62);
  const middle = (left + right) / 2;
  const box = { width: clamp((right - left) * 0.34, 84, 150), height: clamp(top * 0.4, 32, 52) };
  const current = sampleAt(record.currentA, record, timeS);
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  const ink = theme.colour("--fp-ink");
  pen.strokeStyle = ink;
  pen.lineWidth = 2;
  pen.beginPath();
  pen.moveTo(left, top);
  pen.lineTo(left, wireY);
  pen.lineTo(right, wireY);
  pen.lineTo(right, top);
  pen.stroke();
  const supplyLeft = middle - box.width / 2 - (record.header.lamp ? (right - left) * 0.08 : 0);
  const supplyRight = supplyLeft + box.width;
  drawElectrons(pen, record, theme, timeS, { left, right, top, wireY, supplyLeft, supplyRight }, swapped);
  if (record.header.lamp) {
    drawLamp(pen, record, theme, timeS, (supplyRight + right) / 2, wireY, box.height * 0.42);
  }
  drawSupply(pen, record, theme, timeS, supplyLeft, wireY, box, swapped);
  const size = clamp(layout.width / 62, 11.5, 18);
  pen.fillStyle = ink;
  pen.font = `${size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  const readingX = record.header.lamp ? (supplyRight + right) / 2 : middle;
  pen.fillText(readingOfCurrent(current), readingX, wireY + box.height * 0.5 + size * 0.95);
  if (record.header.lamp && current > 5e-7 && !layout.narrow) {
    const across = sampleAt(record.voltageV, record, timeS).toFixed(1);
    pen.fillText(`${across} V across the cell`, middle, wireY + box.height * 0.5 + size * 2.25);
  }
  if (current > 5e-7 && !layout.narrow) {
    drawElectronArrow(pen, theme, left, { left: supplyLeft, height: box.height }, wireY, size, swapped);
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {Theme} theme @param {number} left
 * @param {{left: number, height: number}} supply @param {number} wireY @param {number} size
 * @param {boolean} swapped
 */
function drawElectronArrow(pen, theme, left, supply, wireY, size, swapped) {
  const from = left + 8;
  pen.fillStyle = theme.colour("--fp-quiet");
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.font = `${size * 0.9}px ${theme.font}`;
  pen.textAlign = "left";
  const fits = from + 38 + pen.measureText("electrons").width < supply.left - 8;
  const y = wireY - size * (fits ? 1.15 : 0.8) - (fits ? 0 : supply.height / 2);
  pen.fillText("electrons", from + 38, y);
  arrow(pen, swapped ? from : from + 30, y, swapped ? from + 30 : from);
  pen.textAlign = "center";
}

/** @param {CanvasRenderingContext2D} pen @param {number} fromX @param {number} y @param {number} toX */
export function arrow(pen, fromX, y, toX) {
  const back = Math.sign(fromX - toX);
  pen.lineWidth = 1.6;
  pen.beginPath();
  pen.moveTo(fromX, y);
  pen.lineTo(toX, y);
  pen.moveTo(toX + back * 7, y - 4);
  pen.lineTo(toX, y);
  pen.lineTo(toX + back * 7, y + 4);
  pen.stroke();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Theme} theme
 * @param {number} timeS
 * @param {{left: number, right: number, top: number, wireY: number, supplyLeft: number, supplyRight: number}} wire
 * @param {boolean} swapped
 */
function drawElectrons(pen, record, theme, timeS, wire, swapped) {
  const moved = electronPathPx(record, timeS) * (swapped ? -1 : 1);
  /** @param {number} length @param {(s: number) => [number, number]} at */
  const along = (length, at) => {
    const first = ((moved % SPACING_PX) + SPACING_PX) % SPACING_PX;
    for (let s = first; s < length - 4; s += SPACING_PX) drawElectron(pen, ...at(s), 5.2, theme);
  };
  const across = wire.supplyLeft - wire.left;
  along(across + wire.top - wire.wireY, (s) =>
    s < across ? [wire.supplyLeft - s, wire.wireY] : [wire.left, wire.wireY + s - across],
  );
  const up = wire.top - wire.wireY;
  along(up + wire.right - wire.supplyRight, (s) =>
    s < up ? [wire.right, wire.top - s] : [wire.right - (s - up), wire.wireY],
  );
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Theme} theme
 * @param {number} timeS @param {number} x @param {number} y @param {number} radius
 */
function drawLamp(pen, record, theme, timeS, x, y, radius) {
  const seen = Math.sqrt(clamp(lampLight(record, timeS), 0, 1.5)); // eyes see brightness so
  if (seen > 0.02) {
    const reach = radius * (1.25 + 1.5 * seen);
    const glow = pen.createRadialGradient(x, y, radius * 0.5, x, y, reach);
    glow.addColorStop(0, theme.colour("--fp-glow"));
    glow.addColorStop(1, "rgba(245, 213, 71, 0)");
    pen.globalAlpha = clamp(0.25 + 0.75 * seen, 0, 1);
    pen.fillStyle = glow;
    pen.beginPath();
    pen.arc(x, y, reach, 0, 2 * Math.PI);
    pen.fill();
    pen.globalAlpha = 1;
  }
  pen.beginPath();
  pen.arc(x, y, radius, 0, 2 * Math.PI);
  pen.fillStyle = theme.colour("--fp-panel");
  pen.fill();
  if (seen > 0.02) {
    pen.globalAlpha = clamp(0.2 + 0.8 * seen, 0, 1);
    pen.fillStyle = theme.colour("--fp-glow");
    pen.fill();
    pen.globalAlpha = 1;
  }
  const cross = radius * Math.SQRT1_2;
  pen.lineWidth = 2;
  pen.strokeStyle = seen > 0.3 ? theme.colour("--fp-ion-ink") : theme.colour("--fp-ink");
  pen.stroke();
  pen.beginPath();
  pen.moveTo(x - cross, y - cross);
  pen.lineTo(x + cross, y + cross);
  pen.moveTo(x + cross, y - cross);
  pen.lineTo(x - cross, y + cross);
  pen.stroke();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Theme} theme
 * @param {number} timeS @param {number} left @param {number} wireY
 * @param {{width: number, height: number}} box @param {boolean} swapped
 */
function drawSupply(pen, record, theme, timeS, left, wireY, box, swapped) {
  const ink = theme.colour("--fp-ink");
  pen.fillStyle = theme.colour("--fp-panel");
  pen.strokeStyle = ink;
  pen.lineWidth = 2;
  rounded(pen, left, wireY - box.height / 2, box.width, box.height, 6);
  pen.fill();
  pen.stroke();
  const volts = sampleAt(record.supplyV, record, timeS);
  const line = Math.min(box.height, box.width * 0.4); // letters fit between the signs
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillStyle = theme.colour("--fp-quiet");
  pen.font = `${line * 0.27}px ${theme.font}`;
  pen.fillText("supply", left + box.width / 2, wireY - box.height * 0.24);
  pen.fillStyle = ink;
  pen.font = `700 ${line * 0.36}px ${theme.font}`;
  const reading = volts > 0 ? `${volts.toFixed(1)} V` : "off";
  pen.fillText(reading, left + box.width / 2, wireY + box.height * 0.18);
  pen.font = `700 ${line * 0.5}px ${theme.font}`;
  pen.fillText(swapped ? "+" : "−", left + line * 0.3, wireY);
  pen.fillText(swapped ? "−" : "+", left + box.width - line * 0.3, wireY);
}
