// The crowd of drawn ions: as many of each, and where, as the model's concentrations say. Each wanders, and drifts at a
// speed in proportion to the model's; where the crowd becomes denser than the model says, it spreads, as diffusion and
// mixing do; none lies on another. It goes from its beginning in steps of equal time with the same chance each time, so
// that a time of the run has one crowd, whatever was looked at before.

import { shapeWidth } from "../lettering.js";
import { fieldAt, forScales, placeInTime } from "../record.js";
import { paceOf } from "./clock.js";
import { binAt, BINS, makeDistribution, pickBin, spreading, sum } from "./distribution.js";
import { seededRandom, streamOf } from "./random.js";
import { driftScaleOf, showsPH } from "./scale.js";
import { clearZones, isCrowded, keepApart, moveOrBounce, nearestIon, wayTo } from "./spacing.js";
import { TURN_S } from "./visits.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../record.js").Species} Species */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("../record.js").Instant} Moment */
/** @typedef {import("./events.js").Called} Called */
/**
 * One ion: where it is, where it was a step ago, how wide its shape is, how long it has been drawn, and how long it is still to be.
 * @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number, vx: number, vy: number, wide: number, age: number,
 *   left: number, bin: number, call: Called|null}} Ion
 */

const CROWD_SEED = 20;
const STEP_S = 1 / 30; // of the picture
const STEPS_KEPT = 30; // from one remembered crowd to the next
const FIRST_TURNS = 8; // until the first crowd stands apart
const GOAL_STEPS = 5; // the model's numbers are asked for as often
// in thousandths of the picture's width
export const WANDER_PER_S = 15;
const SPREAD_PER_S = 30;
const FADE_S = 0.5;
const LEAST_MISSING = 1e-6;
const ATTEMPTS = { free: 60, inBin: 300, anywhere: 400 }; // to find a place: a free one, one in its bin, any

/** From where it is, an ion takes its next step. @param {Ion} ion */
function begins(ion) {
  ion.fromX = ion.x;
  ion.fromY = ion.y;
}

/** @param {Ion} ion */
const copied = (ion) => ({ ...ion });

/** What each bin lacks, never quite none: an ion makes up for one that is wanted, the nearest to it. @param {Ion[]} list @param {Float64Array} goal */
function missingFrom(list, goal) {
  const missing = goal.slice();
  for (const { bin } of list) {
    let left = 1;
    for (let away = 0; away < BINS && left > 0; away += 1) {
      for (const near of away > 0 ? [bin - away, bin + away] : [bin]) {
        const taken = Math.min(missing[near] ?? 0, left);
        if (taken > 0) missing[near] -= taken;
        left -= taken;
      }
    }
  }
  return missing.map((each) => each + LEAST_MISSING);
}

/** What is in the liquid, first what there was without a change: each keeps its number. @param {RunRecord} record */
function knownFirst(record) {
  const { species } = record.header;
  const known = forScales(record).header.species.map(({ formula }) => formula);
  return [...species.filter(({ formula }) => known.includes(formula)), ...species.filter(({ formula }) => !known.includes(formula))];
}

export class Crowd {
  /**
   * @param {RunRecord} record @param {Layout} layout
   * @param {{many?: boolean, filled?: number, calls?: (timeS: number) => Called[], blocked?: (timeS: number) => import("./spacing.js").Place[],
   *   zones?: (timeS: number) => import("./spacing.js").Zone[]}} [options]
   *   many: closer together, up to the most that are drawn; filled: volume of the liquid in proportion to the start; calls: of ions to
   *   an electrode; blocked: places that others take; zones: that nobody else may enter
   */
  constructor(record, layout, { many = false, filled = 1, calls = () => [], blocked = () => [], zones = () => [] } = {}) {
    this.record = record;
    this.layout = layout;
    this.calls = calls;
    this.blocked = blocked;
    this.zones = zones;
    this.species = [...knownFirst(record), ...missingOfWater(record)];
    this.wide = new Map(this.species.map(({ formula, label }) => [formula, shapeWidth(label)]));
    this.distribution = makeDistribution(record, layout, many, seededRandom(CROWD_SEED), filled);
    this.driftScale = driftScaleOf(record, layout);
    this.unit = layout.width / 1000;
    const gapM = record.positionM[record.positionM.length - 1];
    this.pxPerM = layout.bounds.width / (gapM * 1.5);
    this.endS = record.timeS[record.timeS.length - 1];
    this.paceS = paceOf(record); // of the run, in a second of the picture
    this.step = 0;
    this.part = 1; // of the way from the step before to this one
    /** @type {Float64Array[]} by species */
    this.goals = [];
    /** @type {Ion[]} */
    this.ions = [];
    /** @type {Ion[][]} */
    this.remembered = [];
    this.begin();
  }

  counts() {
    const found = Object.fromEntries(this.species.map(({ formula }) => [formula, 0]));
    for (const { formula, left } of this.ions) if (left === Infinity) found[formula] += 1;
    return found;
  }

