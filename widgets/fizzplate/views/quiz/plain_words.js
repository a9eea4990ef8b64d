// An answer in few words that mean the same: ions by name, other spellings, other verbs, misspelt key words. The rules stand in
// a file that Python reads as well; the steps below stand in questions/marking/plain_words.py too, and a test holds the two together.

import RULES from "../../questions/marking/words.json" with { type: "json" };

export const WORD_RULES = RULES;

const EVERYWHERE = "g";
/** @param {string[][]} pairs */
const rules = (pairs) => pairs.map(([pattern, written]) => ({ pattern: new RegExp(pattern, EVERYWHERE), written }));
const BEFORE_REPAIR = [
  ...rules(RULES.signs),
  ...RULES.ions.map(([name, pattern]) => ({
    pattern: new RegExp(`(?<![a-z])[0-9]*(?:${pattern})(?: ions?(?![a-z]))?(?![a-z0-9])`, EVERYWHERE),
    written: `${name} ion`,
  })),
  ...RULES.formulae.map(([name, pattern]) => ({
    pattern: new RegExp(`(?<![a-z])[0-9]*(?:${pattern})(?![a-z0-9+-])`, EVERYWHERE),
    written: name,
  })),
];
const AFTER_REPAIR = [...rules(RULES.spoken), { pattern: new RegExp(RULES.left_out, EVERYWHERE), written: "" }, { pattern: / +/g, written: " " }];
const SYNONYMS = RULES.synonyms.map(([word, pattern]) => ({
  pattern: new RegExp(`(?<![a-z])(?:${pattern.replaceAll("~", RULES.ending)})(?![a-z])`, EVERYWHERE),
  written: word,
}));
const KEY_WORDS = new Set(RULES.key_words);
const { letters: LETTERS, letters_for_two: LETTERS_FOR_TWO } = RULES.spelling;

/** @param {string} text @param {{pattern: RegExp, written: string}[]} some */
const rewrite = (text, some) => some.reduce((plain, { pattern, written }) => plain.replace(pattern, written), text);

/** How many letters are wrong, missing, too many or swapped. @param {string} one @param {string} other */
function slips(one, other) {
  const rows = [Array.from({ length: other.length + 1 }, (_, k) => k)];
  for (let j = 1; j <= one.length; j += 1) {
    const [last] = rows.slice(-1);
    const row = [j];
    for (let k = 1; k <= other.length; k += 1) {
      let least = Math.min(last[k] + 1, row[k - 1] + 1, last[k - 1] + Number(one[j - 1] !== other[k - 1]));
      if (j > 1 && k > 1 && one[j - 1] === other[k - 2] && one[j - 2] === other[k - 1]) least = Math.min(least, rows[j - 2][k - 2] + 1);
      row.push(least);
    }
    rows.push(row);
  }
  return rows[one.length][other.length];
}

/** The key word that a word is a slip of, or the word itself: two that are as near leave it open. @param {string} word */
function mended(word) {
  if (word.length < LETTERS || KEY_WORDS.has(word)) return word;
  const most = word.length >= LETTERS_FOR_TWO ? 2 : 1;
  const near = [...KEY_WORDS]
    .filter((key) => key[0] === word[0] && Math.abs(key.length - word.length) <= most)
    .map((key) => ({ key, distance: slips(word, key) }))
    .sort((a, b) => a.distance - b.distance);
  const isClear = near.length && near[0].distance <= most && near[1]?.distance !== near[0].distance;
  return isClear ? near[0].key : word;
}

/** @type {Map<string, string>} */
const known = new Map();

/** A text in small letters and in the words that marking knows. @param {string} text @param {boolean} mend key words that are misspelt */
export function plainWords(text, mend = false) {
  const key = `${mend} ${text}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const named = rewrite(text.toLowerCase(), BEFORE_REPAIR);
  const spelt = mend ? named.replace(/[a-z]+/g, mended) : named;
  const plain = rewrite(rewrite(spelt, AFTER_REPAIR), SYNONYMS).replace(/^ +| +$/g, "");
  const whole = `${text.startsWith(" ") ? " " : ""}${plain}${text.endsWith(" ") ? " " : ""}`;
  if (!mend) known.set(key, whole); // listed words come again with every answer
  return whole;
}
