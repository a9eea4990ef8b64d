// Read and mark numbers. Patterns, spellings of units and sentences stand in files that Python reads as well; the steps below
// stand in questions/marking/numbers.py too: working and its results, near misses, units.

import RULES from "../../../questions/marking/numbers.json" with { type: "json" };
import SPELLINGS from "../../../questions/marking/units.json" with { type: "json" };
import { say } from "../../kit/say.js";
import { AnswersBefore, forwardValue } from "./carried_forward.js";

/**
 * @typedef {{earned: boolean, reason: string}} MarkLine
 * @typedef {{value: number, lost: number[], reason: string, misconception?: number}} NearMiss
 * @typedef {{value: number, unit: string, steps: string[], prompt: string, factor: number, nearMisses: NearMiss[],
 *   tolerance: number, figures: number, answer: string, stepValues?: number[], stepUnits?: string[], formula?: string,
 *   afterwards?: {part: number, given: number, value: number}[]}} NumberPart
 * @typedef {{values: number[], figures: number, maxFigures: number, unit: string, evaluated: boolean}} GivenNumber
 */

const SENTENCES = RULES.sentences;
const NUMBER = new RegExp(RULES.number);
const LINE_ENDS = new RegExp(RULES.line_ends, "g");
const PART_LETTERS = new RegExp(RULES.part_letters);
const GOES_ON = new RegExp(RULES.goes_on);
const PART_ENDS = new RegExp(RULES.part_ends);
const CLAUSE_ENDS = new RegExp(RULES.clause_ends);
const EVERY_NUMBER = new RegExp(RULES.number, "g");
const THOUSANDS = new RegExp(RULES.thousands);
const ANOTHER = new RegExp(RULES.another);
const EQUALS = new RegExp(RULES.equals);
const HEDGED = new RegExp(RULES.hedged);
const WORKING = new RegExp(RULES.working);
const STEPS = new RegExp(RULES.steps);
const OPERATORS = new RegExp(RULES.operators, "g");
const FIGURES_SAID = new RegExp(RULES.figures_said, "i");
const STILL_UNIT = new RegExp(RULES.still_unit, "i");
const BESIDE = new Set(RULES.beside);
const MIXED_TIME = new RegExp(RULES.mixed_time, "g");
const REWRITES = RULES.rewrites.map(([pattern, written]) => ({ pattern: new RegExp(pattern, "g"), written }));

/** @type {Map<string, Map<string, number>>} how each unit may be written, and its size in the unit asked for */
const UNITS = new Map(
  Object.entries(SPELLINGS.units).map(([unit, [quantity, unitSize]]) => {
    const spellings = /** @type {Record<string, string>} */ (/** @type {any} */ (SPELLINGS.spellings)[quantity]);
    const sizes = Object.entries(spellings).flatMap(([size, words]) =>
      words.split(" ").map((word) => /** @type {[string, number]} */ ([word, Number(size) / Number(unitSize)])),
    );
    return [unit, new Map(sizes)];
  }),
);
const EVERY_UNIT = new Set([...UNITS.values()].flatMap((sizes) => [...sizes.keys()]));

/** @param {string} unit */
const plainUnit = (unit) => unit.replace(/[\s^.*·()[\]]/g, "").replaceAll("³", "3").toLowerCase();

/** What of the unit asked for a unit is. @param {string} asked @param {string} unit @returns {number|undefined} */
const sizeOf = (asked, unit) => UNITS.get(asked)?.get(plainUnit(unit));

/** What a number may mean in a unit. @param {GivenNumber} given @param {string} unit */
const inUnit = (given, unit) => given.values.map((value) => value * (sizeOf(unit, given.unit) ?? 1));

/** Fractions as 1/2, of a bare number ratios too; how many figures were given left out. @param {string} text @param {NumberPart} part */
function plainNumber(text, part) {
  const fractions = text.trim().replace(/\s+/g, " ").replace(/(?<=[0-9])([0-9])⁄/g, " $1/"); // 2½ comes as 21⁄2
  let plain = fractions.replaceAll("⁄", "/").replaceAll("–", "-").replace(FIGURES_SAID, "");
  plain = plain.replace(MIXED_TIME, (_, minutes, seconds) => `${(Number(minutes) + Number(seconds) / 60).toFixed(2)} min`);
  for (const { pattern, written } of REWRITES) plain = plain.replace(pattern, written);
  plain = plain.replace(/^ +| +$/g, "");
  return part.unit ? plain : plain.replace(/(?<=[0-9]) ?(?::| to ) ?(?=[0-9])/g, "/");
}

