// What happens at the electrodes: ions or molecules of water arrive and react, atoms settle, molecules form.
// One event makes one atom or molecule; every event stands for the same amount made, so the events
// of all products come in the exact proportions of the run. Which are seen, and where, follows from the
// run and the time alone.

import { SHOW_S, defaultTimeLapse } from "./clock.js";
import { placeOnFace, spacingOf } from "./faces.js";
import { plainness, roundFigure, showsPH } from "./scale.js";
import { streamOf } from "./random.js";
import { fieldAt, placeInTime, sampleAt, timesOfPassing } from "../record.js";
import { WIDE } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number}} Arriving */
/** @typedef {{side: number, product: string, kind: string, tint: string, material: string, electrons: number, oxidation: boolean, x: number, y: number, faceX: number, age: number, ions: Arriving[], fromWater: boolean, released: string[]}} DischargeEvent fromWater: its ions are of water, of which there are very few; released: formulae of what leaves the electrode beside the product */
/**
 * An ion that is asked to an electrode.
 * @typedef {{name: string, formula: string, x: number, y: number, inS: number, turns: boolean, awayX: number, awayY: number}} Called
 * inS: seconds of the picture until it is due, less than none once it is; turns: it is not discharged, and goes back so far
 */

const EVENT_SEED = 53;
// at the busier electrode, while the run plays at its usual speed: on the mean, and in its busiest part
const EVENTS_PER_S = 0.4;
const MOST_PER_S = 0.6;
const PARTS = 12; // of a run
export const EVENT_S = 2.8;
const CALL_S = 1.5; // before an event its ions are on their way
const CLEAR_S = 0.8; // before it its place is cleared

/** @type {WeakMap<RunRecord, number>} */
const amounts = new WeakMap();

/** Amount (mol) that one drawn atom or molecule stands for. @param {RunRecord} record */
export function amountOfOneEvent(record) {
  const known = amounts.get(record) ?? findAmount(record);
  amounts.set(record, known);
  return known;
}

/** So much that at the busier electrode enough events come in the whole run, and never too many to be followed. @param {RunRecord} record */
function findAmount(record) {
  if (record.header.idle) return 0; // almost nothing happens
  const endS = record.timeS[record.timeS.length - 1];
  const partS = endS / PARTS / defaultTimeLapse(endS); // of the picture
  let least = 0;
  record.header.electrodes.forEach((electrode, side) => {
    const madeBy = Array.from({ length: PARTS + 1 }, (_, part) =>
      electrode.products.reduce((sum, { formula }) => sum + sampleAt(record.electrode(side).amountMol(formula), record, (part / PARTS) * endS), 0),
    );
    const inAPart = Math.max(...madeBy.slice(1).map((made, part) => made - madeBy[part]));
    least = Math.max(least, madeBy[PARTS] / (EVENTS_PER_S * SHOW_S), inAPart / partS / MOST_PER_S);
  });
  return roundFigure(least);
}

/** Whether there is next to none of water's ion in the middle of the liquid. @param {RunRecord} record @param {string} formula @param {number} timeS */
function isScarce(record, formula, timeS) {
  const middleM = record.positionM[record.positionM.length - 1] / 2;
  return plainness(fieldAt(record.pH, record, placeInTime(record, timeS), middleM), formula) < 0.5;
}

/** A place in the liquid before a face. @param {Layout} layout @param {number} x @param {number} y @param {number} out */
function approach(layout, x, y, out) {
  const r = layout.ionRadius;
  for (const steps of [3.2, 2.2, 1.3]) {
    const fromX = x + out * r * steps;
    if (layout.inside(fromX, y)) return { fromX, fromY: y };
  }
  return { fromX: x + out * r * 1.15, fromY: y };
}

/**
 * @param {RunRecord} record @param {Layout} layout @param {number} side
 * @param {import("../record.js").Product} product @param {number} startS @param {ReturnType<typeof placeOnFace>} place
 */
function arrange(record, layout, side, product, startS, { faceX, out, x, y }) {
  const swapped = sampleAt(record.swapped, record, startS) > 0.5;
  const { formula, count } = product.consumed;
  const spacing = layout.ionRadius * spacingOf(count);
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
    material: record.header.electrodes[side].material,
    electrons: product.electrons,
    oxidation: (side === 1) !== swapped,
    x,
    y,
    faceX,
    ions,
    fromWater: formula === "H2O" || (showsPH({ formula }) && isScarce(record, formula, startS)),
    released: product.released.flatMap((each) => Array(each.count).fill(each.formula)),
  };
}

