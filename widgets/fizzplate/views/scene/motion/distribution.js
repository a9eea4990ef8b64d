// How many ions of each kind are to be drawn, and in which part of the cell, as the model's concentrations say. The
// liquid is divided into bins from one electrode to the other.

import { fieldAt } from "../record.js";
import { CLOSEST_AREA, modelPlace, MOST_IONS } from "../vessels/vessel.js";
import { showsPH } from "./scale.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../record.js").Species} Species */
/** @typedef {import("../record.js").Instant} Moment */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */

export const BINS = 24;
const AREA_PER_ION = 10; // of drawn liquid, in squares of the ion's radius, where all are read from afar
const ACID_SHARE = 0.06; // of the crowd, for every unit of pH away from 7, all over the liquid
const FULL_CROWD_MOL_M3 = 2; // from a thousandth of a mole of salt per dm3 the crowd is full

/**
 * @param {RunRecord} record @param {Layout} layout @param {boolean} many closer together, up to the most that are drawn
 * @param {() => number} random
 */
export function makeDistribution(record, layout, many, random) {
  const gapM = record.positionM[record.positionM.length - 1];
  const filmM = record.header.filmM;
  const species = record.header.species;
  const area = many ? CLOSEST_AREA : AREA_PER_ION;
  const room = Math.min(MOST_IONS, layout.liquidArea / (area * layout.ionRadius ** 2));
  const binArea = measureBins(layout, random);
  const start = { before: 0, after: 0, part: 0 };
  let atStart = 0;
  for (const each of species) {
    if (!showsPH(each)) atStart += sum(concentrations(each.formula, start));
  }
  // an acid or alkali is a solution of H+ or OH-: they make up the crowd then, and count as it
  const isAcidOrAlkali = atStart > 0 && acidity(start) > 1;
  const thin = Math.min(1, meanConcentration(start) / FULL_CROWD_MOL_M3);
  const perUnit = atStart > 0 ? room / (isAcidOrAlkali ? atStart * 1.6 : atStart) * thin : 0;

  /** Of the ions that are drawn by their amount, mol/m3. @param {Moment} when */
  function meanConcentration(when) {
    const middle = modelPlace(0.5, gapM, filmM);
    let total = 0;
    for (const each of species) {
      if (!showsPH(each)) total += fieldAt(record.concentration(each.formula), record, when, middle);
    }
    return total + acidity(when) * FULL_CROWD_MOL_M3;
  }

  /** @param {number} bin */
  function placeOfBin(bin) {
    return modelPlace((bin + 0.5) / BINS, gapM, filmM);
  }

  /** @param {string} formula @param {Moment} when @returns {Float64Array} amount drawn by bin */
  function concentrations(formula, when) {
    const values = record.concentration(formula);
    const result = new Float64Array(BINS);
    for (let bin = 0; bin < BINS; bin += 1) {
      result[bin] = Math.max(0, fieldAt(values, record, when, placeOfBin(bin))) * binArea[bin];
    }
    return result;
  }

  /** @param {Moment} when */
  function acidity(when) {
    const middle = modelPlace(0.5, gapM, filmM);
    const hydrogen = fieldAt(record.concentration("H+"), record, when, middle);
    return Math.max(0, Math.abs(7 + Math.log10(Math.max(hydrogen, 1e-12) / 1000)) - 5.5);
  }

  /** @param {Species} each @param {Moment} when @returns {Float64Array} wanted number by bin */
  function wanted(each, when) {
    if (!showsPH(each)) {
      const result = concentrations(each.formula, when);
      for (let bin = 0; bin < BINS; bin += 1) result[bin] *= perUnit;
      return result;
    }
    const hydrogen = record.concentration("H+");
    const sign = each.formula === "H+" ? 1 : -1;
    const result = new Float64Array(BINS);
    for (let bin = 0; bin < BINS; bin += 1) {
      const c = Math.max(fieldAt(hydrogen, record, when, placeOfBin(bin)), 1e-12);
      const acid = 7 + Math.log10(c / 1000); // 7 - pH
      result[bin] = Math.max(0, sign * acid) * ACID_SHARE * room * binArea[bin];
    }
    return result;
  }

  return { placeOfBin, wanted };
}

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

/** Where a crowd is denser than it is to be. @param {{bin: number}[]} list @param {Float64Array} goal @returns {Float64Array} -1 to 1, the way to spread, by bin */
export function spreading(list, goal) {
  const excess = new Float64Array(BINS);
  for (const ion of list) excess[ion.bin] += 1;
  for (let bin = 0; bin < BINS; bin += 1) excess[bin] -= goal[bin];
  const mean = Math.max(0.6, sum(goal) / BINS);
  const result = new Float64Array(BINS);
  for (let bin = 0; bin < BINS; bin += 1) {
    const before = excess[Math.max(bin - 1, 0)] + 0.5 * excess[Math.max(bin - 2, 0)];
    const after =
      excess[Math.min(bin + 1, BINS - 1)] + 0.5 * excess[Math.min(bin + 2, BINS - 1)];
    result[bin] = Math.max(-1, Math.min(1, (before - after) / (2 * mean)));
  }
  return result;
}

/** Share of the liquid's drawn area in every bin. @param {Layout} layout @param {() => number} random */
function measureBins(layout, random) {
  const area = new Float64Array(BINS);
  const { x, y, width, height } = layout.bounds;
  let found = 0;
  for (let attempt = 0; attempt < 4000; attempt += 1) {
    const px = x + random() * width;
    const py = y + random() * height;
    if (!layout.inside(px, py)) continue;
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
