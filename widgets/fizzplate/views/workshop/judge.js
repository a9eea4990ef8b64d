// Judge an equation from plain data made by Python, in the page: what is typed stays there. Patterns and sentences stand in
// one file for both; the steps below stand in lesson/equations/equation_judge.py too, and a test holds the two together.

import RULES from "../../lesson/equations/reading.json" with { type: "json" };
import { say } from "../kit/say.js";

/**
 * @typedef {Record<string, number>} Net formulae used (negative) and made (positive)
 * @typedef {Record<string, [Record<string, number>, number, Net?]>} KnownSpecies atoms, charge and, of a compound, ions by spelling
 * @typedef {{accepted: Net[], goal: string}} Task
 * @typedef {{code: string, sentences: string[], inPlace?: boolean, net?: Net}} Verdict
 * @typedef {[string, number][]} Terms
 */

const SENTENCES = RULES.sentences;
const ARROWS = new RegExp(RULES.arrows, "g");
const ENDS = new RegExp(RULES.ends);
const DASHES = new RegExp(RULES.dashes, "g");
const UNLIKE = /** @type {[RegExp, string][]} */ (RULES.unlike_signs.map(([pattern, written]) => [new RegExp(pattern, "g"), written]));
const IGNORED = new RegExp(RULES.ignored, "g");
const UNSEEN = /[\p{Cf}\p{Cc}]/gu;
const HALF = new RegExp(RULES.halves, "g");
const BELOW = new RegExp(RULES.denominators, "g");
const COUNT_TYPED = new RegExp(RULES.count_typed);
const FIRST_TERM = new RegExp(`^([+-]?)${RULES.count}`);
const NEXT_TERM = new RegExp(`^([+-])${RULES.count}`);
const [OTHER_LETTERS, LATIN] = RULES.letters_alike;
const CHLORINE_ALIKE = new RegExp(RULES.chlorine_alike, "g");

/** An answer with plain signs: one arrow, plain digits and charges, no spaces, states or marks. @param {string} text */
export function normalised(text) {
  const cut = [...text].slice(0, RULES.max_length).join("");
  const shown = cut.replace(DASHES, "-").replace(ARROWS, "=");
  const plain = shown.normalize("NFKC").replace(DASHES, "-");
  let kept = plain.replace(/[\t\n]/g, " ").replace(UNSEEN, "");
  for (const [pattern, written] of UNLIKE) kept = kept.replace(pattern, written);
  return kept.replace(IGNORED, "").replace(/⁄/g, "/").replace(HALF, "$011/2").replace(/\.+$/, "");
}

/** What may be written, by its letters alone if capitals do not matter. @param {KnownSpecies} species @param {boolean} byLetter @returns {Map<string, string>} */
function spellingsOf(species, byLetter) {
  const names = Object.keys(species).sort((a, b) => b.length - a.length);
  return new Map(byLetter ? names.reverse().map((name) => [name.toLowerCase(), name]) : names.map((name) => [name, name]));
}

/**
 * Every reading of a side, the longest formulae first, with what is left unread.
 * @param {string} text @param {Map<string, string>} spellings @param {number} times @param {boolean} byLetter @param {boolean} first
 * @returns {Generator<[Terms, string]>}
 */
function* readings(text, spellings, times, byLetter, first) {
  const found = (first ? FIRST_TERM : NEXT_TERM).exec(text);
  if (!found) {
    yield [[], text];
    return;
  }
  const above = (found[1] === "-" ? -1 : 1) * (Number(found[2]) || 1);
  const count = Math.floor((above * times) / Number(found[3] ?? 1));
  const body = text.slice(found[0].length);
  const begins = byLetter ? body.toLowerCase() : body;
  const candidates = [...spellings].filter(([spelt]) => begins.startsWith(spelt)).sort(([a], [b]) => b.length - a.length);
  if (!candidates.length && begins.startsWith("e")) candidates.push(["e", "e-"]); // as many books write it
  if (!candidates.length) yield [[], text];
  for (const [spelt, name] of candidates) {
    const rest = body.slice(spelt.length);
    if (!rest) {
      yield [[[name, count]], ""];
      continue;
    }
    for (const [more, left] of readings(rest, spellings, times, byLetter, false)) yield [[[name, count], ...more], left];
  }
}

/** @param {string} text @param {KnownSpecies} species @param {number} times @param {boolean} byLetter @returns {Terms|string} what could not be read, if so */
function readSide(text, species, times, byLetter = false) {
  let furthest = text;
  for (const [terms, rest] of readings(text, spellingsOf(species, byLetter), times, byLetter, true)) {
    if (!rest) return terms;
    if (rest.length < furthest.length) furthest = rest;
  }
  return furthest;
}

