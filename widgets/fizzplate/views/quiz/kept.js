// What a learner answered, kept in this browser and nowhere else: the answers to each set, and the questions
// that come back some days after they were not answered fully. All of it can be forgotten.

const SETS = "fizzplate.revise.2";
const AGAIN = "fizzplate.again.1";
const OPENED = "fizzplate.opened.1";
const OPENED_FILE = "fizzplate.opened-file.1";
const LARGEST_KEPT_BYTES = 2_000_000; // a browser gives some five million characters for everything
const MOST_SETS = 30; // that are remembered
const MOST_AGAIN = 150; // questions that come back
const DAY_MS = 86_400_000;
const WAIT_DAYS = [1, 3, 7, 21]; // until a question comes back, each time that it was answered fully

/**
 * @typedef {{given: string, done: boolean, own: number[], text?: string}} Answer with the marks that a learner claims, and what was written before a list was ticked
 * @typedef {{answers: Answer[], extra: {after: number, asked: any, answer: Answer}[], begun?: number, ends?: number, over?: boolean, questions?: any[]}} KeptSet
 * @typedef {{asked: any, times: number, due: number}} Return
 */

/** @template T @param {string} place @param {T} otherwise @returns {T} */
function readKept(place, otherwise) {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? "null");
    return kept && typeof kept === "object" ? kept : otherwise;
  } catch {
    return otherwise;
  }
}
/** @param {string} place @param {unknown} value */
function writeKept(place, value) {
  try {
    localStorage.setItem(place, JSON.stringify(value));
  } catch {
    // a private window keeps nothing beyond itself
  }
}

/** @returns {Answer} */
export const noAnswer = () => ({ given: "", done: false, own: [] });

/** @param {string} name @returns {KeptSet} */
export function readSet(name) {
  const kept = readKept(SETS, /** @type {Record<string, KeptSet>} */ ({}));
  const found = Object.hasOwn(kept, name) ? kept[name] : null;
  return Array.isArray(found?.answers) && Array.isArray(found.extra) ? found : { answers: [], extra: [] };
}
/** @param {string} name @param {KeptSet} set */
export function keepSet(name, set) {
  const kept = readKept(SETS, /** @type {Record<string, KeptSet>} */ ({}));
  delete kept[name];
  kept[name] = set;
  for (const old of Object.keys(kept).slice(0, -MOST_SETS)) delete kept[old];
  writeKept(SETS, kept);
}

const returns = () => readKept(AGAIN, /** @type {Record<string, Return>} */ ({}));
/** @param {{text: string, answer: string}} asked */
const nameOf = (asked) => `${asked.text} ${asked.answer}`;

/**
 * Let a question come back later if it was not answered fully, and less and less often once it was.
 * @param {{text: string, answer: string}} asked @param {boolean} full
 */
export function noteResult(asked, full, now = Date.now()) {
  const kept = returns();
  const name = nameOf(asked);
  const before = Object.hasOwn(kept, name) ? kept[name] : null;
  if (full && (!before || before.due > now)) return; // never wrong, or not yet asked again
  delete kept[name];
  const times = full && before ? before.times + 1 : 0;
  if (times < WAIT_DAYS.length) kept[name] = { asked, times, due: now + WAIT_DAYS[times] * DAY_MS };
  for (const old of Object.keys(kept).slice(0, -MOST_AGAIN)) delete kept[old];
  writeKept(AGAIN, kept);
}
/** How many questions wait to come back, and those whose day has come. */
export function comingBack(now = Date.now()) {
  const all = Object.values(returns()).filter((each) => each?.asked?.text);
  return { waiting: all.length, due: all.filter(({ due }) => due <= now).map(({ asked }) => asked) };
}

/** The questions that came back and were not all answered yet, or those whose day has come. @param {any[]} due */
export function roundOf(due) {
  const kept = readKept(SETS, /** @type {Record<string, KeptSet>} */ ({}));
  for (const [name, { questions, answers }] of Object.entries(kept)) {
    if (questions?.length && questions.some((_, k) => !answers?.[k]?.done)) return { name, questions };
  }
  const name = `again ${Date.now()}`;
  keepSet(name, { answers: [], extra: [], questions: due });
  return { name, questions: due };
}

/** The set of an opened file, for the next visit. @returns {{name: string, questions: any[]}|null} */
export function openedSet() {
  const kept = readKept(OPENED, /** @type {any} */ (null));
  return Array.isArray(kept?.questions) && kept.questions.length && typeof kept.name === "string" ? kept : null;
}
/** @param {string} name @param {any[]} questions */
export const keepOpened = (name, questions) => writeKept(OPENED, { name, questions });

/** The file itself, from which the program prints and saves. @param {string} name @param {Uint8Array} content */
export function keepFile(name, content) {
  const fits = content.length <= LARGEST_KEPT_BYTES;
  const text = fits ? Array.from(content, (byte) => String.fromCharCode(byte)).join("") : "";
  writeKept(OPENED_FILE, fits ? { name, content: btoa(text) } : null); // never an older one beside newer questions
}
/** @returns {{name: string, content: Uint8Array<ArrayBuffer>}|null} */
export function keptFile() {
  const kept = readKept(OPENED_FILE, /** @type {any} */ (null));
  if (typeof kept?.name !== "string" || typeof kept.content !== "string") return null;
  try {
    return { name: kept.name, content: Uint8Array.from(atob(kept.content), (sign) => sign.charCodeAt(0)) };
  } catch {
    return null;
  }
}

export function forgetAll() {
  for (const place of [SETS, AGAIN, OPENED, OPENED_FILE]) localStorage.removeItem(place);
}
