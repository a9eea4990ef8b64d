// What happens at the electrodes: ions or molecules of water arrive and react, atoms settle, molecules form.
// One event makes one atom or molecule; every event stands for the same amount made, so the events
// of all products come in the exact proportions of the run. Where more would come than can be followed, one in so many is
// drawn. Which are seen, and where, follows from the run and the time alone.

import { SHOW_S, defaultTimeLapse, paceOf } from "./clock.js";
import { placeOnFace, stackOf } from "./faces.js";
import { plainness, roundUp, scaleKept, showsPH } from "./scale.js";
import { streamOf } from "./random.js";
import { fieldAt, forScales, placeInTime, sampleAt, timesOfPassing, wiredSince } from "../record.js";
import { WIDE } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number}} Arriving */
/**
 * @typedef {{side: number, product: string, kind: string, tint: string, material: string, electrons: number, oxidation: boolean, x: number, y: number, faceX: number, age: number, endAge: number, ions: Arriving[], fromWater: boolean, released: string[]}} DischargeEvent
 * fromWater: its ions are of water, of which there are very few; released: formulae of what leaves the electrode beside the product;
 * age, endAge: seconds of the picture since it began, and when it ends */
/**
 * An ion that is asked to an electrode.
 * @typedef {{name: string, formula: string, x: number, y: number, inS: number, turns: boolean, awayX: number, awayY: number}} Called
 * inS: seconds of the picture until it is due, less than none once it is; turns: it is not discharged, and goes back so far
 */

const EVENT_SEED = 53;
// at the busier electrode, while the run plays at its usual speed: on the mean, and in its busiest part
const EVENTS_PER_S = 0.6;
const MOST_PER_S = 0.7;
const PARTS = 12; // of a run
const BUSIEST = 5; // times as many events as without a change, before fewer of them are drawn
// what one atom, molecule or electron stands for is the same in all solutions of a lesson, or their numbers would not compare;
// a tenfold of it where a whole run would have fewer electrons, or more
const USUAL_MOL = 5e-6;
const ELECTRONS = { least: 10, most: 200 };
export const FARADAY_C_MOL = 96485.33212; // CODATA 2018
export const EVENT_S = 2.8;
export const ARRIVAL_S = 0.8; // of that, until its ions are at the face
export const EXCHANGE_S = 1.6; // until its electrons have crossed
const MOST_FASTER = 1.8; // times, where the next event comes so soon
const LEAST_SHOWN_S = 0.45; // its product, where the next event needs the place
// in an ion's radii: how far from a face ions begin to come, and how far from their product those go that leave it
const REACH = { usual: 3.2, narrow: 2.3 };
const CALL_S = 1.5; // before an event its ions are on their way
const CLEAR_S = 0.8; // before it its place is cleared

/** How far what leaves an electrode goes, in an ion's radii. @param {Layout} layout */
export const releasedReach = ({ narrow }) => (narrow ? REACH.narrow : REACH.usual);

/** How far apart so many leave an electrode, in an ion's radii. @param {Layout} layout @param {number} count */
export const releasedSpacing = (layout, count) => 2 * stackOf(layout, count).scale;

/** @typedef {{oneMol: number, drawnOf: number}} EventScale amount (mol) of one atom, molecule or electron; drawnOf: one in so many is drawn */

/** @type {WeakMap<RunRecord, EventScale>} */
const scales = new WeakMap();

/** On what scale the events of a run are drawn: that of the run without changes, so that nothing counted becomes fewer by one. @param {RunRecord} record @returns {EventScale} */
export function eventScale(record) {
  const known = scales.get(record);
  if (known) return known;
  const plain = forScales(record);
  const oneMol = worthOf(plain) || worthOf(record);
  const scale = { oneMol, drawnOf: scaleKept(rarity(record, oneMol), rarity(plain, oneMol), BUSIEST) };
  scales.set(record, scale);
  return scale;
}

/** Amount (mol) that one atom or molecule made, or one electron, stands for; 0 where almost nothing flows. @param {RunRecord} record */
export const amountOfOneEvent = (record) => eventScale(record).oneMol;

/** How many times the usual amount that is. @param {RunRecord} record */
export const timesTheUsual = (record) => amountOfOneEvent(record) / USUAL_MOL;

/** Let one event stand for the same in all of several runs, so that what is drawn of them compares. @param {RunRecord[]} records */
export function onOneScale(records) {
  const flowing = records.filter(amountOfOneEvent);
  const oneMol = Math.max(...flowing.map(amountOfOneEvent));
  const drawnOf = Math.max(...flowing.map((record) => rarity(record, oneMol)));
  for (const record of flowing) scales.set(record, { oneMol, drawnOf });
}

