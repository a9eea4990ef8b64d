// The crowd of drawn ions: as many of each, and where, as the model's concentrations say.
// Each wanders, and drifts at a speed in proportion to the model's; where the crowd becomes denser
// than the model says, it spreads, as diffusion and mixing do. Drawn anew, every ion has a place of its own that
// the model's numbers choose, so that a time has one picture, and the next time one much like it.

import { fieldAt } from "../record.js";
import { placeInLayout } from "../vessels/vessel.js";
import { binAt, BINS, makeDistribution, pickBin, spreading, sum } from "./distribution.js";
import { seededRandom, streamOf } from "./random.js";
import { driftScaleOf, showsPH } from "./scale.js";
import { isCrowded, moveOrBounce, nearestIon, pushApart } from "./spacing.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../record.js").Species} Species */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("../record.js").Instant} Moment */
/** @typedef {{formula: string, x: number, y: number, vx: number, vy: number, age: number, bin: number, called?: string}} Ion called: to an event at an electrode */

const CROWD_SEED = 20;
export const WANDER_PX_S = 26;
const SPREAD_PX_S = 34;
const FADE_IN_S = 0.5;
const ATTEMPTS = { free: 60, inBin: 300, anywhere: 400 }; // to find a place: a free one, one in its bin, any

/** A stream of chance for each ion, so that a time has one picture. @param {number} which species @param {number} number of the ion */
const ownChance = (which, number) => streamOf(CROWD_SEED + which, number);

/** Remove ions that have drifted to where the model has none of them. @param {Ion[]} list @param {Float64Array} goal number by bin */
function removeSpare(list, goal) {
  const spare = new Float64Array(BINS);
  for (const ion of list) spare[ion.bin] += 1;
  for (let bin = 0; bin < BINS; bin += 1) spare[bin] -= goal[bin];
  for (let k = list.length - 1; k >= 0; k -= 1) {
    if (spare[list[k].bin] < 1) continue;
    spare[list[k].bin] -= 1;
    list.splice(k, 1);
  }
}

/** By how many ions each bin falls short, never quite none. @param {Ion[]} list @param {Float64Array} goal @param {Float64Array} missing is filled */
function fillMissing(list, goal, missing) {
  for (let bin = 0; bin < BINS; bin += 1) missing[bin] = goal[bin];
  for (const ion of list) missing[ion.bin] -= 1;
  for (let bin = 0; bin < BINS; bin += 1) missing[bin] = Math.max(missing[bin], 0.001);
}

export class Crowd {
  /** @param {RunRecord} record @param {Layout} layout @param {boolean} [many] closer together, up to the most that are drawn */
  constructor(record, layout, many = false) {
    this.record = record;
    this.layout = layout;
    this.random = seededRandom(CROWD_SEED);
    this.species = record.header.species;
    /** @type {Map<string, Ion[]>} */
    this.ions = new Map(this.species.map(({ formula }) => [formula, []]));
    this.distribution = makeDistribution(record, layout, many, this.random);
    this.driftScale = driftScaleOf(record, layout);
    const gapM = record.positionM[record.positionM.length - 1];
    this.pxPerM = layout.bounds.width / (gapM * 1.5);
  }

  /** @param {string} formula @returns {Ion[]} */
  list(formula) { return this.ions.get(formula) ?? []; }
  counts() { return Object.fromEntries([...this.ions].map(([formula, list]) => [formula, list.length])); }
  /** @param {Ion} ion */
  opacity(ion) { return Math.min(1, ion.age / FADE_IN_S); }

  /** Draw everyone anew where the model says. @param {Moment} when */
  redraw(when) {
    for (const list of this.ions.values()) list.length = 0;
    this.settleNumbers(when, FADE_IN_S, ownChance);
  }

  /** Take over a crowd as it stood in another drawing of the same cell. @param {Ion[]} others @param {Layout} from @param {Moment} when */
  takeOver(others, from, when) {
    for (const ion of others) {
      const place = placeInLayout(ion, from, this.layout);
      if (place) this.ions.get(ion.formula)?.push({ ...ion, ...place, bin: binAt(this.layout, place.x, place.y) });
    }
    this.settleNumbers(when, FADE_IN_S, ownChance);
  }

  /**
   * Ions that are called to an electrode are there in time, and leave the crowd when their event begins.
   * @param {import("./events.js").Called[]} calls @param {number} passedRunS since the last calls
   */
  answer(calls, passedRunS) {
    const coming = this.takeCalled(new Set(calls.map(({ name }) => name)));
    for (const { name, formula, x, y, inRunS } of calls) {
      const ion = coming.get(name) ?? nearestIon(this.layout, this.list(formula), x, y);
      if (!ion) continue;
      ion.called = name;
      const part = passedRunS / (passedRunS + inRunS);
      ion.x += (x - ion.x) * part;
      ion.y += (y - ion.y) * part;
      ion.bin = binAt(this.layout, ion.x, ion.y);
    }
  }

