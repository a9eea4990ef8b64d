// The crowd of drawn ions: as many of each, and where, as the model's concentrations say.
// Each wanders, and drifts at a speed in proportion to the model's; where the crowd becomes denser
// than the model says, it spreads, as diffusion and mixing do. Drawn anew, every ion has a place of its own that
// the model's numbers choose, so that a time has one picture, and the next time one much like it.

import { fieldAt } from "../record.js";
import { carriedPlace } from "../vessels/vessel.js";
import { binAt, BINS, makeDistribution, pickBin, spreading, sum } from "./distribution.js";
import { seededRandom, streamOf } from "./random.js";
import { driftScaleOf, showsPH } from "./scale.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("../record.js").Instant} Moment */
/** @typedef {{formula: string, x: number, y: number, vx: number, vy: number, age: number, bin: number, called?: string}} Ion called: to an event at an electrode */

const CROWD_SEED = 20;
export const WANDER_PX_S = 26;
const SPREAD_PX_S = 34;
const APART_PX_S2 = 900;
const FADE_IN_S = 0.5;

/**
 * @param {RunRecord} record @param {Layout} layout
 * @param {boolean} [many] closer together, up to the most that are drawn
 */
export function makeCrowd(record, layout, many = false) {
  const random = seededRandom(CROWD_SEED);
  const gapM = record.positionM[record.positionM.length - 1];
  const species = record.header.species;
  /** @type {Map<string, Ion[]>} */
  const ions = new Map(species.map(({ formula }) => [formula, []]));
  const { placeOfBin, wanted } = makeDistribution(record, layout, many, random);
  const driftScale = driftScaleOf(record, layout);
  /** @param {number} x @param {number} y */
  const binOf = (x, y) => binAt(layout, x, y);

  /** @param {number} x @param {number} y */
  function crowded(x, y) {
    const reach = (1.8 * layout.ionRadius) ** 2;
    for (const list of ions.values()) {
      for (const ion of list) if ((ion.x - x) ** 2 + (ion.y - y) ** 2 < reach) return true;
    }
    return false;
  }

  /** Whether neither a rod nor glass is in the way. @param {Ion} ion @param {number} x @param {number} y */
  function reaches(ion, x, y) {
    const steps = Math.ceil(Math.hypot(x - ion.x, y - ion.y) / layout.ionRadius);
    for (let step = 1; step < steps; step += 1) {
      const share = step / steps;
      if (!layout.inside(ion.x + (x - ion.x) * share, ion.y + (y - ion.y) * share)) return false;
    }
    return true;
  }

  /**
   * @param {string} formula @param {number} bin @param {number} age @param {() => number} chance
   * @returns {Ion|null}
   */
  function place(formula, bin, age, chance) {
    const { x: left, y: top, width, height } = layout.bounds;
    for (let attempt = 0; attempt < 400; attempt += 1) {
      const x = left + chance() * width;
      const y = top + chance() * height;
      if (!layout.inside(x, y)) continue;
      const found = binOf(x, y);
      if (attempt < 300 && (found !== bin || (attempt < 60 && crowded(x, y)))) continue;
      return { formula, x, y, vx: 0, vy: 0, age, bin: found };
    }
    return null;
  }

  /** Ions that lie on each other cannot be read: push them apart a little. @param {number} passedS */
  function keepApart(passedS) {
    const all = [...ions.values()].flat();
    const reach = 2.1 * layout.ionRadius;
    for (let i = 0; i < all.length; i += 1) {
      for (let j = i + 1; j < all.length; j += 1) {
        const dx = all[i].x - all[j].x;
        const dy = all[i].y - all[j].y;
        if (dx > reach || dx < -reach || dy > reach || dy < -reach) continue;
        const away = Math.hypot(dx, dy) || 1;
        if (away >= reach) continue;
        const push = (APART_PX_S2 * passedS * (reach - away)) / (reach * away);
        all[i].vx += dx * push;
        all[i].vy += dy * push;
        all[j].vx -= dx * push;
        all[j].vy -= dy * push;
      }
    }
  }

  /**
   * Draw anew those that have drifted to where the model has none of them: their number shows pH.
   * @param {Ion[]} list @param {Float64Array} goal
   */
  function drawAnew(list, goal) {
    const spare = new Float64Array(BINS);
    for (const ion of list) spare[ion.bin] += 1;
    for (let bin = 0; bin < BINS; bin += 1) spare[bin] -= goal[bin];
    for (let k = list.length - 1; k >= 0; k -= 1) {
      if (spare[list[k].bin] < 1) continue;
      spare[list[k].bin] -= 1;
      list.splice(k, 1);
    }
  }

  /**
   * Bring the number of every species to what the model says.
   * @param {Moment} when @param {number} age of those that are added
   * @param {(which: number, number: number) => () => number} [chanceOf] of a species, one of its ions
   */
  function settleNumbers(when, age, chanceOf = () => random) {
    species.forEach((each, which) => {
      const list = /** @type {Ion[]} */ (ions.get(each.formula));
      const goal = wanted(each, when);
      const number = Math.round(sum(goal));
      const missing = new Float64Array(BINS);
      while (list.length < number) {
        for (let bin = 0; bin < BINS; bin += 1) missing[bin] = goal[bin];
        for (const ion of list) missing[ion.bin] -= 1;
        for (let bin = 0; bin < BINS; bin += 1) missing[bin] = Math.max(missing[bin], 0.001);
        const chance = chanceOf(which, list.length);
        const ion = place(each.formula, pickBin(missing, chance), age, chance);
        if (!ion) break;
        list.push(ion);
      }
      while (list.length > number) list.splice(Math.floor(random() * list.length), 1);
    });
  }

  /**
   * The nearest ion of a kind that reaches a place straight through the liquid and is not called elsewhere.
   * @param {string} formula @param {number} x @param {number} y
   */
  function nearest(formula, x, y) {
    /** @type {Ion|null} */
    let best = null;
    let least = Infinity;
    for (const ion of ions.get(formula) ?? []) {
      const away = (ion.x - x) ** 2 + (ion.y - y) ** 2;
      if (away < least && !ion.called && reaches(ion, x, y)) [best, least] = [ion, away];
    }
    return best;
  }

  return {
    ions,
    driftScale,
    /** Draw everyone anew where the model says. @param {Moment} when */
    redraw(when) {
      for (const list of ions.values()) list.length = 0;
      settleNumbers(when, FADE_IN_S, (which, number) => streamOf(CROWD_SEED + which, number));
    },
    /**
     * Take over a crowd as it stood in another drawing of the same cell.
     * @param {Ion[]} others @param {Layout} from @param {Moment} when
     */
    carry(others, from, when) {
      for (const ion of others) {
        const there = carriedPlace(ion, from, layout);
        if (there) ions.get(ion.formula)?.push({ ...ion, ...there, bin: binOf(there.x, there.y) });
      }
      settleNumbers(when, FADE_IN_S, (which, number) => streamOf(CROWD_SEED + which, number));
    },
    /**
     * Those that are called to an electrode are there in time, and leave the crowd when their event begins.
     * @param {import("./events.js").Called[]} calls @param {number} passedRunS since they were last told
     */
    answer(calls, passedRunS) {
      const names = new Set(calls.map(({ name }) => name));
      /** @type {Map<string, Ion>} */
      const coming = new Map();
      for (const list of ions.values()) {
        for (let k = list.length - 1; k >= 0; k -= 1) {
          const { called } = list[k];
          if (!called) continue;
          if (names.has(called)) coming.set(called, list[k]);
          else list.splice(k, 1);
        }
      }
      for (const { name, formula, x, y, inRunS } of calls) {
        const ion = coming.get(name) ?? nearest(formula, x, y);
        if (!ion) continue;
        ion.called = name;
        const part = passedRunS / (passedRunS + inRunS);
        ion.x += (x - ion.x) * part;
        ion.y += (y - ion.y) * part;
        ion.bin = binOf(ion.x, ion.y);
      }
    },
    /** @param {Moment} when @param {number} passedS */
    move(when, passedS) {
      keepApart(passedS);
      for (const each of species) {
        const list = /** @type {Ion[]} */ (ions.get(each.formula));
        if (!list.length) continue;
        const goal = wanted(each, when);
        if (showsPH(each)) drawAnew(list, goal);
        const push = spreading(list, goal);
        const drift = record.drift(each.formula);
        const pxPerM = layout.bounds.width / (gapM * 1.5);
        for (const ion of list) {
          ion.age += passedS;
          if (ion.called) continue;
          const keep = Math.exp(-2.2 * passedS);
          ion.vx = ion.vx * keep + (random() - 0.5) * WANDER_PX_S * 6 * Math.sqrt(passedS);
          ion.vy = ion.vy * keep + (random() - 0.5) * WANDER_PX_S * 6 * Math.sqrt(passedS);
          const real = fieldAt(drift, record, when, placeOfBin(ion.bin));
          const carried = real * driftScale * pxPerM;
          // what holds a crowd back must be as strong as what drives it
          const along = carried + push[ion.bin] * (SPREAD_PX_S + 1.5 * Math.abs(carried));
          const way = layout.direction(ion.x, ion.y);
          const x = ion.x + (ion.vx + along * way.x) * passedS;
          const y = ion.y + (ion.vy + along * way.y) * passedS;
          if (layout.inside(x, y)) {
            ion.x = x;
            ion.y = y;
          } else if (layout.inside(ion.x, y)) {
            ion.y = y;
            ion.vx *= -0.5;
          } else if (layout.inside(x, ion.y)) {
            ion.x = x;
            ion.vy *= -0.5;
          } else {
            ion.vx *= -0.5;
            ion.vy *= -0.5;
          }
          ion.bin = binOf(ion.x, ion.y);
        }
      }
      settleNumbers(when, 0);
    },
    counts: () => Object.fromEntries([...ions].map(([formula, list]) => [formula, list.length])),
    /** @param {Ion} ion */
    opacity: (ion) => Math.min(1, ion.age / FADE_IN_S),
    wanted,
  };
}

/** @typedef {ReturnType<typeof makeCrowd>} Crowd */