/** Both sides; of one that cannot be read, what could not be read. @param {string[]} sides @param {KnownSpecies} species @param {number} times @param {boolean} byLetter */
function readSides([left, right], species, times, byLetter) {
  // a dash at the end of the left side may be the tail of a long arrow rather than a charge
  const bare = left.slice(0, -1);
  const isStray = left.endsWith("-") && typeof readSide(left, species, times) === "string" && typeof readSide(bare, species, times) !== "string";
  return [isStray ? bare : left, right].map((side) => readSide(side, species, times, byLetter));
}

/** @param {(Terms|string)[]} read @returns {read is Terms[]} */
const areRead = (read) => read.every((terms) => typeof terms !== "string");

/** The terms of a side added up, compounds as the ions that they hold. @param {Terms} terms @param {KnownSpecies} species @returns {Net} */
function netOf(terms, species) {
  /** @type {Net} */
  const net = {};
  for (const [name, count] of terms) {
    for (const [part, each] of Object.entries(species[name][2] ?? { [name]: 1 })) net[part] = (net[part] ?? 0) + count * each;
  }
  return net;
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
    const shown = { element, before: typedCount(a, times), after: typedCount(b, times) };
    if (a !== b) sentences.push(say(SENTENCES.atoms, shown));
  }
  const [charge, later] = [left, right].map((side) =>
    Object.entries(side).reduce((sum, [name, count]) => sum + count * species[name][1], 0),
  );
  if (charge !== later) {
    sentences.push(say(SENTENCES.charge, { before: signedCharge(charge, times), after: signedCharge(later, times) }));
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
  const typed = [...text].slice(0, RULES.max_length);
  let start = typed.length - 1;
  while (start >= 0 && normalised(typed.slice(start).join("")) !== plain) start -= 1;
  const shown = start < 0 ? plain : typed.slice(start).join("");
  const end = shown.replace(DASHES, "-").search(ENDS);
  return (end < 0 ? shown : shown.slice(0, end)).replace(UNSEEN, "").replace(/^ +| +$/g, "");
}

/** What could not be read, and what it may mean. @param {string} rest @param {string} typed @param {KnownSpecies} species */
function unread(rest, typed, species) {
  const bare = rest.replace(/^[+\-/0-9]+/, "");
  const names = Object.keys(species).filter((name) => Object.keys(species[name][0]).length || name === "e-");
  let meant = names.find((name) => name.length > 1 && bare.toLowerCase().startsWith(name.toLowerCase()));
  const latin = [...bare].map((letter) => LATIN[OTHER_LETTERS.indexOf(letter)] ?? letter).join("");
  const alike = latin.replace(CHLORINE_ALIKE, "Cl");
  if (alike !== bare) {
    const longest = names.filter((name) => alike.startsWith(name)).sort((a, b) => b.length - a.length);
    meant = longest[0] ?? meant;
  }
  const hint = meant && !bare.startsWith(meant) ? say(SENTENCES.hint, { meant }) : "";
  const shown = [...typed.replace(COUNT_TYPED, "")].slice(0, 12).join("").replace(/ +$/, "") || [...typed].slice(0, 12).join("");
  return say(SENTENCES.unread, { typed: shown, hint });
}

/** Which part of an answer could not be read. @param {(Terms|string)[]} read @param {string[]} sides @param {string} text @param {KnownSpecies} species @returns {Verdict} */
function unreadSide(read, sides, text, species) {
  const k = read.findIndex((terms) => typeof terms === "string");
  let terms = String(read[k]);
  // an l that is typed as I: carbon was read
  if (/^[I1]/.test(terms) && sides[k].includes(`C${terms}`)) terms = `C${terms}`;
  return { code: "unread", sentences: [unread(terms, typedEnd(text, k ? terms : `${terms}=${sides[1]}`), species)] };
}

/**
 * Judge an answer to a task.
 * @param {string} text @param {Task} task @param {KnownSpecies} species @returns {Verdict}
 */
export function judge(text, task, species) {
  const plain = normalised(text);
  if (!plain) return { code: "empty", sentences: [SENTENCES.empty] };
  const sides = plain.split("=");
  if (sides.length !== 2 || sides.some((side) => !side)) return { code: "unread", sentences: [SENTENCES.no_arrow] };
  // what makes whole numbers of its fractions
  const times = [...plain.matchAll(BELOW)].map((each) => Number(each[1])).reduce((a, b) => (a * b) / divisorOf(a, b), 1);
  const read = readSides(sides, species, times, false);
  if (areRead(read)) return judgeTerms(read, task, species, times);
  const anyhow = readSides(sides, species, times, true);
  if (!areRead(anyhow)) return unreadSide(read, sides, text, species);
  const verdict = judgeTerms(anyhow, task, species, times);
  if (verdict.code !== "right" && verdict.code !== "multiple") return verdict;
  const written = [...new Set(anyhow.flat().map(([name]) => name))].filter((name) => !plain.includes(name));
  return { ...verdict, code: "capitals", sentences: [say(SENTENCES.capitals, { species: written.join(", ") })] };
}