/** The usual amount, or a tenfold of it that gives a countable number of electrons. @param {RunRecord} record */
function worthOf(record) {
  const allMol = record.chargeC[record.chargeC.length - 1] / FARADAY_C_MOL;
  if (record.header.idle || !(allMol > 0)) return 0; // almost nothing happens
  const { least, most } = ELECTRONS;
  let tens = 0;
  while (allMol > most * USUAL_MOL * 10 ** tens) tens += 1;
  while (allMol < least * USUAL_MOL * 10 ** tens) tens -= 1;
  return USUAL_MOL * 10 ** tens;
}

/** One in how many events is drawn, so that never too many are to be followed. @param {RunRecord} record @param {number} oneMol */
function rarity(record, oneMol) {
  if (!oneMol || record.header.idle) return 1;
  const endS = record.timeS[record.timeS.length - 1];
  const partS = endS / PARTS / defaultTimeLapse(endS); // of the picture
  const most = record.header.electrodes.map((electrode, side) => {
    const madeBy = Array.from({ length: PARTS + 1 }, (_, part) =>
      electrode.products.reduce((sum, { formula }) => sum + sampleAt(record.electrode(side).amountMol(formula), record, (part / PARTS) * endS), 0),
    );
    const inAPart = Math.max(...madeBy.slice(1).map((made, part) => made - madeBy[part]));
    return Math.max(madeBy[PARTS] / (EVENTS_PER_S * SHOW_S), inAPart / partS / MOST_PER_S);
  });
  return Math.max(1, roundUp(Math.max(...most) / oneMol));
}

/** Whether there is next to none of water's ion in the middle of the liquid. @param {RunRecord} record @param {string} formula @param {number} timeS */
function isScarce(record, formula, timeS) {
  const middleM = record.positionM[record.positionM.length - 1] / 2;
  return plainness(fieldAt(record.pH, record, placeInTime(record, timeS), middleM), formula) < 0.5;
}

