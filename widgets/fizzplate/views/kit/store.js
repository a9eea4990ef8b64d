// What a class has said and done, kept in this browser and nowhere else. It outlasts a reload and the loss of the program,
// and can be cleared.

import { readRecord, writeStored } from "./local_storage.js";

const STORAGE_KEY = "fizzplate.class.1";
const MAX_LENGTH = 500; // characters of one answer

/** @typedef {Record<string, any>} Entry of one cell */

/** As much of a text as is kept. @param {string} text */
export const within = (text) => text.slice(0, MAX_LENGTH);

export function openStore() {
  let unstored = /** @type {Record<string, Entry>|null} */ (null); // where the browser keeps nothing

  const all = () => unstored ?? readRecord(STORAGE_KEY);
  /** @param {Record<string, Entry>} entries */
  function keep(entries) {
    if (!writeStored(STORAGE_KEY, entries)) unstored = entries;
  }
  return {
    /** @param {string} key @returns {Entry} */
    of(key) {
      const entries = all();
      return Object.hasOwn(entries, key) ? entries[key] : {};
    },
    keys: () => Object.keys(all()),
    /** Change an entry, as another bench or tab may have left it. @param {string} key @param {Entry} changes */
    change(key, changes) {
      const entries = all();
      keep({ ...entries, [key]: { ...(Object.hasOwn(entries, key) ? entries[key] : {}), ...changes } });
    },
    /** Forget everything. @returns {Record<string, Entry>} what was there */
    clear() {
      const entries = all();
      keep({});
      return entries;
    },
    /** Bring back what was forgotten; what has come since stays. @param {Record<string, Entry>} entries */
    restore: (entries) => keep({ ...all(), ...entries }),
  };
}

/** @typedef {ReturnType<typeof openStore>} Store */