  /** How plainly an ion is seen, 0 to 1. @param {Ion} ion */
  opacity(ion) { return Math.min(1, ion.age / FADE_S, ion.left / FADE_S); }

  /** Where an ion is seen. @param {Ion} ion */
  placeOf({ x, y, fromX, fromY }) {
    return { x: fromX + (x - fromX) * this.part, y: fromY + (y - fromY) * this.part };
  }

  // time

  begin() {
    this.ions = [];
    this.ask(placeInTime(this.record, 0));
    this.settleNumbers((which, number) => streamOf(CROWD_SEED + which, number), FADE_S);
    for (let turn = 0; turn < FIRST_TURNS; turn += 1) {
      clearZones(this.layout, this.ions, this.zones(0));
      keepApart(this.layout, this.ions, []);
    }
    this.ions.forEach(begins);
    this.step = 0;
    this.remember();
  }

  /** The crowd at a time of the picture; one that rests goes on for ever. @param {number} pictureS @param {boolean} [rests] */
  moveTo(pictureS, rests = false) {
    const due = Math.ceil(pictureS / STEP_S - 1e-6);
    if (due < this.step || due > this.step + 2 * STEPS_KEPT) this.recall(due);
    while (this.step < due) this.moveOn(rests);
    this.part = due > 0 ? 1 - (due - pictureS / STEP_S) : 1;
  }

  remember() { this.remembered[this.step / STEPS_KEPT] = this.ions.map(copied); }

  /** Go back, or on, to the last remembered crowd before a step. @param {number} due */
  recall(due) {
    const last = Math.min(Math.floor(due / STEPS_KEPT), this.remembered.length - 1);
    if (due >= this.step && last * STEPS_KEPT <= this.step) return;
    this.ions = this.remembered[last].map(copied);
    this.step = last * STEPS_KEPT;
    this.ask(placeInTime(this.record, this.timeS));
  }

  /** Time of the run at the last step. */
  get timeS() { return Math.min(this.step * STEP_S * this.paceS, this.endS); }

  /** @param {boolean} rests */
  moveOn(rests) {
    this.step += 1;
    const { timeS } = this;
    const random = streamOf(CROWD_SEED, this.step);
    const when = placeInTime(this.record, timeS);
    if (this.step % GOAL_STEPS === 0) this.ask(when);
    this.ions.forEach(begins);
    this.answer(this.calls(timeS));
    this.species.forEach((each, which) => this.moveSpecies(each, this.goals[which], when, random));
    const zones = this.zones(timeS);
    clearZones(this.layout, this.ions, zones);
    keepApart(this.layout, this.ions, this.blocked(timeS));
    clearZones(this.layout, this.ions, zones); // others have pushed some back
    for (const ion of this.ions) ion.bin = binAt(this.layout, ion.x, ion.y);
    if (this.ions.some(({ left }) => left <= 0)) this.ions = this.ions.filter(({ left }) => left > 0);
    this.settleNumbers(() => random, 0);
    if (!rests && this.step % STEPS_KEPT === 0) this.remember();
  }

  /** Ask the model how many ions are to be where. @param {Moment} when */
  ask(when) { this.goals = this.species.map((each) => this.distribution.wanted(each, when)); }

  // who moves where

  /** Ions that are called are there in time; one whose event begins leaves the crowd, one that only visits turns back. @param {Called[]} calls */
  answer(calls) {
    const byName = new Map(calls.map((each) => [each.name, each]));
    for (const ion of this.ions) {
      if (!ion.call) continue;
      const call = byName.get(ion.call.name);
      if (!call && !ion.call.turns) ion.left = 0;
      ion.call = call ?? null;
      byName.delete(call?.name ?? "");
    }
    for (const call of byName.values()) {
      if (call.inS <= 0) continue; // nobody was free to come
      const ion = nearestIon(this.layout, this.ions, call);
      if (ion) ion.call = call;
    }
    for (const ion of this.ions) if (ion.call) guide(this.layout, ion, ion.call);
  }

  /** @param {Species} species @param {Float64Array} goal @param {Moment} when @param {() => number} random */
  moveSpecies(species, goal, when, random) {
    const list = this.ions.filter(({ formula }) => formula === species.formula);
    if (showsPH(species)) letSpareGo(list, goal); // their number shows pH
    const spread = spreading(list, goal);
    const drift = this.record.drift(species.formula);
    for (const ion of list) {
      ion.age += STEP_S;
      ion.left -= STEP_S;
      if (ion.call) continue;
      const realM_S = fieldAt(drift, this.record, when, this.distribution.placeOfBin(ion.bin));
      this.moveIon(ion, realM_S * this.driftScale * this.pxPerM, spread[ion.bin], random);
    }
  }

