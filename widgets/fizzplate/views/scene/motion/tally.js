// How many electrons have passed at both electrodes: whole numbers, from the charge of the run, on the scale on which
// events are drawn. A current passes every part of a circuit, so both electrodes always have the same number.

import { roundAmountText } from "../../kit/format.js";
import { sampleAt } from "../record.js";
import { amountOfOneEvent } from "./events.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {{taken: number, given: number}} Tally taken from the wire at the cathode, given to it at the anode */

export const FARADAY_C_MOL = 96485.33212; // CODATA 2018
const ROUNDING = 1e-4; // of an electron: what 32-bit floats leave out

/** Amount (mol) of electrons that one drawn electron stands for; 0 where almost nothing flows. @param {RunRecord} run */
export const electronAmountMol = (run) => amountOfOneEvent(run);

/** The scale in words, or nothing where no event is drawn. @param {RunRecord} run */
export function electronScaleText(run) {
  const oneMol = electronAmountMol(run);
  return oneMol ? `one electron drawn stands for ${roundAmountText(oneMol)} of electrons` : "";
}

/** @param {RunRecord} run @param {number} timeS of the run @returns {Tally} */
export function electronsPassed(run, timeS) {
  const oneMol = electronAmountMol(run);
  const charge = sampleAt(run.chargeC, run, timeS);
  const passed = oneMol ? Math.floor(charge / FARADAY_C_MOL / oneMol + ROUNDING) : 0;
  return { taken: passed, given: passed };
}
