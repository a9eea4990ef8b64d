// Errors carried forward: what is right after wrong answers before, and slips that were made before, as in
// questions/marking/carried_forward.py.

import RULES from "../../../questions/marking/carried_forward.json" with { type: "json" };

/** @typedef {import("./numbers.js").NumberPart} NumberPart */
/** @typedef {import("./numbers.js").NearMiss} NearMiss */

const SAME = 1e-3; // how near an answer is to one that the part knows what follows from
const NOT_OF_THE_SLIP = new RegExp(RULES.not_of_the_slip, "g");
/** @type {Record<string, (a: number, b: number) => number>} */
const SIGNS = { "+": (a, b) => a + b, "-": (a, b) => a - b, "×": (a, b) => a * b, "÷": (a, b) => a / b };

/** What went wrong, without the numbers and the substance. @param {NearMiss} slip */
const kindOf = ({ reason }) => reason.replace(NOT_OF_THE_SLIP, "");

/** The slips that a near miss is made of: itself, or those that it joins. @param {NumberPart} part @param {NearMiss} miss */
function singleSlips(part, miss) {
  const joined = part.nearMisses.filter(({ reason }) => reason !== miss.reason && miss.reason.includes(reason));
  return joined.length ? joined : [miss];
}

/** What is carried forward: nothing from 0, from which everything would follow. @param {number} value */
export const forwardValue = (value) => (value && Number.isFinite(value) ? value : null);

/**
 * How much of its product an equation with plain signs makes for each electron, right or wrong.
 * @param {Record<string, number>} form what the right one makes and uses @param {string} equation
 */
export function madeForAnElectron(form, equation) {
  const product = Object.keys(form).find((name) => form[name] > 0 && name !== "e-") ?? "";
  const [made, electrons] = [product.replace("^", "").replace("+", "[+]"), "e-?"].map((formula) => {
    const found = new RegExp(RULES.term.replace("FORMULA", formula)).exec(equation);
    return found ? Number(found[1] || 1) : 0;
  });
  return forwardValue(made / electrons);
}

/** The value of a formula, each sign after what it joins. @param {string} formula @param {number[]} answers */
function workOut(formula, answers) {
  /** @type {number[]} */
  const stack = [];
  for (const word of formula.split(" ")) {
    if (Object.hasOwn(SIGNS, word)) {
      const last = stack.pop() ?? NaN;
      stack.push(SIGNS[word](stack.pop() ?? NaN, last));
    } else stack.push(/^[0-9]+(?:\.[0-9]+)?$/.test(word) ? Number(word) : answers[[...RULES.letters].indexOf(word)] ?? NaN);
  }
  return stack.length === 1 ? forwardValue(stack[0]) : null;
}

/** What was answered to the parts before. */
export class AnswersBefore {
  /** @type {(number|null)[]} */
  answers = [];
  /** @type {number[]} */
  right = [];
  /** @type {Set<string>} of each slip that cost a mark its kind */
  slips = new Set();
  /** @type {number[]} what each of two slips in the part before makes of its right answer, by itself */
  shares = [];

  /** @param {number|null} [fromEquation] what an equation in a section before makes for each electron */
  constructor(fromEquation = null) {
    this.fromEquation = fromEquation;
  }

  /** @param {NumberPart} part @param {number|null} value @param {NearMiss|undefined} [miss] */
  add(part, value, miss) {
    this.answers.push(value);
    this.right.push(part.value);
    const singles = miss ? singleSlips(part, miss) : [];
    for (const each of singles) this.slips.add(kindOf(each));
    this.shares = singles.length > 1 ? singles.map((each) => each.value / part.value) : [];
  }

  /** What is right in a part after these answers, the usual one first. @param {NumberPart} part @returns {number[]} */
  carried(part) {
    const known = part.afterwards?.find((each) => {
      const given = this.answers[each.part] ?? null;
      return given !== null && Math.abs(given - each.given) <= SAME * Math.abs(each.given);
    });
    if (known) return [known.value];
    if (part.formula) {
      const value = workOut(part.formula, this.answers.map((given, k) => given ?? this.right[k]));
      return value === null ? [] : [value];
    }
    const given = this.answers.length ? this.answers.at(-1) ?? null : this.fromEquation;
    if (given === null || !part.factor) return [];
    return [given * part.factor, ...this.shares.map((share) => share * part.value)];
  }

  /** The steps that a near miss loses by slips that cost a mark before. @param {NumberPart} part @param {NearMiss} miss */
  repeated(part, miss) {
    const again = singleSlips(part, miss).filter((slip) => this.slips.has(kindOf(slip)));
    return new Set(again.flatMap(({ lost }) => lost));
  }
}