/** A place in the liquid before a face. @param {Layout} layout @param {number} x @param {number} y @param {number} out */
function approach(layout, x, y, out) {
  const r = layout.ionRadius;
  for (const steps of [layout.narrow ? REACH.narrow : REACH.usual, 2.2, 1.3]) {
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
  const spacing = layout.ionRadius * stackOf(layout, count).spacing;
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

/** A product's number, as in the run without changes. @param {RunRecord} record @param {number} side @param {string} formula @param {number} place in the run itself */
function rankOf(record, side, formula, place) {
  const { products } = forScales(record).header.electrodes[side];
  const known = products.findIndex((each) => each.formula === formula);
  return known >= 0 ? known : products.length + place;
}

/**
 * Every event of a run, each where nothing else happens at its time.
 * @param {RunRecord} record @param {Layout} layout @param {number} drawnMol that passes from one drawn event to the next @param {number} paceS
 */
function arrangeAll(record, layout, drawnMol, paceS) {
  /** @type {import("./faces.js").Taken[]} */
  const taken = [];
  const due = record.header.electrodes.flatMap((electrode, side) =>
    electrode.products.flatMap((product, place) => {
      const which = rankOf(record, side, product.formula, place);
      return timesOfPassing(record.electrode(side).amountMol(product.formula), record, drawnMol).map((startS, number) => ({
        side, product, startS, random: streamOf(EVENT_SEED + 2 * which + side, number),
      }));
    }),
  );
  return due.sort((a, b) => a.startS - b.startS).map(({ side, product, startS, random }) => {
    const time = { fromS: startS - CLEAR_S * paceS, toS: startS + EVENT_S * paceS };
    const count = Math.max(product.consumed.count, 1);
    const place = placeOnFace(layout, side, count, random, taken, { ...time, released: product.released.reduce((sum, each) => sum + each.count, 0) });
    taken.push({ ...place, count, ...time });
    return arrange(record, layout, side, product, startS, place);
  });
}

/**
 * Each event with its end: sooner than usual where the next one comes to the same place, and then, if need be, faster.
 * @param {ReturnType<typeof arrange>[]} all in their order @param {RunRecord} record @param {Layout} layout @param {number} paceS
 */
function withEnds(all, record, layout, paceS) {
  const half = (/** @type {ReturnType<typeof arrange>} */ { ions, released }) => Math.max(1, ions.length * stackOf(layout, ions.length).spacing, released.length * releasedSpacing(layout, released.length)) / 2;
  return all.map((event, number) => {
    const { startS, x, y } = event;
    const next = all.slice(number + 1).find((each) => Math.sign(each.x - each.faceX) === Math.sign(x - event.faceX) && each.side === event.side
      && Math.abs(each.y - y) < (half(event) + half(each)) * layout.ionRadius);
    const dueS = next?.startS ?? Infinity;
    const leastS = startS + (EXCHANGE_S + LEAST_SHOWN_S) * paceS;
    const faster = Math.min(MOST_FASTER, Math.max(1, (leastS - startS) / (dueS - startS || Infinity)));
    const callS = wiredSince(record, startS, startS - CALL_S * paceS);
    return { ...event, callS, faster, endS: Math.min(startS + EVENT_S * paceS, Math.max(startS + (leastS - startS) / faster, dueS)) };
  });
}

/**
 * What an event needs before its face at an age: room for its ions to come, then for its product and for what leaves the electrode.
 * @param {ReturnType<typeof arrange>} event @param {Layout} layout @param {number} age @returns {import("./spacing.js").Zone}
 */
function zoneOf({ ions, released, x, y, faceX }, layout, age) {
  const r = layout.ionRadius;
  const out = Math.sign(x - faceX);
  const half = Math.max(0, ...ions.map((ion) => Math.abs(ion.y - y)), age > ARRIVAL_S ? ((released.length - 1) * releasedSpacing(layout, released.length) * r) / 2 : 0);
  const come = age < ARRIVAL_S ? ions.map(({ fromX }) => Math.abs(fromX - faceX)) : [];
  const leave = released.length && age > ARRIVAL_S ? [Math.abs(x - faceX) + releasedReach(layout) * r] : [];
  const far = faceX + out * (Math.max(Math.abs(x - faceX), ...come, ...leave) + WIDE * r);
  return { left: Math.min(faceX, far), right: Math.max(faceX, far), top: y - half - r, bottom: y + half + r, out };
}

/** @param {RunRecord} record @param {Layout} layout */
export function makeEvents(record, layout) {
  const { oneMol, drawnOf } = eventScale(record);
  const paceS = paceOf(record); // of the run, in a second of the picture
  const all = withEnds(arrangeAll(record, layout, oneMol * drawnOf, paceS), record, layout, paceS);
  /** @param {typeof all[0]} event @param {number} timeS */
  const ageOf = ({ startS, faster }, timeS) => (timeS > startS ? faster : 1) * ((timeS - startS) / paceS);
  /** @param {number} timeS */
  const during = (timeS) => all.filter(({ startS, endS }) => startS <= timeS && timeS <= endS);
  return {
    oneMol,
    drawnOf,
    /** Those that can be seen at a time. @param {number} timeS @returns {DischargeEvent[]} */
    at: (timeS) => during(timeS).map((event) => ({ ...event, age: ageOf(event, timeS), endAge: ageOf(event, event.endS) })),
    /** Room that they need at a time, or soon. @param {number} timeS */
    zones: (timeS) =>
      all
        .filter(({ startS, endS }) => timeS > startS - CLEAR_S * paceS && timeS <= endS)
        .map((event) => zoneOf(event, layout, ageOf(event, timeS))),
    /** When and where each is. @returns {import("./faces.js").Taken[]} */
    places: () => all.map(({ startS, endS, x, y, ions }) => ({ x, y, count: Math.max(ions.length, 1), fromS: startS - CLEAR_S * paceS, toS: endS })),
    /** All that have begun at an electrode by a time. @param {number} side @param {number} timeS */
    begunBy: (side, timeS) => all.filter((event) => event.side === side && event.startS <= timeS),
    /**
     * Ions that are soon to be discharged: where they are to be, and how soon.
     * @param {number} timeS @returns {Called[]}
     */
    calls(timeS) {
      /** @type {Called[]} */
      const found = [];
      all.forEach(({ startS, callS, ions, fromWater }, number) => {
        if (startS <= timeS || callS > timeS) return;
        if (fromWater) return; // the crowd has next to none of them
        ions.forEach(({ formula, fromX, fromY }, k) => {
          found.push({ name: `${number}.${k}`, formula, x: fromX, y: fromY, inS: (startS - timeS) / paceS, turns: false, awayX: 0, awayY: 0 });
        });
      });
      return found;
    },
  };
}