/** Judge what both sides hold. @param {Terms[]} read @param {Task} task @param {KnownSpecies} species @param {number} times @returns {Verdict} */
function judgeTerms(read, task, species, times) {
  const [left, right] = read.map((terms) => netOf(terms, species));
  /** @type {Net} */
  const net = {};
  for (const name of new Set([...Object.keys(left), ...Object.keys(right)])) {
    const count = (right[name] ?? 0) - (left[name] ?? 0);
    if (count) net[name] = count;
  }
  const inPlace = task.accepted.some((form) => sameSides(net, form));
  const sentences = imbalance(left, right, species, times);
  if (sentences.length) return { code: "unbalanced", sentences, inPlace, net };
  const [used, made] = read.map((terms) => terms.filter(([, count]) => count > 0).map(([name]) => name));
  const both = [...new Set(used)].filter((name) => made.includes(name)).sort();
  const verdict = compareNet(net, both, task, species, times);
  const acid = Object.keys(RULES.absent_acids).find((name) => used.includes(name) || made.includes(name));
  if (acid && ["right", "multiple"].includes(verdict.code)) return { code: "absent", sentences: [say(SENTENCES.absent, { acid })], inPlace, net };
  return { ...verdict, inPlace, net };
}

/** A net without some of its species. @param {Net} net @param {string[]} names @returns {Net} */
const without = (net, names) => Object.fromEntries(Object.entries(net).filter(([name]) => !names.includes(name)));

/** Whether both ions of water stand on one side. @param {Net} net */
const holdsIonsOfWater = (net) => (net["H+"] ?? 0) * (net["OH-"] ?? 0) > 0;

/**
 * Whether the same species are used, and the same made. In an overall equation electrons that do not cancel belong to its
 * balance; where water is used up, its ions may stand for it. @param {Net} net @param {Net} form
 */
function sameSides(net, form) {
  let compared = "e-" in form ? net : without(net, ["e-"]);
  if (form.H2O < 0 && holdsIonsOfWater(compared)) compared = { ...without(compared, ["H+", "OH-"]), H2O: -1 };
  const names = Object.keys(compared);
  return names.length === Object.keys(form).length && names.every((name) => name in form && compared[name] > 0 === form[name] > 0);
}

/** Hydrogen ions and hydroxide ions on the same side joined to water. @param {Net} net @returns {Net} */
function joinedToWater(net) {
  if (!holdsIonsOfWater(net)) return net;
  const met = Math.abs(net["H+"]) < Math.abs(net["OH-"]) ? net["H+"] : net["OH-"];
  const joined = { ...net, "H+": net["H+"] - met, "OH-": net["OH-"] - met, H2O: (net.H2O ?? 0) + met };
  return Object.fromEntries(Object.entries(joined).filter(([, count]) => count));
}

/**
 * Whether a species may not stand on both sides: of a half-equation, unless it is a spectator ion; of an overall equation only
 * electrons, since to let them cancel is what is asked for. @param {string} name @param {Net} net @param {KnownSpecies} species
 */
const mustCancel = (name, net, species) => ("e-" in net ? name in net || !species[name][1] : name === "e-");

/** A net divided by what all its counts share. @param {Net} net @returns {[Net, number]} */
function lowestTerms(net) {
  const divisor = Object.values(net).reduce(divisorOf, 0);
  return [Object.fromEntries(Object.entries(net).map(([name, count]) => [name, count / divisor])), divisor];
}

/** A balanced equation against the task. @param {Net} net @param {string[]} both what is written on both sides @param {Task} task @param {KnownSpecies} species @param {number} times @returns {Verdict} */
function compareNet(net, both, task, species, times) {
  if (!Object.keys(net).length) return { code: "other", sentences: [SENTENCES.nothing] };
  const [lowest, divisor] = lowestTerms(net);
  if (task.accepted.some((form) => sameNet(lowest, form))) {
    const untidy = both.filter((name) => mustCancel(name, lowest, species));
    if (untidy.length) return { code: "cancel", sentences: [say(SENTENCES.cancel, { both: untidy[0] })] };
    if (divisor > 1 && times === 1) return { code: "multiple", sentences: [say(SENTENCES.multiple, { divisor })] };
    return { code: "right", sentences: [both.length ? say(SENTENCES.untidy, { both: both.join(", ") }) : SENTENCES.right] };
  }
  const [water] = lowestTerms(joinedToWater(net));
  if (holdsIonsOfWater(net) && task.accepted.some((form) => sameNet(water, form))) return { code: "right", sentences: [SENTENCES.water] };
  if (task.accepted.some((form) => sameNet(lowest, form, -1))) return { code: "reversed", sentences: [SENTENCES.reversed] };
  return { code: "other", sentences: [say(SENTENCES.other, { goal: task.goal })] };
}
