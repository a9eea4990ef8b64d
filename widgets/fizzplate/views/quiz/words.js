// Which listed words an answer says: the same rules stand in questions/marking/words.py; a test holds the two together.

/**
 * @typedef {{
 *   statement: string, words: string[], contradictions: string[], too_little: string[], within?: string[], besides?: string[]
 * }} MarkPoint
 */

const BOTH_WORDS = " & ";
const NEAR_WORDS = 4;
const AFTER_WORDS = 6;
const CLAUSE_END =
  /[.;,:]|(?<![a-z])(?:and|but|so|because|as|since|while|whilst|whereas|although|though|until|unless|if|when)(?![a-z])/;
const SENTENCE_END = /[.;]/;
const PIECE_END = /,|(?<![a-z])(?:and|but|while|whilst|whereas)(?![a-z])/;
const WHEN = /^ *(?:when|if|where)(?![a-z])/;
const DENIAL =
  /(?<![a-z])(?:not(?! only)|no|never|without|nor|cannot|[a-z]+n't|(?:do|does|did|is|are|was|were|ca|wo|could|would)nt)(?![a-z0-9])/;
const NOT_SEEN = new RegExp(
  `${DENIAL.source}(?: [a-z]+)? (?:seen|formed|form|there|observed|present|produced|made|visible|appear|happen)`,
);

const isLetter = (character) => character >= "a" && character <= "z";

/** Where a word stands from the beginning of a word of the text. @param {string} text @param {string} word */
function startsOf(text, word) {
  const found = [];
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + 1)) {
    if (!(isLetter(word[0]) && at && isLetter(text[at - 1]))) found.push(at);
  }
  return found;
}

/** Where the first of the names stands; -1 if none does. @param {string} text @param {string[]} names */
function firstPosition(text, names) {
  const found = names.flatMap((name) => startsOf(text, name));
  return found.reduce((least, at) => (least < 0 || at < least ? at : least), -1);
}

/** Whether a hit is denied. @param {string} text @param {number} start @param {string} word */
function isDenied(text, start, word) {
  if (DENIAL.test(word)) return false;
  const before = text.slice(0, start).split(CLAUSE_END).at(-1).split(" ").filter(Boolean);
  if (DENIAL.test(before.slice(-NEAR_WORDS).join(" "))) return true;
  const after = text.slice(start + word.length).split(CLAUSE_END)[0].split(" ");
  return NOT_SEEN.test(after.slice(0, AFTER_WORDS + 1).join(" "));
}

/** Whether a word is said, or only denied; null where it does not stand there. @param {string} text @param {string} word */
function saysWord(text, word) {
  if (!word.includes(BOTH_WORDS)) {
    const hits = startsOf(text, word).map((start) => isDenied(text, start, word));
    return hits.length ? !hits.every(Boolean) : null;
  }
  const verdicts = text
    .split(SENTENCE_END)
    .map((sentence) => word.split(BOTH_WORDS).map((part) => saysWord(` ${sentence} `, part)))
    .filter((each) => !each.includes(null));
  return verdicts.length ? verdicts.some((each) => !each.includes(false)) : null;
}

/** The first of the words that is said, and the first that is only denied. @param {string} text @param {string[]} words */
function firstSaid(text, words) {
  let denied = "";
  for (const word of words) {
    const says = saysWord(text, word);
    if (says) return [word.trim(), ""];
    if (says === false) denied ||= word.trim();
  }
  return ["", denied];
}

/** What an answer about two things says of the one. @param {string} text @param {string[]} within @param {string[]} besides */
function sentencesAbout(text, within, besides) {
  const own = [];
  let waiting = [];
  let about = null;
  const pieces = text
    .split(SENTENCE_END)
    .flatMap((each) => (firstPosition(each, within) < 0 || firstPosition(each, besides) < 0 ? [each] : each.split(PIECE_END)));
  for (const piece of pieces) {
    const [mine, other] = [firstPosition(piece, within), firstPosition(piece, besides)];
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
  const whole = ` ${answer.toLowerCase()} `;
  const text = within.length ? sentencesAbout(whole, within, besides) : whole;
  const [against] = firstSaid(text, contradictions);
  const how = within.length ? "is the wrong way round" : "takes it back";
  if (against) return { earned: false, reason: `${statement}: “${against}” ${how}.` };
  const [word, denied] = firstSaid(text, words);
  if (word) return { earned: true, reason: `${statement}: “${word}” says it.` };
  if (denied) return { earned: false, reason: `${statement}: “${denied}” is denied.` };
  const [little] = firstSaid(text, too_little);
  if (little) return { earned: false, reason: `${statement}: “${little}” alone is too little.` };
  return { earned: false, reason: `${statement}: not said.` };
}
