// How many ions of each kind are to be drawn, and in which part of the cell, as the model's concentrations say. The
// liquid is divided into bins from one electrode to the other.

import { fieldAt } from "../record.js";
import { MIN_AREA_PER_ION, modelPlace, MAX_IONS } from "../vessels/vessel.js";
import { showsPH } from "./scale.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../record.js").Species} Species */
/** @typedef {import("../record.js").Instant} Moment */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

export const BINS = 24;
// of ions that are read from afar, of those in one of two pictures, and of those on a phone: drawn liquid for each, in squares of its radius; cations, or anions, at most
const AFAR = { area: 10.5, mostOfASign: 12 };
const ONE_OF_TWO = { area: 21, mostOfASign: 6 };
const IN_LITTLE_ROOM = { area: 17, mostOfASign: 7 };
const ACID_SHARE = 0.045; // of the crowd, for every unit of pH away from 7, all over the liquid
const FULL_CROWD_MOL_M3 = 2; // from a thousandth of a mole of salt per dm3 the crowd is full

class Distribution {
  /**
   * @param {RunRecord} record @param {Layout} layout @param {boolean} many closer together, up to the most that are drawn
   * @param {() => number} random @param {number} filled volume of the liquid in proportion to the start
   */
  constructor(record, layout, many, random, filled) {
    const few = layout.isOneOfTwo ? ONE_OF_TWO : layout.narrow ? IN_LITTLE_ROOM : AFAR;
    const area = many ? MIN_AREA_PER_ION : few.area;
    this.record = record;
    this.gapM = record.positionM[record.positionM.length - 1];
    this.filmM = record.header.filmM;
    this.middleM = modelPlace(0.5, this.gapM, this.filmM);
    this.capacity = Math.min(MAX_IONS, layout.liquidArea / (area * layout.ionRadius ** 2));
    this.binArea = measureBins(layout, random);
    this.most = many ? MAX_IONS : few.mostOfASign;
    this.perUnit = this.ionsPerUnit(filled);
  }

  /**
   * How many ions stand for one unit of concentration: they fill the room at the start of the run, and are no fewer when
   * water spreads them out.
   * @param {number} filled
   */
  ionsPerUnit(filled) {
    const start = { before: 0, after: 0, part: 0 };
    let all = 0;
    let ofOneSign = 0;
    for (const sign of [1, 0, -1]) {
      const kinds = this.record.header.species.filter((each) => !showsPH(each) && Math.sign(each.charge) === sign);
      const amount = kinds.reduce((total, { formula }) => total + sum(this.concentrations(formula, start)), 0);
      all += amount;
      ofOneSign = Math.max(ofOneSign, amount);
    }
    if (!(all > 0)) return 0;
    // an acid or alkali is a solution of H+ or OH-: they make up the crowd then, and count as it
    const isAcidOrAlkali = this.acidity(start) > 1;
    const thin = Math.min(1, this.meanConcentration(start) / FULL_CROWD_MOL_M3);
    const room = this.capacity / filled; // at the start
    return Math.min(room / (isAcidOrAlkali ? all * 1.6 : all), this.most / ofOneSign) * thin * filled;
  }

  /** Of the ions that are drawn by their amount, mol/m3. @param {Moment} when */
  meanConcentration(when) {
    let total = 0;
    for (const each of this.record.header.species) {
      if (!showsPH(each)) total += fieldAt(this.record.concentration(each.formula), this.record, when, this.middleM);
    }
    return total + this.acidity(when) * FULL_CROWD_MOL_M3;
  }

  /** @param {number} bin */
  placeOfBin(bin) { return modelPlace((bin + 0.5) / BINS, this.gapM, this.filmM); }

  /** @param {string} formula @param {Moment} when @returns {Float64Array} amount drawn by bin */
  concentrations(formula, when) {
    const values = this.record.concentration(formula);
    const result = new Float64Array(BINS);
    for (let bin = 0; bin < BINS; bin += 1) {
      result[bin] = Math.max(0, fieldAt(values, this.record, when, this.placeOfBin(bin))) * this.binArea[bin];
    }
    return result;
  }

