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
  const entries = read();
  /** @type {Set<() => void>} */
  const followers = new Set();

  function keep() {
    try {
      localStorage.setItem(PLACE, JSON.stringify(entries));
    } catch {
      // a private window keeps nothing beyond itself
    }
    for (const follower of followers) follower();
  }
  return {
    /** @param {string} key @returns {Entry} */
    of: (key) => (Object.hasOwn(entries, key) ? entries[key] : {}),
    keys: () => Object.keys(entries),
    /** @param {string} key @param {Entry} changes */
    change(key, changes) {
      entries[key] = { ...(Object.hasOwn(entries, key) ? entries[key] : {}), ...changes };
      keep();
    },
    /** @param {string} key */
    drop(key) {
      delete entries[key];
      keep();
    },
    clear() {
      for (const key of Object.keys(entries)) delete entries[key];
      keep();
    },
    /** @param {() => void} follower */
    subscribe(follower) {
      followers.add(follower);
      return () => followers.delete(follower);
    },
  };
}

/** @typedef {ReturnType<typeof openStore>} Store */
