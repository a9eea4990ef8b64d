// How many electrons have passed at both electrodes: whole numbers, from the charge of the run, on the scale on which
// events are drawn. A current passes every part of a circuit, so both electrodes always have the same number; and whatever
// is changed during a run, none that has passed is taken back.

import { roundAmountText } from "../../kit/format.js";
import { sampleAt } from "../record.js";
import { amountOfOneEvent, FARADAY_C_MOL, timesTheUsual } from "./events.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {{passed: number, swapped: number}} Tally electrons that have passed at either electrode, and how many of them with the wires swapped */

const ROUNDING = 1e-4; // of an electron: what 32-bit floats leave out

/** The scale in words, or nothing where no event is drawn. @param {RunRecord} run */
export function electronScaleText(run) {
  const oneMol = amountOfOneEvent(run);
  return oneMol ? `one electron drawn stands for ${roundAmountText(oneMol)} of electrons` : "";
}

/** What is to be said where a number of electrons does not compare with those of other solutions, or nothing. @param {RunRecord} run */
export function unusualScaleText(run) {
  const times = timesTheUsual(run);
  if (!times || Math.abs(Math.log10(times)) < 0.5) return "";
  const much = times > 1 ? `${Math.round(times)} times as much as` : `one ${ORDINALS[Math.round(-Math.log10(times))] ?? "small part"} of what it stands for`;
  return `Here one electron stands for ${roundAmountText(amountOfOneEvent(run))}, ${much} in most runs.`;
}

const ORDINALS = ["", "tenth", "hundredth", "thousandth"];

/** @param {RunRecord} run @param {number} timeS */
function passedBy(run, timeS) {
  const oneMol = amountOfOneEvent(run);
  return oneMol ? Math.floor(sampleAt(run.chargeC, run, timeS) / FARADAY_C_MOL / oneMol + ROUNDING) : 0;
}

/** @param {RunRecord} run @param {number} timeS of the run @returns {Tally} */
export function electronsPassed(run, timeS) {
  let swapped = 0;
  run.timeS.forEach((endS, k) => {
    const startS = run.timeS[k - 1];
    if (!k || startS >= timeS) return;
    // wires are turned round halfway between two samples
    const turnS = run.swapped[k] === run.swapped[k - 1] ? endS : (startS + endS) / 2;
    for (const [fromS, toS, way] of [[startS, turnS, run.swapped[k - 1]], [turnS, endS, run.swapped[k]]]) {
      if (way > 0.5 && fromS < timeS) swapped += passedBy(run, Math.min(toS, timeS)) - passedBy(run, fromS);
    }
  });
  return { passed: passedBy(run, timeS), swapped };
}