  /** By how many units pH is more than 5.5 away from 7, in the middle. @param {Moment} when */
  acidity(when) {
    if (this.record.header.melt) return 0; // no water
    return Math.max(0, Math.abs(7 - fieldAt(this.record.pH, this.record, when, this.middleM)) - 5.5);
  }

  /** @param {Species} each @param {Moment} when @returns {Float64Array} wanted number by bin */
  wanted(each, when) {
    if (showsPH(each)) return this.wantedByPH(each.formula === "H+" ? 1 : -1, when);
    const result = this.concentrations(each.formula, when);
    for (let bin = 0; bin < BINS; bin += 1) result[bin] *= this.perUnit;
    return result;
  }

  /** At least one, wherever it is, and no more than of another ion. @param {number} sign 1 for H+, -1 for OH- @param {Moment} when @returns {Float64Array} wanted number by bin */
  wantedByPH(sign, when) {
    const result = new Float64Array(BINS);
    for (let bin = 0; bin < BINS; bin += 1) {
      const acid = 7 - fieldAt(this.record.pH, this.record, when, this.placeOfBin(bin));
      result[bin] = Math.max(0, sign * acid) * ACID_SHARE * this.capacity * this.binArea[bin];
    }
    const number = sum(result);
    if (number > this.most) return result.map((each) => (each * this.most) / number);
    const rest = Math.max(0, 1 - number);
    return result.map((each, bin) => each + rest * this.binArea[bin]);
  }
}

/** @param {RunRecord} record @param {Layout} layout @param {boolean} many @param {() => number} random @param {number} [filled] */
export const makeDistribution = (record, layout, many, random, filled = 1) => new Distribution(record, layout, many, random, filled);

/** @param {Layout} layout @param {number} x @param {number} y */
export const binAt = (layout, x, y) => Math.min(BINS - 1, Math.max(0, Math.floor(layout.along(x, y) * BINS)));

/** A bin, each as likely as its weight says. @param {Float64Array} weights @param {() => number} chance */
export function pickBin(weights, chance) {
  let left = chance() * sum(weights);
  for (let bin = 0; bin < BINS; bin += 1) {
    left -= weights[bin];
    if (left <= 0) return bin;
  }
  return BINS - 1;
}

/**
 * Which way a crowd is to spread: away from the side that holds too many. The whole of a side counts, not only what is near:
 * a dozen ions are too few to be dense anywhere, and a drift would gather them at one end.
 * @param {{bin: number}[]} list @param {Float64Array} goal @returns {Float64Array} -1 to 1, the way to spread, by bin
 */
export function spreading(list, goal) {
  const excess = new Float64Array(BINS);
  for (const ion of list) excess[ion.bin] += 1;
  const wanted = sum(goal);
  const all = wanted > 0 ? list.length / wanted : 1; // ions come whole, the goal does not
  let before = 0;
  return excess.map((number, bin) => {
    const more = number - goal[bin] * all;
    const way = before + 0.5 * more;
    before += more;
    return Math.max(-1, Math.min(1, way));
  });
}

/** Share of the liquid's drawn area in every bin. @param {Layout} layout @param {() => number} random */
function measureBins(layout, random) {
  const area = new Float64Array(BINS);
  const { x, y, width, height } = layout.bounds;
  let found = 0;
  for (let attempt = 0; attempt < 4000; attempt += 1) {
    const px = x + random() * width;
    const py = y + random() * height;
    if (!layout.free(px, py)) continue;
    area[binAt(layout, px, py)] += 1;
    found += 1;
  }
  for (let bin = 0; bin < BINS; bin += 1) area[bin] /= Math.max(found, 1);
  return area;
}

/** @param {Float64Array} values */
export function sum(values) {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
