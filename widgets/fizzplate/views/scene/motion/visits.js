// Ions that drift to an electrode and are not discharged there: now and then one comes up to it, and turns back. Which
// kinds do so follows from the run; how often is a choice. While nothing is explained every kind turns back, so that the
// picture does not tell which is discharged.

import { MIN_CURRENT_A } from "../../kit/format.js";
import { fieldAt, placeInTime, sampleAt, wiredSince } from "../record.js";
import { paceOf } from "./clock.js";
import { placeOnFace } from "./faces.js";
import { streamOf } from "./random.js";
import { showsPH } from "./scale.js";
import { WIDE } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./events.js").Called} Called */
/** @typedef {{name: string, startS: number, callS: number, side: number, formula: string, x: number, y: number, awayX: number, awayY: number}} Visit */

const VISIT_SEED = 71;
const VISIT_EVERY_S = 3.1; // of the picture, at each electrode
const COMING_S = 1.5; // on its way
export const TURN_S = 1.4; // back into the liquid
const LEAST_ROOM = 2.2; // of an ion's radius, to whatever else happens at the electrode
const HARDLY = 0.02; // of the most concentrated ion: of less none is drawn

/** What an electrode takes from the liquid in the run. @param {RunRecord} record @param {number} side */
const discharged = (record, side) => new Set(record.header.electrodes[side].products.map(({ consumed }) => consumed.formula));

/**
 * Kinds that drift to an electrode at a time, each with how much of it there is in the middle.
 * @param {RunRecord} record @param {number} side @param {number} timeS @param {Set<string>} without
 */
function comers(record, side, timeS, without) {
  const isCathode = (side === 0) !== sampleAt(record.swapped, record, timeS) > 0.5;
  const when = placeInTime(record, timeS);
  const middleM = record.positionM[record.positionM.length - 1] / 2;
  const found = record.header.species
    .filter((each) => Math.sign(each.charge) === (isCathode ? 1 : -1) && !showsPH(each) && !without.has(each.formula))
    .map(({ formula }) => ({ formula, amount: Math.max(0, fieldAt(record.concentration(formula), record, when, middleM)) }));
  const most = Math.max(0, ...record.header.species.map(({ formula }) => fieldAt(record.concentration(formula), record, when, middleM)));
  return found.filter(({ amount }) => amount > HARDLY * most);
}

/** @param {{formula: string, amount: number}[]} list @param {number} chance 0 to 1 */
function pick(list, chance) {
  let left = chance * list.reduce((total, { amount }) => total + amount, 0);
  return list.find(({ amount }) => (left -= amount) <= 0) ?? list[list.length - 1];
}

/** How far an ion goes back: out and to one side, or down from beside a rod. @param {Layout} layout @param {number} side @param {number} x @param {number} y @param {number} out */
function wayBack(layout, side, x, y, out) {
  const r = layout.ionRadius;
  const rodEnd = layout.electrodes[side].y + layout.electrodes[side].height;
  for (const [along, across] of [[2.8, 1.5], [2.8, -1.5], [1.6, 2.2], [1.6, -2.2]]) {
    if (layout.free(x + out * along * r, y + across * r)) return { awayX: out * along * r, awayY: across * r };
  }
  // beside a rod or below its end, as low as there is liquid
  for (const below of [1.5, 1.2, 0.9, 0.5]) if (layout.inside(x - out * 0.6 * r, rodEnd + below * r)) return { awayX: -out * 0.6 * r, awayY: rodEnd + below * r - y };
  for (const [along, across] of [[1.2, 0], [0.6, 0], [0, 1.2], [0, -1.2]]) if (layout.inside(x + out * along * r, y + across * r)) return { awayX: out * along * r, awayY: across * r };
  return { awayX: 0, awayY: 0 };
}

/**
 * @param {RunRecord} record @param {Layout} layout @param {boolean} explained whether those that are discharged are left out
 * @param {import("./faces.js").Taken[]} taken places and times of what else happens at the electrodes
 */
export function makeVisits(record, layout, explained, taken) {
  const endS = record.timeS[record.timeS.length - 1];
  const paceS = paceOf(record);
  /** @type {Visit[]} */
  const all = [];
  for (const side of [0, 1]) {
    const without = explained ? discharged(record, side) : new Set();
    for (let number = 0; ; number += 1) {
      const startS = (number + 0.6 + 0.5 * side) * VISIT_EVERY_S * paceS;
      if (startS > endS) break;
      const random = streamOf(VISIT_SEED + side, number);
      const kinds = sampleAt(record.currentA, record, startS) < MIN_CURRENT_A ? [] : comers(record, side, startS, without);
      if (!kinds.length) continue;
      const { x, y, out, room } = placeOnFace(layout, side, 1, random, taken, { fromS: startS - COMING_S * paceS, toS: startS + TURN_S * paceS });
      if (room < LEAST_ROOM * layout.ionRadius) continue;
      const { formula } = pick(kinds, random());
      all.push({ name: `visit ${side}.${number}`, startS, callS: wiredSince(record, startS, startS - COMING_S * paceS), side, formula, x, y, ...wayBack(layout, side, x, y, out) });
    }
  }
  return {
    all,
    /** Places that are kept for them. @param {number} timeS */
    blocked: (timeS) => all.filter(({ startS }) => Math.abs(timeS - startS) < 0.5 * COMING_S * paceS).map(({ x, y }) => ({ x, y, wide: WIDE })),
    /** @param {number} timeS @returns {Called[]} */
    calls: (timeS) =>
      all
        .filter(({ startS, callS }) => timeS > callS && timeS < startS + TURN_S * paceS)
        .map((visit) => ({ ...visit, turns: true, inS: (visit.startS - timeS) / paceS })),
  };
}
