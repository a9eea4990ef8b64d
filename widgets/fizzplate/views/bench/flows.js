// Whether current flows, for those who see neither meter nor lamp: when the cell is switched on, when something is changed, when
// the run stands still, and when the current changes much.

import { lampLight } from "../scene/circuit.js";
import { sampleAt } from "../scene/record.js";
import { write } from "../kit/elements.js";
import { MIN_CURRENT_A, currentText } from "../kit/format.js";

const MIN_CHANGE = 0.25; // of the current in the last message, while the run plays
const BRIGHT = 0.1; // of the lamp's full light
const DARK = 4e-4; // less is not seen to glow

function lampText(record, timeS) {
  if (!record.header.lamp) return "";
  const light = lampLight(record, timeS);
  if (light < DARK) return ", the lamp stays dark";
  return light < BRIGHT ? ", the lamp glows faintly" : ", the lamp glows";
}

/** What the meter and the lamp of a cell show. */
function flowText(record, timeS) {
  const currentA = sampleAt(record.currentA, record, timeS);
  return currentA < MIN_CURRENT_A ? "No current flows." : `Current flows: ${currentText(currentA)}${lampText(record, timeS)}.`;
}

/**
 * @param node where it is said @param {{label: string, record: any}[]} cells one, or two side by side @param {boolean} on whether the switch is closed
 * @param {{isPlaying: () => boolean, stageAt: (timeS: number) => number}} run stageAt: which of its stages a time lies in
 */
export function mountFlows(node, cells, on, { isPlaying, stageAt }) {
  const last = cells.map(() => ({ currentA: -1, lamp: "" }));
  let lastStage = -1;
  write(node, "");
  return {
    update(timeS) {
      if (!on) return; // the sentence says that the switch is open
      const now = cells.map(({ record }) => ({ currentA: sampleAt(record.currentA, record, timeS), lamp: lampText(record, timeS) }));
      const isNear = now.every(({ currentA, lamp }, k) => lamp === last[k].lamp && Math.abs(currentA - last[k].currentA) <= MIN_CHANGE * last[k].currentA);
      const stage = stageAt(timeS);
      if (isPlaying() && isNear && stage === lastStage) return;
      last.splice(0, last.length, ...now);
      lastStage = stage;
      write(node, cells.map(({ label, record }) => (cells.length > 1 ? `${label}: ` : "") + flowText(record, timeS)).join(" "));
    },
  };
}
