// Judge an equation from plain data made by Python, in the page: what is typed stays there. The same rules
// stand in lesson/equations/equation_judge.py; a test holds the two together.

/**
 * @typedef {Record<string, number>} Net formulae used (negative) and made (positive)
 * @typedef {Record<string, [Record<string, number>, number]>} KnownSpecies atoms and charge by spelling
 * @typedef {{accepted: Net[], goal: string}} Task
 * @typedef {{code: string, sentences: string[], inPlace?: boolean}} Verdict
 */

const MAX_ANSWER_LENGTH = 200;
const ARROWS = /<?[-=]?[=-]?>|[→⟶⇌⇒⟹➝➞➔➙➛➜]/g;
const ENDS = /<?[-=]?[=-]?>|[→⟶⇌⇒⟹➝➞➔➙➛➜]|=/;
const DASHES = /[−–—‐‑‒﹣－]/g;
const IGNORED = /\((?:aq|s|l|g)\)|[\s^_{}]/g;
const UNSEEN = /[\p{Cf}\p{Cc}]/gu;
const HALF = /(?<![0-9])0[.,]5(?![0-9])/g;
const COUNT = /^[+\-−–⁺⁻0-9/½ ]+/;
const BELOW = /\/([2-9])(?![0-9])/g;
const [OTHER_LETTERS, LATIN] = ["АВЕКМНОРСТХІаеорсхі", "ABEKMHOPCTXIaeopcxi"];

/** An answer with plain signs: one arrow, plain digits, no spaces, states, marks or full stop. @param {string} text */
export function normalised(text) {
  const cut = [...text].slice(0, MAX_ANSWER_LENGTH).join("");
  const shown = cut.replace(DASHES, "-").replace(ARROWS, "=");
  const plain = shown.normalize("NFKC").replace(DASHES, "-");
  const kept = plain.replace(/[\t\n]/g, " ").replace(UNSEEN, "").replace(IGNORED, "");
  return kept.replaceAll("⁄", "/").replace(HALF, "1/2").replace(/\.+$/, "");
}

/**
 * Every reading of a side, the longest formulae first, with what is left unread.
 * @param {string} text @param {KnownSpecies} species @param {number} times @param {boolean} first
 * @returns {Generator<[[string, number][], string]>}
 */
function* readings(text, species, times, first) {
  const begins = first ? /^([+-]?)([0-9]{0,3})(?:(?<=[0-9])\/([2-9]))?/ : /^([+-])([0-9]{0,3})(?:(?<=[0-9])\/([2-9]))?/;
  const found = begins.exec(text);
  if (!found) {
    yield [[], text];
    return;
  }
  const above = (found[1] === "-" ? -1 : 1) * (Number(found[2]) || 1);
  const count = Math.floor((above * times) / Number(found[3] ?? 1));
  const body = text.slice(found[0].length);
  const candidates = Object.keys(species)
    .filter((name) => body.startsWith(name))
    .sort((a, b) => b.length - a.length)
    .map((name) => [name, name]);
  if (!candidates.length && body.startsWith("e")) candidates.push(["e-", "e"]); // as many books write it
  if (!candidates.length) yield [[], text];
  for (const [name, spelt] of candidates) {
    const rest = body.slice(spelt.length);
    if (!rest) {
      yield [[[name, count]], ""];
      continue;
    }
    for (const [more, left] of readings(rest, species, times, false)) yield [[[name, count], ...more], left];
  }
}

