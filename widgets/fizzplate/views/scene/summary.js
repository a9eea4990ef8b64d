// What the scene draws at a moment, as values: for the text of its scales, and for tests.

import { MIN_CURRENT_A, roundAmountText } from "../kit/format.js";
import { releasedCm3 } from "./motion/bubbles.js";
import { electronPath, lampLight, switchClosed } from "./circuit.js";
import { layerEnlarged } from "./deposit.js";
import { notesBeside } from "./labels.js";
import { sampleAt } from "./record.js";

/**
 * @param {import("./record.js").RunRecord} record @param {import("./stage.js").Stage} stage
 * @param {{timeS: number, isAtRest: boolean, surface: import("./stage.js").Surface, faster: number}} view faster: than the run is played at first
 */
export function summaryOf(record, { crowd, events, bubbles, layout, water }, { timeS, isAtRest, surface, faster }) {
  const isSwapped = sampleAt(record.swapped, record, timeS) > 0.5;
  const endS = record.timeS[record.timeS.length - 1];
  const hasGas = [0, 1].some((side) => releasedCm3(record, side, endS) > 0);
  const isOff = sampleAt(record.currentA, record, timeS) < MIN_CURRENT_A;
  return {
    counts: crowd.counts(),
    driftScale: isAtRest || record.header.melt ? 0 : crowd.driftScale * faster,
    eventMol: events.oneMol,
    eventStandsFor: events.oneMol && surface === "explained" ? eventText(events) : "",
    bubbleCm3: hasGas && !record.header.melt ? bubbles.oneCm3 : 0,
    layerEnlarged: record.header.melt ? 0 : layerEnlarged(record),
    notesBeside: notesBeside(record, layout, timeS, Boolean(water)),
    switchClosed: switchClosed(record, timeS),
    bubblesDrawn: [0, 1].map((side) => bubbles.numberBy(side, timeS)),
    electronDirection: isOff ? 0 : isSwapped ? -1 : 1,
    electronPath: electronPath(record, timeS),
    lampLight: lampLight(record, timeS),
    ionRadius: layout.ionRadius,
    electrodes: layout.electrodes,
  };
}

/** @param {{oneMol: number, drawnOf: number}} scale of events */
function eventText({ oneMol, drawnOf }) {
  const each = `each atom or molecule made stands for ${roundAmountText(oneMol)}`;
  return drawnOf > 1 ? `${each}, one in ${drawnOf} of them is drawn` : each;
}
