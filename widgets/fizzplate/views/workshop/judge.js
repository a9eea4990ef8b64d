// Judge an equation from plain data made by Python, in the page: what is typed stays there. The same rules
// stand in lesson/equation_tasks.py; a test holds the two together.

/**
 * @typedef {Record<string, number>} Net formulae used (negative) and made (positive)
 * @typedef {Record<string, [Record<string, number>, number]>} KnownSpecies atoms and charge by spelling
 * @typedef {{accepted: Net[], goal: string}} Task
 * @typedef {{code: string, says: string[], inPlace?: boolean}} Verdict
 */

const LONGEST_ANSWER = 200;
const ARROWS = /<?[-=]?[=-]>|[→⟶⇌⇒⟹]/g;
const DASHES = /[−–—‐‑‒﹣－]/g;
const IGNORED = /\((?:aq|s|l|g)\)|[\s^_{}]/g;
const UNSEEN = /[\p{Cf}\p{Cc}]/gu;

/** An answer with plain signs: one arrow, plain digits, no spaces, states or marks. @param {string} text */
export function normalised(text) {
  const cut = [...text].slice(0, LONGEST_ANSWER).join("");
  const shown = cut.replace(DASHES, "-").replace(ARROWS, "=");
  const plain = shown.normalize("NFKC").replace(DASHES, "-");
  return plain.replace(/[\t\n]/g, " ").replace(UNSEEN, "").replace(IGNORED, "");
}

/**
 * Every reading of a side, the longest formulae first, with what is left unread.
 * @param {string} text @param {KnownSpecies} species @param {boolean} first
 * @returns {Generator<[[string, number][], string]>}
 */
function* readings(text, species, first) {
  const found = (first ? /^([+-]?)([0-9]{0,3})/ : /^([+-])([0-9]{0,3})/).exec(text);
  if (!found) {
    yield [[], text];
    return;
  }
  const count = (found[1] === "-" ? -1 : 1) * Number(found[2] === "" || Number(found[2]) === 0 ? 1 : found[2]);
  const body = text.slice(found[0].length);
  const candidates = Object.keys(species)
    .filter((name) => body.startsWith(name))
    .sort((a, b) => b.length - a.length);
  if (!candidates.length) yield [[], text];
  for (const name of candidates) {
    const rest = body.slice(name.length);
    if (!rest) {
      yield [[[name, count]], ""];
      continue;
    }
    for (const [more, left] of readings(rest, species, false)) yield [[[name, count], ...more], left];
  }
}

/** @param {string} text @param {KnownSpecies} species @returns {Net|string} what could not be read, if so */
function readSide(text, species) {
  let furthest = text;
  for (const [terms, rest] of readings(text, species, true)) {
    if (!rest) {
      /** @type {Net} */
      const net = {};
      for (const [name, count] of terms) net[name] = (net[name] ?? 0) + count;
      return net;
    }
    if (rest.length < furthest.length) furthest = rest;
  }
  return furthest;
}

/** @param {Net} side @param {KnownSpecies} species @returns {Net} */
function atomsOf(side, species) {
  /** @type {Net} */
  const total = {};
  for (const [name, count] of Object.entries(side)) {
    for (const [element, atoms] of Object.entries(species[name][0])) {
      total[element] = (total[element] ?? 0) + count * atoms;
    }
  }
  return total;
}

/** @param {number} charge */
const signedCharge = (charge) => (charge ? `${Math.abs(charge)}${charge > 0 ? "+" : "−"}` : "0");

/** @param {Net} left @param {Net} right @param {KnownSpecies} species */
function imbalance(left, right, species) {
  const says = [];
  const [before, after] = [left, right].map((side) => atomsOf(side, species));
  for (const element of new Set([...Object.keys(before), ...Object.keys(after)])) {
    const [a, b] = [before[element] ?? 0, after[element] ?? 0];
    if (a !== b) says.push(`${element} atoms: ${a} on the left, ${b} on the right.`);
  }
  const [charge, later] = [left, right].map((side) =>
    Object.entries(side).reduce((sum, [name, count]) => sum + count * species[name][1], 0),
  );
  if (charge !== later) says.push(`Charge: ${signedCharge(charge)} on the left, ${signedCharge(later)} on the right.`);
  return says;
}