  /** @param {Ion} ion @param {number} driftPxS along the cell @param {number} spread -1 to 1 @param {() => number} random */
  moveIon(ion, driftPxS, spread, random) {
    const keep = Math.exp(-2.2 * STEP_S);
    const kick = WANDER_PER_S * this.unit * 6 * Math.sqrt(STEP_S);
    ion.vx = ion.vx * keep + (random() - 0.5) * kick;
    ion.vy = ion.vy * keep + (random() - 0.5) * kick;
    // what holds a crowd back must be as strong as what drives it
    const along = driftPxS + spread * (SPREAD_PER_S * this.unit + 1.5 * Math.abs(driftPxS));
    const way = this.layout.direction(ion.x, ion.y);
    moveOrBounce(this.layout, ion, ion.x + (ion.vx + along * way.x) * STEP_S, ion.y + (ion.vy + along * way.y) * STEP_S);
  }

  /**
   * Bring the number of every species to what the model says.
   * @param {(which: number, number: number) => () => number} chanceOf of a species, one of its ions @param {number} age of those that are added
   */
  settleNumbers(chanceOf, age) {
    this.species.forEach(({ formula }, which) => {
      const list = this.ions.filter((ion) => ion.formula === formula && ion.left === Infinity);
      const goal = this.goals[which];
      const number = Math.round(sum(goal));
      while (list.length < number) {
        const chance = chanceOf(which, list.length);
        const ion = this.place(formula, pickBin(missingFrom(list, goal), chance), age, chance);
        if (!ion) break;
        list.push(ion);
        this.ions.push(ion);
      }
      const free = list.filter(({ call }) => !call);
      for (let spare = list.length - number; spare > 0 && free.length; spare -= 1) {
        const [gone] = free.splice(Math.floor(chanceOf(which, 0)() * free.length), 1);
        gone.left = FADE_S;
      }
    });
  }

  /** @param {string} formula @param {number} bin @param {number} age @param {() => number} chance @returns {Ion|null} */
  place(formula, bin, age, chance) {
    const { x: left, y: top, width, height } = this.layout.bounds;
    for (let attempt = 0; attempt < ATTEMPTS.anywhere; attempt += 1) {
      const x = left + chance() * width;
      const y = top + chance() * height;
      if (!this.layout.free(x, y)) continue;
      const found = binAt(this.layout, x, y);
      if (attempt < ATTEMPTS.inBin && found !== bin) continue;
      if (attempt < ATTEMPTS.free && isCrowded(this.ions, x, y, this.layout.ionRadius)) continue;
      return { formula, x, y, fromX: x, fromY: y, vx: 0, vy: 0, wide: this.wide.get(formula) ?? 1, age, left: Infinity, bin: found, call: null };
    }
    return null;
  }
}

/** Water's own ions are there even where a run does not list them. @param {RunRecord} record @returns {Species[]} */
function missingOfWater(record) {
  if (record.header.melt) return [];
  /** @type {Species[]} */
  const both = [
    { formula: "H+", label: "H⁺", charge: 1, tint: "--fp-ion-h", dissolved: false },
    { formula: "OH-", label: "OH⁻", charge: -1, tint: "--fp-ion-oh", dissolved: false },
  ];
  return both.filter(({ formula }) => !record.header.species.some((each) => each.formula === formula));
}

/** Ions that have drifted to where the model has none of them fade. @param {Ion[]} list @param {Float64Array} goal number by bin */
function letSpareGo(list, goal) {
  const spare = new Float64Array(BINS);
  for (const ion of list) if (ion.left === Infinity) spare[ion.bin] += 1;
  for (let bin = 0; bin < BINS; bin += 1) spare[bin] -= goal[bin];
  for (const ion of list) {
    if (ion.left < Infinity || spare[ion.bin] < 1) continue;
    spare[ion.bin] -= 1;
    ion.left = FADE_S;
  }
}

/** Lead an ion to its electrode by the time that it is due; from then on one that only visits turns back. @param {Layout} layout @param {Ion} ion @param {Called} call */
function guide(layout, ion, call) {
  ion.vx = 0;
  ion.vy = 0;
  if (call.inS > 0) {
    const next = wayTo(layout, ion, call) ?? call;
    const way = Math.hypot(next.x - ion.x, next.y - ion.y);
    const whole = way + Math.hypot(call.x - next.x, call.y - next.y);
    // as far in this step as takes it along its whole way in time
    const part = way > 0 ? Math.min(1, ((STEP_S / (STEP_S + call.inS)) * whole) / way) : 1;
    ion.x += (next.x - ion.x) * part;
    ion.y += (next.y - ion.y) * part;
    return;
  }
  const back = Math.min(-call.inS / TURN_S, 1);
  const eased = back * back * (3 - 2 * back);
  ion.x = call.x + call.awayX * eased;
  ion.y = call.y + call.awayY * Math.sin((eased * Math.PI) / 2);
}

/** @param {RunRecord} record @param {Layout} layout @param {ConstructorParameters<typeof Crowd>[2]} [options] */
export const makeCrowd = (record, layout, options) => new Crowd(record, layout, options);
