// The circuit above the cell: supply with its terminals, wires, electrons, lamp and readings.
// Electrons move out of the minus terminal to the cathode, and from the anode back to plus.

import { MIN_CURRENT_A, currentText, voltageText } from "../kit/format.js";
import { arrow } from "./arrows.js";
import { rounded } from "./deposit.js";
import { drawElectron } from "./motion/event_drawing.js";
import { forScales, sampleAt } from "./record.js";
import { clamp } from "./vessels/vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessels/vessel.js").Layout} Layout */
/** @typedef {import("./theme.js").Theme} Theme */

const LIGHT_EXPONENT = 3.4; // of a tungsten lamp's light against its voltage
const OPEN_ANGLE = 0.6; // of the switch's lever
const SPACING = 30; // between electrons, in thicknesses of a plain line
const MAX_PATH = 1100; // how far the electrons move in the wire over a whole run at most
const ELECTRON = 5.2; // radius

/** Light of the lamp against its rating. @param {RunRecord} record @param {number} timeS */
export function lampLight(record, timeS) {
  const { lamp } = record.header;
  if (!lamp) return 0;
  const volts = sampleAt(record.lampV, record, timeS);
  return volts > 0 ? (volts / lamp.volts) ** LIGHT_EXPONENT : 0;
}

/** How far the electrons have moved by a time, in thicknesses of a plain line. @param {RunRecord} record @param {number} timeS */
export function electronPath(record, timeS) {
  const charges = record.chargeC;
  const { chargeC } = forScales(record);
  const all = chargeC[chargeC.length - 1];
  return all > 0 && !record.header.idle ? (sampleAt(charges, record, timeS) / all) * MAX_PATH : 0;
}

/** Whether the switch is closed: the supply gives a voltage, or of a melt a current. @param {RunRecord} record @param {number} timeS */
export const switchClosed = (record, timeS) => sampleAt(record.header.melt ? record.currentA : record.supplyV, record, timeS) > 0;

/** The words for the voltage across the cell. @param {RunRecord} record @param {number} timeS */
export const voltageAcross = (record, timeS) =>
  `${voltageText(sampleAt(record.voltageV, record, timeS))} across the cell`;

/**
 * The circuit is drawn for a picture a thousand pixels wide, and larger in a wider one.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {Theme} theme @param {number} timeS
 */