  /** The called ions by the names of their events; those whose event has begun leave. @param {Set<string>} names still to come */
  takeCalled(names) {
    /** @type {Map<string, Ion>} */
    const coming = new Map();
    for (const list of this.ions.values()) {
      for (let k = list.length - 1; k >= 0; k -= 1) {
        const { called } = list[k];
        if (!called) continue;
        if (names.has(called)) coming.set(called, list[k]);
        else list.splice(k, 1);
      }
    }
    return coming;
  }

  /** @param {Moment} when @param {number} passedS */
  move(when, passedS) {
    pushApart([...this.ions.values()].flat(), this.layout.ionRadius, passedS);
    for (const each of this.species) {
      const list = this.list(each.formula);
      if (list.length) this.moveSpecies(each, list, when, passedS);
    }
    this.settleNumbers(when, 0);
  }

  /** @param {Species} species @param {Ion[]} list @param {Moment} when @param {number} passedS */
  moveSpecies(species, list, when, passedS) {
    const goal = this.distribution.wanted(species, when);
    if (showsPH(species)) removeSpare(list, goal); // their number shows pH
    const spread = spreading(list, goal);
    const drift = this.record.drift(species.formula);
    for (const ion of list) {
      ion.age += passedS;
      if (ion.called) continue;
      const realM_S = fieldAt(drift, this.record, when, this.distribution.placeOfBin(ion.bin));
      this.moveIon(ion, realM_S * this.driftScale * this.pxPerM, spread[ion.bin], passedS);
    }
  }

  /** @param {Ion} ion @param {number} driftPxS along the cell @param {number} spread -1 to 1 @param {number} passedS */
  moveIon(ion, driftPxS, spread, passedS) {
    const keep = Math.exp(-2.2 * passedS);
    ion.vx = ion.vx * keep + (this.random() - 0.5) * WANDER_PX_S * 6 * Math.sqrt(passedS);
    ion.vy = ion.vy * keep + (this.random() - 0.5) * WANDER_PX_S * 6 * Math.sqrt(passedS);
    // what holds a crowd back must be as strong as what drives it
    const along = driftPxS + spread * (SPREAD_PX_S + 1.5 * Math.abs(driftPxS));
    const way = this.layout.direction(ion.x, ion.y);
    moveOrBounce(this.layout, ion, ion.x + (ion.vx + along * way.x) * passedS, ion.y + (ion.vy + along * way.y) * passedS);
    ion.bin = binAt(this.layout, ion.x, ion.y);
  }

  /**
   * Bring the number of every species to what the model says.
   * @param {Moment} when @param {number} age of those that are added
   * @param {(which: number, number: number) => () => number} [chanceOf] of a species, one of its ions
   */
  settleNumbers(when, age, chanceOf = () => this.random) {
    const missing = new Float64Array(BINS);
    this.species.forEach((each, which) => {
      const list = this.list(each.formula);
      const goal = this.distribution.wanted(each, when);
      const number = Math.round(sum(goal));
      while (list.length < number) {
        fillMissing(list, goal, missing);
        const chance = chanceOf(which, list.length);
        const ion = this.place(each.formula, pickBin(missing, chance), age, chance);
        if (!ion) break;
        list.push(ion);
      }
      while (list.length > number) list.splice(Math.floor(this.random() * list.length), 1);
    });
  }

  /** @param {string} formula @param {number} bin @param {number} age @param {() => number} chance @returns {Ion|null} */
  place(formula, bin, age, chance) {
    const { x: left, y: top, width, height } = this.layout.bounds;
    for (let attempt = 0; attempt < ATTEMPTS.anywhere; attempt += 1) {
      const x = left + chance() * width;
      const y = top + chance() * height;
      if (!this.layout.inside(x, y)) continue;
      const found = binAt(this.layout, x, y);
      if (attempt < ATTEMPTS.inBin && found !== bin) continue;
      if (attempt < ATTEMPTS.free && isCrowded(this.ions.values(), x, y, this.layout.ionRadius)) continue;
      return { formula, x, y, vx: 0, vy: 0, age, bin: found };
    }
    return null;
  }
}

/** @param {RunRecord} record @param {Layout} layout @param {boolean} [many] */
export const makeCrowd = (record, layout, many) => new Crowd(record, layout, many);
