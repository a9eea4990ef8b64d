// Read and mark numbers, as questions/marking/numbers.py does: steps, near misses, errors carried forward, units.

/**
 * @typedef {{earned: boolean, reason: string}} MarkLine
 * @typedef {{value: number, lost: number[], reason: string}} NearMiss
 * @typedef {{value: number, unit: string, units: Record<string, number>, steps: string[], prompt: string,
 *   factor: number, nearMisses: NearMiss[], tolerance: number, figures: number, answer: string}} NumberPart
 * @typedef {{values: number[], figures: number, maxFigures: number, unit: string}} GivenNumber
 */

const NO_NUMBER = "No number could be read.";
const ONE_NUMBER = "Give one number.";
const GROUPED = "[1-9][0-9]{0,2}(?: [0-9]{3})+(?:[.,][0-9]+)?(?![0-9])"; // thousands apart: 1 200
const NUMBER = new RegExp(
  String.raw`(?<![A-Za-z0-9_^.,])(^[+-] ?|[+-])?` +
    String.raw`(?:([0-9]+) (?=[0-9]{1,2} ?/ ?[0-9]{1,2}(?![0-9])))?` + // 2 1/2
    String.raw`(${GROUPED}|[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)` +
    String.raw`(?: ?[xX×*·⋅] ?10(?: ?(?:\^|\*\*) ?([+-]? ?[0-9]{1,3})|( ?[+-]?[1-9][0-9]?)(?![0-9]))` +
    String.raw`|[eE]([+-]?[0-9]{1,3}))?` +
    String.raw`(?: ?/ ?(${GROUPED}|[0-9]+(?:\.[0-9]+)?))?`,
);
const THOUSANDS = /^[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?$/;
const ANOTHER = /(?<![A-Za-z0-9_^.,])(?<![A-Za-z^][+-])[0-9]/; // 33, but not that of cm3
const EQUALITY = /[=≈~≃≅]/; // the answer stands after the last one
const HEDGED = /[0-9].*(?:, | or | and )/;
const FIGURES_SAID =
  /\(?(?:to )?[1-9] ?(?:s\.? ?f|d\.? ?p|sig\.? fig|significant fig|decimal place)[a-z]*\.?\)?\.?$/i;
// words beside a unit, and what is still part of one: V is not the unit of 3 V s
const BESIDE = new Set(["the", "answer", "is", "in", "of", "about", "approximately", "approx", "exactly"]);
const STILL_UNIT = /\^-|-[0-9]|\/|^(?:[acghjklmsv]|min|hr|mol|per|cubed|cm\^?3|dm\^?3)$/i;

/** @param {string} unit */
const plainUnit = (unit) => unit.replace(/[\s^.*·()[\]]/g, "").replaceAll("³", "3").toLowerCase();

/** What of the unit asked for a unit is. @param {NumberPart} part @param {string} unit @returns {number|undefined} */
const unitOf = (part, unit) => (Object.hasOwn(part.units, plainUnit(unit)) ? part.units[plainUnit(unit)] : undefined);

/** Fractions as 1/2, of a bare number ratios too; how many figures were given left out. @param {string} text @param {NumberPart} part */
function plainNumber(text, part) {
  const fractions = text.trim().replace(/\s+/g, " ").replace(/(?<=[0-9])([0-9])⁄/g, " $1/"); // 2½ comes as 21⁄2
  const plain = fractions.replaceAll("⁄", "/").replaceAll("–", "-").replace(FIGURES_SAID, "");
  return part.unit ? plain : plain.replace(/(?<=[0-9]) ?(?::| to ) ?(?=[0-9])/g, "/");
}

/** Cut at signs of equality; the last piece is the last one with a number. @param {string} text */
function pieces(text) {
  const all = text.split(EQUALITY).map((piece) => piece.replace(/^[ ([]+|[ ([]+$/g, ""));
  while (all.length > 1 && !NUMBER.test(all[all.length - 1])) all.pop();
  return all;
}

/** What follows a number: its unit, and the words after it, such as "of hydrogen". @param {string} text @param {NumberPart} part */
function unitAndMore(text, part) {
  const words = text
    .split(" ")
    .map((word) => word.replace(/^[()[\].,:!?]+|[()[\].,:!?]+$/g, ""))
    .filter((word) => word && !BESIDE.has(word.toLowerCase()));
  for (let k = words.length; k > 0; k -= 1) {
    const known = unitOf(part, words.slice(0, k).join("")) !== undefined;
    if (known && !words.slice(k).some((word) => STILL_UNIT.test(word))) {
      return { unit: words.slice(0, k).join(" "), after: words.slice(k).join(" ") };
    }
  }
  return { unit: words.join(" "), after: words.join(" ") };
}

/** Read a number with its unit, after words or "V ="; if it cannot be read, say why. @param {string} text @param {NumberPart} part @returns {GivenNumber|string} */
export function readNumber(text, part) {
  const cut = pieces(plainNumber(text, part));
  const last = cut[cut.length - 1];
  const found = NUMBER.exec(last);
  if (!found) return NO_NUMBER;
  if (cut.slice(0, -1).some((piece) => HEDGED.test(piece))) return ONE_NUMBER;
  const [all, sign, whole, typed, raised, plain, exponent, divisor] = found;
  const { unit, after } = unitAndMore(last.slice(found.index + all.length), part);
  const digits = typed.replaceAll(" ", "");
  const readings = [];
  if (THOUSANDS.test(digits)) readings.push(digits.replaceAll(",", ""));
  if ((digits.match(/[.,]/g) ?? []).length <= 1) readings.push(digits.replace(",", "."));
  if (ANOTHER.test(after) || !readings.length) return ONE_NUMBER;
  const divide = Number((divisor ?? "1").replaceAll(" ", "").replaceAll(",", "."));
  if (!divide) return NO_NUMBER;
  const power = Number(`1e${Number((raised || plain || exponent || "0").replaceAll(" ", ""))}`);
  const times = (sign?.includes("-") ? -1 : 1) * (unitOf(part, unit) ?? 1);
  const values = readings.map((reading) => (Number(whole ?? 0) + (Number(reading) * power) / divide) * times);
  if (divisor) return { values, figures: part.figures, maxFigures: part.figures, unit };
  const every = digits.replace(/[.,]/g, "").replace(/^0+/, "");
  const figures = /[.,]/.test(digits) ? every : every.replace(/0+$/, ""); // those may only fill places
  return { values, figures: figures.length, maxFigures: every.length, unit };
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
  return given.maxFigures === 1 || !roundsTo(value, part.value, 2);
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
  const size = unitOf(part, unit);
  if (size === undefined) {
    return `${[...unit].slice(0, 20).join("")} is not a unit of this quantity: ${part.unit} is asked for. `;
  }
  return size === 1 ? "" : `The unit asked for is ${part.unit}. `;
}

/** @param {NumberPart} part @param {number} figures */
const aboutFigures = (part, figures) =>
  figures > part.figures + 1 ? `That is more figures than the data allow: ${part.figures} are enough. ` : "";

/** What is carried forward: nothing from 0, from which everything would follow. @param {number} value */
const forwardValue = (value) => (value && Number.isFinite(value) ? value : null);

/**
 * @param {NumberPart} part @param {string} text @param {number|null} before @param {boolean} strict
 * @returns {{lines: MarkLine[], remark: string, value: number|null}}
 */
function markPart(part, text, before, strict) {
  const given = readNumber(text, part);
  if (typeof given === "string") {
    return { lines: part.steps.map(() => ({ earned: false, reason: given })), remark: given, value: null };
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
      return { lines: part.steps.map(() => ({ earned: false, reason: said })), remark: said, value: forwardValue(value) };
    }
    lines = part.steps.map((step, k) => ({
      earned: !miss.lost.includes(k),
      reason: miss.lost.includes(k) ? miss.reason : step,
    }));
  }
  const last = lines.length - 1;
  const foreign = given.unit && part.unit && unitOf(part, given.unit) === undefined;
  if (strict && remark && (last > 0 || foreign) && lines[last].earned) lines[last] = { earned: false, reason: remark };
  return { lines, remark, value: forwardValue(value) };
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