export function drawCircuit(pen, record, layout, theme, timeS) {
  const larger = Math.max(layout.stroke, 1);
  pen.save();
  pen.scale(larger, larger);
  const [left, right] = layout.electrodes.map((rod) => (rod.x + rod.width / 2) / larger);
  drawParts(pen, record, { left, right, top: layout.electrodes[0].y / larger, width: layout.width / larger, narrow: layout.narrow }, theme, timeS);
  pen.restore();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record
 * @param {{left: number, right: number, top: number, width: number, narrow: boolean}} place left, right, top: of the rods, in their middle
 * @param {Theme} theme @param {number} timeS
 */
function drawParts(pen, record, place, theme, timeS) {
  const { left, right, top, width, narrow } = place;
  const wireY = clamp(top * 0.42, 26, 62 * theme.letters);
  const middle = (left + right) / 2;
  const box = { width: clamp((right - left) * 0.34, 84, 150 * theme.letters), height: clamp(top * 0.4, 32, 52 * theme.letters) };
  const size = clamp(width / 62, 11.5, 18) * theme.letters;
  if (box.height * 0.36 < size) box.width = clamp(besideWidth(pen, theme, size, box.height), box.width, Math.max(box.width, (right - left) * 0.44));
  const current = sampleAt(record.currentA, record, timeS);
  const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
  const ink = theme.colour("--fp-ink");
  pen.strokeStyle = ink;
  pen.lineWidth = 2;
  const supplyLeft = middle - box.width / 2 - (record.header.lamp ? (right - left) * 0.08 : 0);
  const supplyRight = supplyLeft + box.width;
  const lever = clamp((supplyLeft - left) * 0.4, 16, 34);
  const pivot = (left + supplyLeft - lever) / 2;
  pen.beginPath();
  pen.moveTo(left, top);
  pen.lineTo(left, wireY);
  pen.lineTo(pivot, wireY);
  pen.moveTo(pivot + lever, wireY);
  pen.lineTo(right, wireY);
  pen.lineTo(right, top);
  pen.stroke();
  for (const x of [left, right]) drawClip(pen, theme, x, top);
  const closed = switchClosed(record, timeS);
  const gap = closed ? null : { from: pivot, to: pivot + lever };
  drawElectrons(pen, record, theme, timeS, { left, right, top, wireY, supplyLeft, supplyRight, gap }, swapped);
  drawSwitch(pen, theme, pivot, wireY, lever, closed);
  if (record.header.lamp) {
    drawLamp(pen, record, theme, timeS, (supplyRight + right) / 2, wireY, box.height * 0.42);
  }
  drawSupply(pen, record, theme, timeS, supplyLeft, wireY, box, size, swapped);
  pen.fillStyle = ink;
  pen.font = `${size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  if (!narrow) {
    pen.fillStyle = theme.colour("--fp-quiet");
    pen.fillText(closed ? "switch" : "switch open", pivot + lever / 2, wireY + size * 1.3);
    pen.fillStyle = ink;
  }
  const readingX = record.header.lamp ? (supplyRight + right) / 2 : middle;
  pen.fillText(currentText(current), readingX, wireY + box.height * 0.5 + size * 0.95);
  if (record.header.lamp && current >= MIN_CURRENT_A && !narrow) {
    pen.fillText(voltageAcross(record, timeS), middle, wireY + box.height * 0.5 + size * 2.25);
  }
  if (current >= MIN_CURRENT_A && !narrow) {
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
  // above the wire, where there is room beside the supply for the whole of it, or for it with a shorter arrow
  const room = supply.left - 8 - from - pen.measureText("electrons").width;
  const [long, fits] = room > 38 || room < 28 ? [30, room > 38] : [room - 8, true];
  const y = wireY - size * (fits ? 1.15 : 0.8) - (fits ? 0 : supply.height / 2);
  pen.fillText("electrons", from + long + 8, y);
  arrow(pen, swapped ? from : from + long, y, swapped ? from + long : from);
  pen.textAlign = "center";
}

/** What holds the wire to a rod. @param {CanvasRenderingContext2D} pen @param {Theme} theme @param {number} x @param {number} top of the rod */
function drawClip(pen, theme, x, top) {
  pen.fillStyle = theme.colour("--fp-panel");
  pen.lineJoin = "round";
  pen.beginPath();
  for (const [dx, dy] of [[-4, -15], [4, -15], [7, 2], [-7, 2]]) pen.lineTo(x + dx, top + dy);
  pen.closePath();
  pen.fill();
  pen.stroke();
  pen.beginPath();
  pen.moveTo(x - 5.5, top - 6);
  pen.lineTo(x + 5.5, top - 6);
  pen.stroke();
  pen.lineJoin = "miter";
}

/**
 * @param {CanvasRenderingContext2D} pen @param {Theme} theme @param {number} x of its pivot
 * @param {number} y @param {number} lever its length @param {boolean} closed
 */
function drawSwitch(pen, theme, x, y, lever, closed) {
  const tilt = closed ? 0 : OPEN_ANGLE;
  pen.lineWidth = 4;
  pen.lineCap = "round";
  pen.beginPath();
  pen.moveTo(x, y);
  pen.lineTo(x + lever * Math.cos(tilt), y - lever * Math.sin(tilt));
  pen.stroke();
  pen.lineCap = "butt";
  pen.lineWidth = 2;
  pen.fillStyle = theme.colour("--fp-panel");
  for (const at of [x, x + lever]) {
    pen.beginPath();
    pen.arc(at, y, 3.6, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Theme} theme
 * @param {number} timeS
 * @param {{left: number, right: number, top: number, wireY: number, supplyLeft: number, supplyRight: number,
 *   gap: {from: number, to: number}|null}} wire gap: where an open switch breaks it
 * @param {boolean} swapped
 */
function drawElectrons(pen, record, theme, timeS, wire, swapped) {
  const moved = electronPath(record, timeS) * (swapped ? -1 : 1);
  /** @param {number} length @param {(s: number) => [number, number]} at */
  const along = (length, at) => {
    const first = ((moved % SPACING) + SPACING) % SPACING;
    for (let s = first; s < length - 4; s += SPACING) {
      const [x, y] = at(s);
      if (wire.gap && y === wire.wireY && x > wire.gap.from - 9 && x < wire.gap.to + 9) continue;
      drawElectron(pen, x, y, ELECTRON, theme);
    }
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
    glow.addColorStop(1, `${theme.colour("--fp-glow")}00`); // the same colour, #rrggbb, fully transparent
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
  pen.lineWidth = 2;
  pen.strokeStyle = seen > 0.3 ? theme.colour("--fp-ion-ink") : theme.colour("--fp-ink");
  pen.stroke();
  drawFilament(pen, x, y, radius, seen);
}

/** A wire into the bulb, wound in the middle, out again: the thicker the brighter. @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} radius @param {number} seen */
function drawFilament(pen, x, y, radius, seen) {
  const [turns, half] = [3, 0.42 * radius];
  const turn = (2 * half) / turns;
  pen.lineWidth = 1.6 + clamp(seen, 0, 1);
  pen.lineJoin = "round";
  pen.beginPath();
  pen.moveTo(x - radius, y);
  pen.lineTo(x - half, y);
  for (let k = 0; k < turns; k += 1) {
    const from = x - half + k * turn;
    pen.bezierCurveTo(from + 1.1 * turn, y - 0.75 * radius, from - 0.1 * turn, y - 0.75 * radius, from + turn, y);
  }
  pen.lineTo(x + radius, y);
  pen.stroke();
  pen.lineJoin = "miter";
}

/** How wide a supply is with its name and its reading in one line. @param {CanvasRenderingContext2D} pen @param {Theme} theme @param {number} size of the letters @param {number} line beside which the signs stand */
function besideWidth(pen, theme, size, line) {
  pen.font = `700 ${size}px ${theme.font}`;
  return pen.measureText("supply 12.0 V").width + 1.2 * line;
}

/**
 * Its name over its reading; in a low box beside it, if letters as large as those of the other readings have room there.
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Theme} theme
 * @param {number} timeS @param {number} left @param {number} wireY
 * @param {{width: number, height: number}} box @param {number} size of the other readings' letters @param {boolean} swapped
 */
function drawSupply(pen, record, theme, timeS, left, wireY, box, size, swapped) {
  const ink = theme.colour("--fp-ink");
  pen.fillStyle = theme.colour("--fp-panel");
  pen.strokeStyle = ink;
  pen.lineWidth = 2;
  rounded(pen, left, wireY - box.height / 2, box.width, box.height, 6);
  pen.fill();
  pen.stroke();
  const volts = sampleAt(record.supplyV, record, timeS);
  const line = Math.min(box.height, box.width * 0.4); // letters fit between the signs
  pen.textBaseline = "middle";
  pen.fillStyle = ink;
  const reading = volts > 0 ? voltageText(volts) : switchClosed(record, timeS) ? "on" : "off";
  const isBeside = line * 0.27 < size && besideWidth(pen, theme, size, line) <= box.width;
  const [named, read] = isBeside ? [size, size] : [line * 0.27, line * 0.36];
  const middle = left + box.width / 2;
  // beside: from the gap between the two, each towards its own side
  const right = pen.measureText(reading).width;
  pen.font = `${named}px ${theme.font}`;
  const gap = middle + (pen.measureText("supply").width + size * 0.3 - right) / 2;
  pen.textAlign = isBeside ? "left" : "center";
  pen.font = `700 ${read}px ${theme.font}`;
  pen.fillText(reading, isBeside ? gap : middle, wireY + (isBeside ? 0 : box.height * 0.18));
  pen.textAlign = isBeside ? "right" : "center";
  pen.fillStyle = theme.colour("--fp-quiet");
  pen.font = `${named}px ${theme.font}`;
  pen.fillText("supply", isBeside ? gap - size * 0.3 : middle, wireY - (isBeside ? 0 : box.height * 0.24));
  pen.textAlign = "center";
  pen.fillStyle = ink;
  pen.font = `700 ${line * 0.5}px ${theme.font}`;
  pen.fillText(swapped ? "+" : "−", left + line * 0.3, wireY);
  pen.fillText(swapped ? "−" : "+", left + box.width - line * 0.3, wireY);
}
