// Whether current flows, for those who see neither meter nor lamp: when the cell is switched on, and when it changes much.

import { lampLight } from "../scene/circuit.js";
import { sampleAt } from "../scene/record.js";
import { write } from "../kit/elements.js";
import { MIN_CURRENT_A, currentText } from "../kit/format.js";

const MIN_CHANGE = 0.25; // of the current in the last message
const BRIGHT = 0.1; // of the lamp's full light
const DARK = 4e-4; // less is not seen to glow

function lampText(record, timeS) {
  if (!record.header.lamp) return "";
  const light = lampLight(record, timeS);
  if (light < DARK) return ", the lamp stays dark";
  return light < BRIGHT ? ", the lamp glows faintly" : ", the lamp glows";
}

/** @param node where it is said @param record of the run @param {boolean} on whether the cell is switched on */
export function mountFlows(node, record, on) {
  let lastA = -1;
  let lastLamp = "";
  write(node, "");
  return {
    update(timeS) {
      if (!on) return; // the sentence says that the switch is open
      const currentA = sampleAt(record.currentA, record, timeS);
      const lamp = lampText(record, timeS);
      if (lamp === lastLamp && lastA >= 0 && Math.abs(currentA - lastA) <= MIN_CHANGE * lastA) return;
      [lastA, lastLamp] = [currentA, lamp];
      write(node, currentA < MIN_CURRENT_A ? "No current flows." : `Current flows: ${currentText(currentA)}${lamp}.`);
    },
  };
}