/**
 * Every event of a run, each where nothing else happens at its time.
 * @param {RunRecord} record @param {Layout} layout @param {number} oneMol amount of one event @param {number} paceS
 */
function arrangeAll(record, layout, oneMol, paceS) {
  /** @type {import("./faces.js").Taken[]} */
  const taken = [];
  const due = record.header.electrodes.flatMap((electrode, side) =>
    electrode.products.flatMap((product, which) =>
      timesOfPassing(record.electrode(side).amountMol(product.formula), record, oneMol).map((startS, number) => ({
        side, product, startS, random: streamOf(EVENT_SEED + 2 * which + side, number),
      })),
    ),
  );
  return due.sort((a, b) => a.startS - b.startS).map(({ side, product, startS, random }) => {
    const time = { fromS: startS - CLEAR_S * paceS, toS: startS + EVENT_S * paceS };
    const count = Math.max(product.consumed.count, 1);
    const place = placeOnFace(layout, side, count, random, taken, { ...time, isWide: product.released.length > 0 });
    taken.push({ ...place, count, ...time });
    return arrange(record, layout, side, product, startS, place);
  });
}

/** Where an event's ions stand, and later what leaves the electrode. @param {ReturnType<typeof arrange>} event @param {Layout} layout */
function placesOf({ ions, released, x, y, faceX }, layout) {
  const places = [...ions.flatMap((ion) => [{ x: ion.x, y: ion.y, wide: WIDE }, { x: ion.fromX, y: ion.fromY, wide: WIDE }]), { x, y, wide: WIDE }];
  const leaving = { x: x + Math.sign(x - faceX) * 2.4 * layout.ionRadius, wide: WIDE };
  return released.length ? [...places, ...[-1, 0, 1].map((k) => ({ ...leaving, y: y + 2 * k * layout.ionRadius }))] : places;
}

/** @param {RunRecord} record @param {Layout} layout */
export function makeEvents(record, layout) {
  const oneMol = amountOfOneEvent(record);
  const paceS = defaultTimeLapse(record.timeS[record.timeS.length - 1]); // of the run, in a second of the picture
  const all = arrangeAll(record, layout, oneMol, paceS);
  /** @param {number} timeS */
  const during = (timeS) => all.filter(({ startS }) => startS <= timeS && timeS <= startS + EVENT_S * paceS);
  return {
    oneMol,
    /** Those that can be seen at a time. @param {number} timeS @returns {DischargeEvent[]} */
    at: (timeS) => during(timeS).map((event) => ({ ...event, age: (timeS - event.startS) / paceS })),
    /** Places that they take at a time, or soon. @param {number} timeS */
    blocked: (timeS) => all.filter(({ startS }) => timeS > startS - CLEAR_S * paceS && timeS <= startS + EVENT_S * paceS).flatMap((event) => placesOf(event, layout)),
    /** When and where each is. @returns {import("./faces.js").Taken[]} */
    places: () => all.map(({ startS, x, y, ions }) => ({ x, y, count: Math.max(ions.length, 1), fromS: startS - CLEAR_S * paceS, toS: startS + EVENT_S * paceS })),
    /** All that have begun at an electrode by a time. @param {number} side @param {number} timeS */
    begunBy: (side, timeS) => all.filter((event) => event.side === side && event.startS <= timeS),
    /**
     * Ions that are soon to be discharged: where they are to be, and how soon.
     * @param {number} timeS @returns {Called[]}
     */
    calls(timeS) {
      /** @type {Called[]} */
      const found = [];
      all.forEach(({ startS, ions, fromWater }, number) => {
        if (startS <= timeS || startS > timeS + CALL_S * paceS) return;
        if (fromWater) return; // the crowd has next to none of them
        ions.forEach(({ formula, fromX, fromY }, k) => {
          found.push({ name: `${number}.${k}`, formula, x: fromX, y: fromY, inS: (startS - timeS) / paceS, turns: false, awayX: 0, awayY: 0 });
        });
      });
      return found;
    },
  };
}