/** @param {number} a @param {number} b @returns {number} */
const divisorOf = (a, b) => (b ? divisorOf(b, a % b) : Math.abs(a));

/** @param {Net} a @param {Net} b @param {number} [times] */
const sameNet = (a, b, times = 1) =>
  Object.keys(a).length === Object.keys(b).length &&
  Object.entries(a).every(([name, count]) => count === times * b[name]);

/** @param {string} rest @param {KnownSpecies} species */
function unread(rest, species) {
  const shown = rest.replace(/^[+\-0-9]+/, "").slice(0, 12) || rest.slice(0, 12);
  const meant = Object.keys(species).find(
    (name) => name.length > 1 && shown.toLowerCase().startsWith(name.toLowerCase()),
  );
  const hint = meant && !shown.startsWith(meant) ? ` Did you mean ${meant}?` : "";
  return `This cannot be read: “${shown}”.${hint}`;
}

/**
 * Judge an answer to a task.
 * @param {string} text @param {Task} task @param {KnownSpecies} species @returns {Verdict}
 */
export function judge(text, task, species) {
  const plain = normalised(text);
  if (!plain) return { code: "empty", says: ["Write an equation first."] };
  const sides = plain.split("=");
  if (sides.length !== 2 || sides.some((side) => !side)) {
    return { code: "unread", says: ["Write one arrow, with something on either side of it."] };
  }
  // a dash at the end of the left side may be the tail of a long arrow rather than a charge
  if (sides[0].endsWith("-") && typeof readSide(sides[0], species) === "string") {
    sides[0] = sides[0].slice(0, -1);
  }
  const read = [];
  for (const side of sides) {
    const terms = readSide(side, species);
    if (typeof terms === "string") return { code: "unread", says: [unread(terms, species)] };
    read.push(terms);
  }
  const [left, right] = read;
  /** @type {Net} */
  const net = {};
  for (const name of new Set([...Object.keys(left), ...Object.keys(right)])) {
    const count = (right[name] ?? 0) - (left[name] ?? 0);
    if (count) net[name] = count;
  }
  const inPlace = task.accepted.some((form) => sameSides(net, form));
  const says = imbalance(left, right, species);
  if (says.length) return { code: "unbalanced", says, inPlace };
  return { ...compareNet(net, left, right, task), inPlace };
}

/** Whether the same species are used, and the same made. @param {Net} net @param {Net} form */
const sameSides = (net, form) =>
  Object.keys(net).length === Object.keys(form).length &&
  Object.keys(net).every((name) => name in form && net[name] > 0 === form[name] > 0);

/** @param {Net} net @param {Net} left @param {Net} right @param {Task} task @returns {Verdict} */
function compareNet(net, left, right, task) {
  const counts = Object.values(net);
  if (!counts.length) return { code: "other", says: ["Nothing changes: both sides are the same."] };
  const divisor = counts.reduce(divisorOf, 0);
  /** @type {Net} */
  const lowest = Object.fromEntries(Object.entries(net).map(([name, count]) => [name, count / divisor]));
  if (task.accepted.some((form) => sameNet(lowest, form))) {
    const both = Object.keys(left).filter((name) => name in right && left[name] * right[name] > 0).sort();
    if (both.length) return { code: "cancel", says: [`Right once it is tidied: ${both[0]} stands on both sides.`] };
    if (divisor > 1) return { code: "multiple", says: [`Right, but everything can be divided by ${divisor}.`] };
    return { code: "right", says: ["Right: atoms and charge balance."] };
  }
  if (task.accepted.some((form) => sameNet(lowest, form, -1))) {
    return { code: "reversed", says: ["It is balanced, but it runs the wrong way round."] };
  }
  return { code: "other", says: [`It is balanced, but it does not ${task.goal}.`] };
}
