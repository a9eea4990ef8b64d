// Which listed words an answer says, both in plain words. Patterns and sentences stand in a file that Python reads as well; the
// steps below stand in questions/marking/words.py too, and a test holds the two together.

import { say } from "../kit/say.js";
import { WORD_RULES as RULES, plainWords } from "./plain_words.js";

/**
 * @typedef {{
 *   statement: string, words: string[], contradictions: string[], too_little: string[], within?: string[], besides?: string[]
 * }} MarkPoint
 */

const BOTH_WORDS = " & ";
const ONE_AFTER_ANOTHER = " .. ";
const SENTENCES = /** @type {Record<string, string>} */ (RULES.sentences);
const CLAUSE_END = new RegExp(RULES.clause_ends);
const SENTENCE_END = new RegExp(RULES.sentence_ends);
const PIECE_END = new RegExp(RULES.piece_ends);
const OF_BOTH = new RegExp(RULES.of_both);
const WHEN = new RegExp(RULES.when);
const DENIAL = new RegExp(RULES.denial);
const NOT_SEEN = new RegExp(RULES.denial + RULES.not_seen);
const GAP_STOPS = new RegExp(RULES.gap_stops);

const isLetter = (character) => character >= "a" && character <= "z";

/** Where a word stands from the beginning of a word of the text; one without letters, nowhere. @param {string} text @param {string} word */
function startsOf(text, word) {
  const found = [];
  if (!word.trim()) return found;
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + 1)) {
    if (!(isLetter(word[0]) && at && isLetter(text[at - 1]))) found.push(at);
  }
  return found;
}

/** Where a word ends that stands close behind a place, with nothing between that parts them; -1 if none. @param {string} text @param {number} from @param {string} word */
function endBehind(text, from, word) {
  const at = from + text.slice(from).match(/^[a-z]*/)[0].length;
  const [start] = startsOf(text.slice(at), word);
  if (start === undefined) return -1;
  const gap = text.slice(at, at + start);
  const isFar = gap.split(" ").filter(Boolean).length > RULES.gap_words || GAP_STOPS.test(gap);
  return isFar ? -1 : at + start + word.length;
}

/** Where a word, or words one after another, begin and end. @param {string} text @param {string} word */
function placesOf(text, word) {
  const [first, ...others] = word.split(ONE_AFTER_ANOTHER);
  return startsOf(text, first)
    .map((start) => [start, others.reduce((end, other) => (end < 0 ? end : endBehind(text, end, other)), start + first.length)])
    .filter(([, end]) => end >= 0);
}

/** Where the first of the names stands; -1 if none does. @param {string} text @param {string[]} names */
function firstPosition(text, names) {
  const found = names.flatMap((name) => startsOf(text, name));
  return found.reduce((least, at) => (least < 0 || at < least ? at : least), -1);
}

/** Whether a hit is denied. @param {string} text @param {number} start @param {number} end @param {string} word */
function isDenied(text, start, end, word) {
  if (DENIAL.test(word)) return false;
  const before = word.search(CLAUSE_END) ? text.slice(0, start).split(CLAUSE_END).at(-1).split(" ").filter(Boolean) : [];
  if (DENIAL.test(before.slice(-RULES.near_words).join(" ")) || DENIAL.test(text.slice(start, end))) return true;
  const after = text.slice(end).split(CLAUSE_END)[0].split(" ");
  return NOT_SEEN.test(after.slice(0, RULES.after_words + 1).join(" "));
}

/** A listed word, or several with a sign between them, in plain words. @param {string} word */
const plainEntry = (word) =>
  word
    .split(BOTH_WORDS)
    .map((each) => each.split(ONE_AFTER_ANOTHER).map((part) => plainWords(part)).join(ONE_AFTER_ANOTHER))
    .join(BOTH_WORDS);

/** Whether a word is said, or only denied; null where it does not stand there. @param {string} text @param {string} word */
function saysWord(text, word) {
  if (!word.includes(BOTH_WORDS)) {
    const hits = placesOf(text, word).map(([start, end]) => isDenied(text, start, end, word));
    return hits.length ? !hits.every(Boolean) : null;
  }
  const verdicts = text
    .split(SENTENCE_END)
    .map((sentence) => word.split(BOTH_WORDS).map((part) => saysWord(` ${sentence} `, part)))
    .filter((each) => !each.includes(null));
  return verdicts.length ? verdicts.some((each) => !each.includes(false)) : null;
}

/** A listed word as a reason shows it. @param {string} word */
const shownWord = (word) => word.replace(/^[ ^.,;]+|[ ^.,;]+$/g, "");

/** The first of the words that is said, and the first that is only denied. @param {string} text @param {string[]} words */
function firstSaid(text, words) {
  let denied = "";
  for (const word of words) {
    const says = saysWord(text, plainEntry(word));
    if (says) return [shownWord(word), ""];
    if (says === false) denied ||= shownWord(word);
  }
  return ["", denied];
}

/** What an answer about two things says of the one. @param {string} text @param {string[]} within @param {string[]} besides */
function sentencesAbout(text, within, besides) {
  const own = [];
  let waiting = [];
  let about = null;
  const [names, others] = [within, besides].map((all) => all.map((name) => plainWords(name)));
  const pieces = text
    .split(SENTENCE_END)
    .flatMap((each) => ([names, others].every((all) => firstPosition(each, all) >= 0) || OF_BOTH.test(each) ? each.split(PIECE_END) : [each]));
  for (const piece of pieces) {
    if (OF_BOTH.test(piece)) {
      own.push(piece);
      continue;
    }
    const [mine, other] = [firstPosition(piece, names), firstPosition(piece, others)];
    if (mine < 0 && other < 0) {
      if (about === null || WHEN.test(piece)) waiting.push(piece);
      else if (about) own.push(piece);
      continue;
    }
    const first = other < 0 || (mine >= 0 && mine <= other);
    const cut = mine < 0 || other < 0 || mine === other ? piece.length : Math.max(mine, other);
    if (first) own.push(...waiting, piece.slice(0, cut));
    waiting = [];
    about = first;
    if (cut < piece.length) {
      if (!first) own.push(piece.slice(cut));
      about = !first;
    }
  }
  return ` ${own.join(" . ")} `;
}

/** Mark a point of an answer, with the reason. @param {MarkPoint} point @param {string} answer */
export function markPoint({ statement, words, contradictions, too_little, within = [], besides = [] }, answer) {
  const line = (reason, word, earned = false) => ({
    earned,
    reason: say(SENTENCES[reason], { point: statement, word: word.replaceAll(ONE_AFTER_ANOTHER, " … ") }),
  });
  const whole = `^ ${plainWords(answer, true)} `;
  const text = within.length ? sentencesAbout(whole, within, besides) : whole;
  const [against] = firstSaid(text, contradictions);
  if (against) return line(within.length ? "wrong_way" : "takes_back", against);
  const [word, denied] = firstSaid(text, words);
  if (word) return line("says_it", word, true);
  if (denied) return line("denied", denied);
  const [little] = firstSaid(text, too_little);
  return line(little ? "too_little" : "not_said", little);
}