/** The last piece between signs of equality that has a number. @param {string} text */
function lastPiece(text) {
  const all = text.split(EQUALS).map((piece) => piece.replace(/^[ ([]+|[ ([]+$/g, ""));
  while (all.length > 1 && !NUMBER.test(all[all.length - 1])) all.pop();
  return all[all.length - 1];
}

/** What follows a number: its unit, and the words after it, such as "of hydrogen". @param {string} text @param {NumberPart} part */
function unitAndMore(text, part) {
  const words = text
    .split(" ")
    .map((word) => word.replace(/^[()[\].,:!?]+|[()[\].,:!?]+$/g, ""))
    .filter((word) => word && !BESIDE.has(word.toLowerCase()));
  for (let k = words.length; k > 0; k -= 1) {
    const plain = plainUnit(words.slice(0, k).join(""));
    const known = UNITS.get(part.unit)?.has(plain) || EVERY_UNIT.has(plain);
    if (known && !words.slice(k).some((word) => STILL_UNIT.test(word))) {
      return { unit: words.slice(0, k).join(" "), after: words.slice(k).join(" ") };
    }
  }
  return { unit: words.join(" "), after: words.join(" ") };
}

/** The one number of a text. @param {string} text @param {NumberPart} part @returns {GivenNumber|string} */
function readOne(text, part) {
  const found = NUMBER.exec(text);
  if (!found) return SENTENCES.no_number;
  const { unit, after } = unitAndMore(text.slice(found.index + found[0].length), part);
  return ANOTHER.test(after) ? SENTENCES.one_number : givenNumber(found, unit, part);
}

/** What a number that was found may mean. @param {RegExpExecArray} found @param {string} unit @param {NumberPart} part @returns {GivenNumber|string} */
function givenNumber([, sign, whole, typed, raised, plain, exponent, divisor], unit, part) {
  const digits = typed.replaceAll(" ", "");
  const readings = [];
  if (THOUSANDS.test(digits)) readings.push(digits.replaceAll(",", ""));
  if ((digits.match(/[.,]/g) ?? []).length <= 1) readings.push(digits.replace(",", "."));
  if (!readings.length) return SENTENCES.one_number;
  const divide = Number((divisor ?? "1").replaceAll(" ", "").replaceAll(",", "."));
  if (!divide) return SENTENCES.no_number;
  const power = Number(`1e${Number((raised || plain || exponent || "0").replaceAll(" ", ""))}`);
  const times = sign?.includes("-") ? -1 : 1;
  const values = readings.map((reading) => (Number(whole ?? 0) + (Number(reading) * power) / divide) * times);
  if (divisor) return { values, figures: part.figures, maxFigures: part.figures, unit, evaluated: true };
  const every = digits.replace(/[.,]/g, "").replace(/^0+/, "");
  const figures = /[.,]/.test(digits) ? every : every.replace(/0+$/, ""); // those may only fill places
  return { values, figures: figures.length, maxFigures: every.length, unit, evaluated: true };
}

/** Go on with a sum: multiply and divide its last member, or add another. @param {number[]} total @param {string} sign @param {number} value */
function goOn(total, sign, value) {
  const last = total.length - 1;
  if (!total.length || !sign || sign === "+") total.push(value);
  else if (sign === "-") total.push(-value);
  else if (sign === "÷" || sign === "/") total[last] = value ? total[last] / value : NaN;
  else total[last] *= value;
}

/**
 * One side of a step of working: its numbers, and what they make together, not worked out. A side that begins with a sign goes on
 * from the number before.
 * @param {string} side @param {NumberPart} part @param {GivenNumber[]} before @returns {GivenNumber[]}
 */
function readSide(side, part, before) {
  /** @type {GivenNumber[]} */
  const numbers = [];
  /** @type {number[]} */
  let total = [];
  let [end, joined] = [0, true];
  for (const found of side.matchAll(EVERY_NUMBER)) {
    const between = side.slice(end, found.index);
    end = found.index + found[0].length;
    const given = givenNumber(/** @type {RegExpExecArray} */ (found), "", part);
    if (typeof given === "string") continue;
    const sign = (between.match(OPERATORS) ?? []).at(-1) ?? "";
    const last = before.at(-1);
    if (!numbers.length && sign && last && !/[A-Za-z]/.test(between)) {
      total = [last.values[0]];
      numbers.push(last);
    }
    joined = joined && (!numbers.length || Boolean(sign) || given.values[0] < 0);
    numbers.push(given);
    goOn(total, sign, given.values[0]);
  }
  if (!numbers.length) return [];
  const { unit } = unitAndMore(side.slice(end), part);
  if (numbers.length > 1 && joined && total.length) {
    const value = total.reduce((sum, each) => sum + each, 0);
    return [...numbers, { values: [value], figures: part.figures, maxFigures: part.figures, unit, evaluated: false }];
  }
  return [...numbers.slice(0, -1), { ...numbers[numbers.length - 1], unit }];
}

/**
 * The numbers of a working, the last of which is the answer; if it cannot be read, why.
 * @param {string} text @param {NumberPart} part @returns {GivenNumber[]|string}
 */
export function readNumber(text, part) {
  const plain = plainNumber(text, part);
  if (HEDGED.test(plain)) return SENTENCES.one_number;
  if (!WORKING.test(plain)) {
    const given = readOne(lastPiece(plain), part);
    return typeof given === "string" ? given : [given];
  }
  /** @type {GivenNumber[]} */
  const numbers = [];
  for (const side of plain.split(STEPS).flatMap((step) => step.split(EQUALS))) {
    numbers.push(...readSide(side.replace(/^[ ()[]+|[ ()[]+$/g, ""), part, numbers));
  }
  return numbers.length ? numbers : SENTENCES.no_number;
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
 * @param {NumberPart} part @param {number} value @param {number[]} carried
 */
function nearMiss(part, value, carried) {
  for (const scale of [1, ...(part.value ? carried.map((each) => each / part.value) : [])]) {
    const miss = part.nearMisses.find((each) => near(part, value, scale * each.value));
    if (miss) return miss;
  }
  return undefined;
}

/** @param {NumberPart} part @param {string} unit */
function aboutUnit(part, unit) {
  if (!part.unit) return "";
  if (!unit) return say(SENTENCES.unit_missing, { unit: part.unit });
  const size = sizeOf(part.unit, unit);
  if (size === undefined) return say(SENTENCES.unit_foreign, { given: [...unit].slice(0, 20).join(""), unit: part.unit });
  return size === 1 ? "" : say(SENTENCES.unit_other, { unit: part.unit });
}

/** @param {NumberPart} part @param {number} figures */
const aboutFigures = (part, figures) => (figures > part.figures + 1 ? say(SENTENCES.figures, { figures: part.figures }) : "");

/**
 * An answer that is right, or follows from those before; otherwise nothing.
 * @param {NumberPart} part @param {number} value @param {GivenNumber} given @param {number[]} carried @returns {MarkLine[]|null}
 */
function linesOfAnswer(part, value, given, carried) {
  const isExact = near(part, value, part.value);
  if (!isExact && carried.some((each) => near(part, value, each))) {
    return part.steps.map((step) => ({ earned: true, reason: say(SENTENCES.carried, { step }) }));
  }
  const fewest = part.tolerance > RULES.exact ? 0 : part.figures;
  if (!isExact && !roundsTo(value, part.value, Math.max(given.figures, fewest))) return null;
  const lines = part.steps.map((reason) => ({ earned: true, reason }));
  if (roundedTooFar(part, value, given)) {
    lines[lines.length - 1] = { earned: false, reason: say(SENTENCES.too_rounded, { figures: part.figures }) };
  }
  return lines;
}

/** An answer that shows a known slip, which costs no mark at steps where it is repeated. @param {NumberPart} part @param {NearMiss} miss @param {Set<number>} repeated @returns {MarkLine[]} */
function linesOfSlip(part, { lost, reason }, repeated) {
  return part.steps.map((step, k) => {
    const said = lost.includes(k) ? reason : step;
    return repeated.has(k) ? { earned: true, reason: say(SENTENCES.repeated, { reason: said }) } : { earned: !lost.includes(k), reason: said };
  });
}

/** Whether a number of a working is the result of a step. @param {NumberPart} part @param {GivenNumber} given @param {number} result @param {string} unit */
function isResult(part, given, result, unit) {
  const plain = plainUnit(given.unit);
  if (EVERY_UNIT.has(plain) && !UNITS.get(unit)?.has(plain)) return false;
  return inUnit(given, unit).some((value) => near(part, value, result) || roundsTo(value, result, given.figures));
}

/**
 * How many steps there are up to the last one before the answer whose result stands in a working; two steps with the same
 * result are both shown only where it stands there twice, worked out; all are as many times larger as what they follow from.
 * @param {NumberPart} part @param {GivenNumber[]} read @param {number} scale
 */
function shownSteps(part, read, scale) {
  const results = (part.stepValues ?? []).slice(0, -1).map((value) => scale * value);
  const units = part.stepUnits ?? [];
  let reached = 0;
  results.forEach((result, k) => {
    const shown = read.filter((given) => isResult(part, given, result, units[k] ?? ""));
    const same = results.slice(0, k).filter((value, j) => units[j] === units[k] && near(part, value, result)).length;
    if (shown.filter(({ evaluated }) => evaluated).length > same || (shown.length && !same)) reached = k + 1;
  });
  return reached;
}

/**
 * Whether an answer still stands in another unit where to convert it was part of the work: a thousand times more or less is
 * as good, but seconds are not minutes, and the result of the step before is not yet the answer.
 * @param {NumberPart} part @param {GivenNumber} given
 */
function isNotConverted(part, given) {
  const size = given.unit ? sizeOf(part.unit, given.unit) : undefined;
  if (size === undefined || size === 1) return false;
  const power = 10 ** Math.round(Math.log10(size));
  if (size < 1 && Math.abs(power - size) > 1e-9 * Math.max(power, size)) return true;
  return (part.stepValues ?? []).slice(0, -1).some((value, k) => {
    const unit = part.stepUnits?.[k] ?? "";
    const isSame = plainUnit(unit) === plainUnit(given.unit) || sizeOf(unit, given.unit) === 1;
    return isSame && given.values.some((each) => near(part, each, value));
  });
}

/**
 * Mark a part after the answers before, and add its answer to them.
 * @param {NumberPart} part @param {string} text @param {AnswersBefore} before @param {boolean} strict
 * @returns {{lines: MarkLine[], remark: string}}
 */
function markPart(part, text, before, strict) {
  const read = readNumber(text, part);
  const carried = before.carried(part);
  if (typeof read === "string") {
    before.add(part, text.trim() ? null : carried[0] ?? null); // who leaves a number out may still go on from the one before
    return { lines: part.steps.map(() => ({ earned: false, reason: read })), remark: read };
  }
  const given = read[read.length - 1];
  const remark = `${aboutUnit(part, given.unit)} ${aboutFigures(part, given.figures)}`.trim();
  const values = inUnit(given, part.unit);
  const value = values.find((each) => near(part, each, part.value)) ?? values[0];
  let lines = linesOfAnswer(part, value, given, carried);
  const miss = lines ? undefined : nearMiss(part, value, carried);
  if (miss) lines = linesOfSlip(part, miss, before.repeated(part, miss));
  before.add(part, forwardValue(value), miss);
  const scales = part.value && !part.formula ? carried.map((each) => each / part.value) : [];
  const shown = Math.max(...[1, ...scales].map((scale) => shownSteps(part, read, scale)));
  if (!lines && shown && Math.abs(value - part.value) <= RULES.rounded_on_the_way * Math.abs(part.value)) {
    const said = say(SENTENCES.rounded_on_the_way, { figures: part.figures });
    const most = part.steps.slice(0, -1).map((reason) => ({ earned: true, reason }));
    return { lines: [...most, { earned: false, reason: said }], remark: "" };
  }
  if (!lines || (read.length > 1 && shown > lines.filter(({ earned }) => earned).length)) {
    const said = say(SENTENCES.the_answer, { answer: part.answer, steps: part.steps.join(" ") });
    const marked = part.steps.map((step, k) => ({ earned: k < shown, reason: k < shown ? step : said }));
    return { lines: marked, remark: shown ? "" : said };
  }
  const last = lines.length - 1;
  if (!given.evaluated && lines[last].earned) lines[last] = { earned: false, reason: SENTENCES.not_worked };
  if (last > 0 && lines[last].earned && isNotConverted(part, given)) {
    lines[last] = { earned: false, reason: say(SENTENCES.unit_other, { unit: part.unit }) };
  }
  const foreign = given.unit && part.unit && sizeOf(part.unit, given.unit) === undefined;
  if (strict && remark && (last > 0 || foreign) && lines[last].earned) lines[last] = { earned: false, reason: remark };
  return { lines, remark };
}

/** Whether a clause ends in the result of a part. @param {string} clause @param {NumberPart} part */
function endsIn(clause, part) {
  const read = readNumber(clause, part);
  if (typeof read === "string") return false;
  const allowed = part.tolerance * Math.abs(part.value);
  return inUnit(read[read.length - 1], part.unit).some((value) => Math.abs(value - part.value) <= allowed);
}

/** Give each part the clauses of a working up to its own result; nothing, if the first has none. @param {string} working @param {NumberPart[]} parts */
function sharedOut(working, parts) {
  const clauses = working.split(CLAUSE_ENDS).map((each) => each.trim()).filter(Boolean);
  let first = 0;
  const texts = parts.map((part) => {
    const found = clauses.slice(first).findIndex((clause) => endsIn(clause, part));
    const end = first + found + 1; // where there is none, that is where it begins
    const text = clauses.slice(first, end).join("; ");
    first = end;
    return text;
  });
  return texts[0] ? texts : null;
}

/** The unit with which a text begins, if that is one. @param {string} text @param {NumberPart} part */
function ownUnit(text, part) {
  const words = text.replace(/^ +| +$/g, "").split(" ");
  for (let k = words.length; k > 0; k -= 1) {
    const unit = words.slice(0, k).join(" ").replace(/^[()[\].,:!?]+|[()[\].,:!?]+$/g, "");
    if (UNITS.get(part.unit)?.has(plainUnit(unit)) || EVERY_UNIT.has(plainUnit(unit))) return unit;
  }
  return "";
}

/** The numbers of an answer with their units; null, if they are not one for each part. @param {string} answer @param {NumberPart[]} parts */
function numbersAmongWords(answer, parts) {
  const plain = plainNumber(answer, parts[0]);
  const found = [...plain.matchAll(EVERY_NUMBER)];
  const behind = found.map((each, k) => plain.slice(each.index + each[0].length, found[k + 1]?.index));
  if (found.length !== parts.length || behind.some((each) => GOES_ON.test(each))) return null;
  return found.map((each, k) => `${each[0].trim()} ${ownUnit(behind[k], parts[k])}`);
}

/**
 * Cut an answer at letters of parts, or at its semicolons; one without, and without a working, at commas if that fits. One working for all parts
 * is shared out among them. Where it holds just as many numbers as are asked for, with words between, each is that of a part.
 * @param {string} answer @param {NumberPart[]} asked
 */
export function answersOfParts(answer, asked) {
  const parts = asked.length;
  if (parts === 1) return [answer];
  const [, ...lettered] = answer.split(PART_LETTERS);
  if (lettered.length === parts) return lettered.map((each) => each.replace(/^[ ;,]+|[ ;,]+$/g, ""));
  const typed = answer.split(";");
  if (!answer.includes("=") && typed.slice(1).every((each) => !each.trim())) {
    const listed = typed[0].replace(/^ +| +$/g, "").split(PART_ENDS);
    if (listed.length === parts && listed.every((each) => NUMBER.test(each))) return listed;
  }
  if (typed.filter((each) => each.trim()).length === parts) return typed;
  return numbersAmongWords(answer, asked) ?? (answer.includes("=") ? sharedOut(answer, asked) : null) ?? typed;
}

/** The lines of an answer in one, with semicolons between them. @param {string} answer */
export const linesJoined = (answer) => answer.replace(LINE_ENDS, "; ");

/** @param {NumberPart[]} parts @param {string} answer numbers with semicolons between them @param {boolean} strict @param {number|null} [fromEquation] */
export function markParts(parts, answer, strict, fromEquation) {
  const typed = answersOfParts(answer, parts);
  /** @type {MarkLine[]} */
  const lines = [];
  const remarks = /** @type {string[]} */ ([]);
  const before = new AnswersBefore(fromEquation);
  parts.forEach((part, k) => {
    const marked = markPart(part, typed[k] ?? "", before, strict);
    const label = parts.length > 1 ? `(${RULES.letters[k]}) ` : "";
    lines.push(...marked.lines.map(({ earned, reason }) => ({ earned, reason: label + reason })));
    if (marked.remark && marked.lines.every(({ reason }) => reason !== marked.remark)) remarks.push(label + marked.remark);
  });
  return { lines, remark: remarks.join(" "), misconception: 0 };
}