/** @param {string} text @param {KnownSpecies} species @param {number} times @returns {Net|string} what could not be read, if so */
function readSide(text, species, times) {
  let furthest = text;
  for (const [terms, rest] of readings(text, species, times, true)) {
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

/** Whether nothing was judged, since nothing could be read. @param {string} code */
export const isUnread = (code) => code === "empty" || code === "unread";

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

/** A count as it was typed, before it was made whole. @param {number} count @param {number} times */
function typedCount(count, times) {
  const common = divisorOf(count, times);
  return common === times ? String(count / times) : `${count / common}/${times / common}`;
}

/** @param {number} charge @param {number} times */
const signedCharge = (charge, times) =>
  charge ? `${typedCount(Math.abs(charge), times)}${charge > 0 ? "+" : "−"}` : "0";

/** @param {Net} left @param {Net} right @param {KnownSpecies} species @param {number} times */
function imbalance(left, right, species, times) {
  const sentences = [];
  const [before, after] = [left, right].map((side) => atomsOf(side, species));
  for (const element of new Set([...Object.keys(before), ...Object.keys(after)])) {
    const [a, b] = [before[element] ?? 0, after[element] ?? 0];
    const [shown, then] = [typedCount(a, times), typedCount(b, times)];
    if (a !== b) sentences.push(`${element} atoms: ${shown} on the left, ${then} on the right.`);
  }
  const [charge, later] = [left, right].map((side) =>
    Object.entries(side).reduce((sum, [name, count]) => sum + count * species[name][1], 0),
  );
  if (charge !== later) {
    sentences.push(`Charge: ${signedCharge(charge, times)} on the left, ${signedCharge(later, times)} on the right.`);
  }
  return sentences;
}

/** @param {number} a @param {number} b @returns {number} */
const divisorOf = (a, b) => (b ? divisorOf(b, a % b) : Math.abs(a));

/** @param {Net} a @param {Net} b @param {number} [times] */
const sameNet = (a, b, times = 1) =>
  Object.keys(a).length === Object.keys(b).length &&
  Object.entries(a).every(([name, count]) => count === times * b[name]);

/** The end of an answer that reads as this, up to the arrow, as it was typed. @param {string} text @param {string} plain */
function typedEnd(text, plain) {
  const typed = [...text].slice(0, MAX_ANSWER_LENGTH);
  let start = typed.length - 1;
  while (start >= 0 && normalised(typed.slice(start).join("")) !== plain) start -= 1;
  const shown = start < 0 ? plain : typed.slice(start).join("");
  const end = shown.replace(DASHES, "-").search(ENDS);
  return (end < 0 ? shown : shown.slice(0, end)).replace(UNSEEN, "").replace(/^ +| +$/g, "");
}

/** What could not be read, and what it may mean. @param {string} rest @param {string} typed @param {KnownSpecies} species */
function unread(rest, typed, species) {
  const bare = rest.replace(/^[+\-/0-9]+/, "");
  const names = Object.keys(species);
  let meant = names.find((name) => name.length > 1 && bare.toLowerCase().startsWith(name.toLowerCase()));
  const latin = [...bare].map((letter) => LATIN[OTHER_LETTERS.indexOf(letter)] ?? letter).join("");
  const alike = latin.replace(/C[I1]/g, "Cl");
  if (alike !== bare) {
    const longest = names.filter((name) => alike.startsWith(name)).sort((a, b) => b.length - a.length);
    meant = longest[0] ?? meant;
  }
  const hint = meant && !bare.startsWith(meant) ? ` Did you mean ${meant}?` : "";
  const shown = [...typed.replace(COUNT, "")].slice(0, 12).join("").replace(/ +$/, "") || [...typed].slice(0, 12).join("");
  return `This cannot be read: “${shown}”.${hint}`;
}

/**
 * Judge an answer to a task.
 * @param {string} text @param {Task} task @param {KnownSpecies} species @returns {Verdict}
 */
export function judge(text, task, species) {
  const plain = normalised(text);
  if (!plain) return { code: "empty", sentences: ["Write an equation first."] };
  const sides = plain.split("=");
  if (sides.length !== 2 || sides.some((side) => !side)) {
    return { code: "unread", sentences: ["Write one arrow, with something on either side of it."] };
  }
  // what makes whole numbers of its fractions
  const times = [...plain.matchAll(BELOW)].map((each) => Number(each[1])).reduce((a, b) => (a * b) / divisorOf(a, b), 1);
  // a dash at the end of the left side may be the tail of a long arrow rather than a charge
  if (sides[0].endsWith("-") && typeof readSide(sides[0], species, times) === "string") {
    const bare = sides[0].slice(0, -1);
    if (typeof readSide(bare, species, times) !== "string") sides[0] = bare;
  }
  const read = [];
  for (const [k, side] of sides.entries()) {
    let terms = readSide(side, species, times);
    if (typeof terms === "string") {
      // an l that is typed as I: carbon was read
      if (/^[I1]/.test(terms) && side.includes(`C${terms}`)) terms = `C${terms}`;
      const typed = typedEnd(text, k ? terms : `${terms}=${sides[1]}`);
      return { code: "unread", sentences: [unread(terms, typed, species)] };
    }
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
  const sentences = imbalance(left, right, species, times);
  if (sentences.length) return { code: "unbalanced", sentences, inPlace };
  return { ...compareNet(net, left, right, task, times), inPlace };
}

/** Whether the same species are used, and the same made. @param {Net} net @param {Net} form */
const sameSides = (net, form) =>
  Object.keys(net).length === Object.keys(form).length &&
  Object.keys(net).every((name) => name in form && net[name] > 0 === form[name] > 0);

/** @param {Net} net @param {Net} left @param {Net} right @param {Task} task @param {number} times @returns {Verdict} */
function compareNet(net, left, right, task, times) {
  const counts = Object.values(net);
  if (!counts.length) return { code: "other", sentences: ["Nothing changes: both sides are the same."] };
  const divisor = counts.reduce(divisorOf, 0);
  /** @type {Net} */
  const lowest = Object.fromEntries(Object.entries(net).map(([name, count]) => [name, count / divisor]));
  if (task.accepted.some((form) => sameNet(lowest, form))) {
    const both = Object.keys(left).filter((name) => name in right && left[name] * right[name] > 0).sort();
    if (both.length) return { code: "cancel", sentences: [`Right once it is tidied: ${both[0]} stands on both sides.`] };
    if (divisor > 1 && times === 1) return { code: "multiple", sentences: [`Right, but everything can be divided by ${divisor}.`] };
    return { code: "right", sentences: ["Right: atoms and charge balance."] };
  }
  if (task.accepted.some((form) => sameNet(lowest, form, -1))) {
    return { code: "reversed", sentences: ["It is balanced, but it runs the wrong way round."] };
  }
  return { code: "other", sentences: [`It is balanced, but it does not ${task.goal}.`] };
}
