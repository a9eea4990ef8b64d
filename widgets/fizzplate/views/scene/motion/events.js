// What happens at the electrodes: ions or molecules of water arrive and react, atoms settle, molecules form.
// One event makes one atom or molecule; every event stands for the same amount made, so the events
// of all products come in the exact proportions of the run. Which are seen, and where, follows from the
// run and the time alone.

import { SHOW_S, defaultTimeLapse } from "./clock.js";
import { roundFigure } from "./scale.js";
import { streamOf } from "./random.js";
import { sampleAt, timesOfPassing } from "../record.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number}} Arriving */
/** @typedef {{side: number, product: string, kind: string, tint: string, electrons: number, oxidation: boolean, x: number, y: number, age: number, ions: Arriving[], released: string[]}} DischargeEvent released: formulae of what leaves the electrode beside the product */

/** @typedef {{name: string, formula: string, x: number, y: number, inRunS: number}} Called */

const EVENT_SEED = 53;
const EVENTS_PER_S = 1.1; // at the busier electrode, while the run plays at its usual speed
export const EVENT_S = 2.0;
const CALL_S = 0.6; // before an event its ions are on their way

/** @type {WeakMap<RunRecord, number>} */
const amounts = new WeakMap();

/** Amount (mol) that one drawn atom or molecule stands for. @param {RunRecord} record */
export function amountOfOneEvent(record) {
  const known = amounts.get(record) ?? findAmount(record);
  amounts.set(record, known);
  return known;
}

/** @param {RunRecord} record */
function findAmount(record) {
  if (record.header.idle) return 0; // almost nothing happens
  let most = 0;
  record.header.electrodes.forEach((electrode, side) => {
    let made = 0;
    for (const { formula } of electrode.products) {
      made += last(record.electrode(side).amountMol(formula));
    }
    most = Math.max(most, made);
  });
  return roundFigure(most / (EVENTS_PER_S * SHOW_S));
}

/** @param {Float32Array} values */
const last = (values) => values[values.length - 1] ?? 0;

/** A place in the liquid before a face. @param {Layout} layout @param {number} x @param {number} y @param {number} out */
function approach(layout, x, y, out) {
  const r = layout.ionRadius;
  for (const steps of [3.6, 2.4, 1.3]) {
    const fromX = x + out * r * steps;
    if (layout.inside(fromX, y)) return { fromX, fromY: y };
  }
  return { fromX: x + out * r * 1.15, fromY: y };
}

/** Where on a rod an event takes place, and which way is out of it. @param {Layout} layout @param {number} side @param {() => number} random */
function placeOnFace(layout, side, random) {
  const r = layout.ionRadius;
  const rod = layout.electrodes[side];
  const isRight = (side === 0) === random() < layout.innerShare;
  const [faceX, out] = isRight ? [rod.x + rod.width, 1] : [rod.x, -1];
  // room for four ions above one another
  const low = layout.liquidTop + 2 * r;
  const y = low + random() * Math.max(rod.y + rod.height - low - 2 * r, 1);
  return { faceX, out, x: faceX + out * r * 1.15, y };
}

/**
 * @param {RunRecord} record @param {Layout} layout @param {number} side
 * @param {import("../record.js").Product} product @param {number} startS @param {() => number} random
 */
function arrange(record, layout, side, product, startS, random) {
  const { faceX, out, x, y } = placeOnFace(layout, side, random);
  const swapped = sampleAt(record.swapped, record, startS) > 0.5;
  const { formula, count } = product.consumed;
  const spacing = layout.ionRadius * (count > 2 ? 1.15 : 1.6); // four find room, two can be read
  const ions = Array.from({ length: count }, (_, k) => {
    const ionY = y + (k - (count - 1) / 2) * spacing;
    return { formula, ...approach(layout, faceX, ionY, out), x, y: ionY };
  });
  return {
    startS,
    side,
    product: product.formula,
    kind: product.kind,
    tint: product.tint,
    electrons: product.electrons,
    oxidation: (side === 1) !== swapped,
    x,
    y,
    ions,
    released: product.released.flatMap((each) => Array(each.count).fill(each.formula)),
  };
}

/** Every event of a run. @param {RunRecord} record @param {Layout} layout @param {number} oneMol amount of one event */
function arrangeAll(record, layout, oneMol) {
  return record.header.electrodes.flatMap((electrode, side) =>
    electrode.products.flatMap((product, which) =>
      timesOfPassing(record.electrode(side).amountMol(product.formula), record, oneMol).map((startS, number) =>
        arrange(record, layout, side, product, startS, streamOf(EVENT_SEED + 2 * which + side, number)),
      ),
    ),
  );
}

/** @param {RunRecord} record @param {Layout} layout */
export function makeEvents(record, layout) {
  const oneMol = amountOfOneEvent(record);
  const paceS = defaultTimeLapse(record.timeS[record.timeS.length - 1]); // of the run, in a second of the picture
  const all = arrangeAll(record, layout, oneMol);
  return {
    oneMol,
    /** Those that can be seen at a time. @param {number} timeS @returns {DischargeEvent[]} */
    at: (timeS) =>
      all
        .filter(({ startS }) => startS <= timeS && timeS <= startS + EVENT_S * paceS)
        .map((event) => ({ ...event, age: (timeS - event.startS) / paceS })),
    /** All that have begun at an electrode by a time. @param {number} side @param {number} timeS */
    begunBy: (side, timeS) => all.filter((event) => event.side === side && event.startS <= timeS),
    /**
     * Ions that are soon to be discharged: where they are to be, and how soon.
     * @param {number} timeS @returns {Called[]}
     */
    calls(timeS) {
      /** @type {Called[]} */
      const found = [];
      all.forEach(({ startS, ions }, number) => {
        if (startS <= timeS || startS > timeS + CALL_S * paceS) return;
        ions.forEach(({ formula, fromX, fromY }, k) => {
          // the crowd shows pH with the ions of water, and water is no part of it
          if (formula === "H+" || formula === "OH-" || formula === "H2O") return;
          found.push({ name: `${number}.${k}`, formula, x: fromX, y: fromY, inRunS: startS - timeS });
        });
      });
      return found;
    },
  };
}
