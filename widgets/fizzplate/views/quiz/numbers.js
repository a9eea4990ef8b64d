// Read and mark numbers, as lesson/marking_numbers.py does: steps, near misses, errors carried forward, units.

/**
 * @typedef {{earned: boolean, reason: string}} MarkLine
 * @typedef {{value: number, lost: number[], reason: string}} NearMiss
 * @typedef {{value: number, unit: string, units: Record<string, number>, steps: string[], asks: string,
 *   factor: number, nearMisses: NearMiss[], tolerance: number, figures: number, answer: string}} NumberPart
 * @typedef {{values: number[], figures: number, mostFigures: number, unit: string}} GivenNumber
 */

const NUMBER = /^([+-]?(?:[0-9]+(?:[.,][0-9]*)*|[.,][0-9]+))(?:(?:[xX×*·]10\^?|[eE])([+-]?[0-9]{1,3}))?(.*)/s;
const THOUSANDS = /^[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?$/;

/** @param {string} unit */
const plainUnit = (unit) => unit.replace(/[\s^.*·]/g, "").replaceAll("³", "3").toLowerCase();

/** @param {NumberPart} part @param {string} unit @returns {number|undefined} */
const unitOf = (part, unit) => (Object.hasOwn(part.units, plainUnit(unit)) ? part.units[plainUnit(unit)] : undefined);

/** @param {string} text @param {NumberPart} part @returns {GivenNumber|null} */
export function readNumber(text, part) {
  const found = NUMBER.exec(text.replaceAll(" ", ""));
  if (!found) return null;
  const [, digits, power, unit] = found;
  const readings = [];
  if (THOUSANDS.test(digits)) readings.push(digits.replaceAll(",", ""));
  if ((digits.match(/[.,]/g) ?? []).length <= 1) readings.push(digits.replace(",", "."));
  const times = Number(`1e${Number(power ?? 0)}`);
  const known = unitOf(part, unit) ?? 1;
  const every = digits.replace(/[.,]/g, "").replace(/^[+\-0]+/, "");
  const figures = /[.,]/.test(digits) ? every : every.replace(/0+$/, ""); // those may only fill places
  const values = readings.map((reading) => Number(reading) * times * known);
  return values.length ? { values, figures: figures.length, mostFigures: every.length, unit } : null;
}

/** @param {NumberPart} part @param {number} value @param {number} wanted */
const near = (part, value, wanted) => Math.abs(value - wanted) <= part.tolerance * Math.abs(wanted);

/** @param {number} value @param {number} wanted @param {number} figures */
function roundsTo(value, wanted, figures) {
  if (!wanted || figures < 1 || figures > 3) return false;
  const place = Number(wanted.toExponential(10).split("e")[1]) - figures + 1;
  return Math.abs(value - wanted) <= 0.5000001 * Number(`1e${place}`);
}

/** Whether one figure was given where that is too few. @param {NumberPart} part @param {number} value @param {GivenNumber} given */
function roundedTooFar(part, value, given) {
  if (given.figures !== 1 || part.figures <= 2 || near(part, value, part.value)) return false;
  return given.mostFigures === 1 || !roundsTo(value, part.value, 2);
}

/**
 * The slip that gives a value, from the right answer before or from the one that was given.
 * @param {NumberPart} part @param {number} value @param {number|null} before
 */
function nearMiss(part, value, before) {
  const scales = before !== null && part.factor && part.value ? [1, (before * part.factor) / part.value] : [1];
  for (const scale of scales) {
    const miss = part.nearMisses.find((each) => near(part, value, scale * each.value));
    if (miss) return miss;
  }
  return undefined;
}

/** @param {NumberPart} part @param {string} unit */
function aboutUnit(part, unit) {
  if (!part.unit) return "";
  if (!unit) return `Give the unit: ${part.unit}. `;
  return unitOf(part, unit) === 1 ? "" : `The unit asked for is ${part.unit}. `;
}

/** @param {NumberPart} part @param {number} figures */
const aboutFigures = (part, figures) =>
  figures > part.figures + 1 ? `That is more figures than the data allow: ${part.figures} are enough. ` : "";

/**
 * @param {NumberPart} part @param {string} text @param {number|null} before @param {boolean} strict
 * @returns {{lines: MarkLine[], remark: string, value: number|null}}
 */
function markPart(part, text, before, strict) {
  const given = readNumber(text, part);
  if (!given) {
    const remark = "No number could be read.";
    return { lines: part.steps.map(() => ({ earned: false, reason: remark })), remark, value: null };
  }
  const remark = `${aboutUnit(part, given.unit)}${aboutFigures(part, given.figures)}`.trim();
  const value = given.values.find((each) => near(part, each, part.value)) ?? given.values[0];
  let lines;
  if (near(part, value, part.value) || roundsTo(value, part.value, given.figures)) {
    lines = part.steps.map((reason) => ({ earned: true, reason }));
    if (roundedTooFar(part, value, given)) {
      lines[lines.length - 1] = { earned: false, reason: `Rounded too far: give ${part.figures} figures.` };
    }
  } else if (before !== null && part.factor && near(part, value, before * part.factor)) {
    lines = part.steps.map((step) => ({ earned: true, reason: `Right from your answer before: ${step}` }));
  } else {
    const miss = nearMiss(part, value, before);
    if (!miss) {
      const said = `The answer is ${part.answer}: ${part.steps.join(" ")}`;
      return { lines: part.steps.map(() => ({ earned: false, reason: said })), remark: said, value };
    }
    lines = part.steps.map((step, k) => ({
      earned: !miss.lost.includes(k),
      reason: miss.lost.includes(k) ? miss.reason : step,
    }));
  }
  const last = lines.length - 1;
  if (strict && remark && last > 0 && lines[last].earned) lines[last] = { earned: false, reason: remark };
  return { lines, remark, value };
}

/** @param {NumberPart[]} parts @param {string} answer numbers with semicolons between them @param {boolean} strict */
export function markParts(parts, answer, strict) {
  const typed = answer.split(";");
  /** @type {MarkLine[]} */
  const lines = [];
  const remarks = /** @type {string[]} */ ([]);
  let before = /** @type {number|null} */ (null);
  parts.forEach((part, k) => {
    const marked = markPart(part, typed[k] ?? "", before, strict);
    before = marked.value;
    const label = parts.length > 1 ? `(${"abcdefgh"[k]}) ` : "";
    lines.push(...marked.lines.map(({ earned, reason }) => ({ earned, reason: label + reason })));
    if (marked.remark && marked.lines.every(({ reason }) => reason !== marked.remark)) remarks.push(label + marked.remark);
  });
  return { lines, remark: remarks.join(" "), misconception: 0 };
}
