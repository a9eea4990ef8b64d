// Whether current flows, for those who see neither meter nor lamp: said at the switch, and when it changes much.

import { lampLight } from "../scene/circuit.js";
import { sampleAt } from "../scene/record.js";
import { currentText } from "../kit/format.js";
import { write } from "./layout.js";

const LEAST_A = 5e-7;
const MUCH = 0.25; // of the current that was said last
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
  let saidA = -1;
  let saidLamp = "";
  write(node, "");
  return {
    update(timeS) {
      if (!on) return; // the sentence says that the switch is open
      const nowA = sampleAt(record.currentA, record, timeS);
      const lamp = lampText(record, timeS);
      if (lamp === saidLamp && saidA >= 0 && Math.abs(nowA - saidA) <= MUCH * saidA) return;
      [saidA, saidLamp] = [nowA, lamp];
      write(node, nowA < LEAST_A ? "No current flows." : `Current flows: ${currentText(nowA)}${lamp}.`);
    },
  };
}
