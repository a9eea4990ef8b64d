// What a class has said and done, kept in this browser and nowhere else: it survives a reload and a lost
// program, and can be cleared.

const PLACE = "fizzplate.class.1";
const LONGEST = 500; // characters of one answer

/** @typedef {Record<string, any>} Entry of one cell */

/** @returns {Record<string, Entry>} */
function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE) ?? "{}");
    return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
  } catch {
    return {}; // nothing kept, or nothing that can be read
  }
}

/** Cut what is typed to what is kept. @param {string} text */
export const within = (text) => text.slice(0, LONGEST);

export function openStore() {
  let unkept = /** @type {Record<string, Entry>|null} */ (null); // where the browser keeps nothing

  const all = () => unkept ?? read();
  /** @param {Record<string, Entry>} entries */
  function keep(entries) {
    try {
      localStorage.setItem(PLACE, JSON.stringify(entries));
    } catch {
      unkept = entries;
    }
  }
  return {
    /** @param {string} key @returns {Entry} */
    of(key) {
      const entries = all();
      return Object.hasOwn(entries, key) ? entries[key] : {};
    },
    keys: () => Object.keys(all()),
    /** Change an entry; read anew first, since another bench or tab may have written. @param {string} key @param {Entry} changes */
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
    /** Put back what was forgotten, beside what has come since. @param {Record<string, Entry>} entries */
    restore: (entries) => keep({ ...all(), ...entries }),
  };
}

/** @typedef {ReturnType<typeof openStore>} Store */
