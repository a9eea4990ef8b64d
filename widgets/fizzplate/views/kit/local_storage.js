// JSON in the browser's own storage, which outlasts a visit. A private window may keep nothing.

/**
 * @param {string} key @param {(key: string, value: any) => any} [revive] of JSON, where what is stored has changed its form
 * @returns {any} null where there is nothing, or nothing that can be read
 */
export function readStored(key, revive) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null", revive);
  } catch {
    return null;
  }
}

/** @param {string} key @param {unknown} value @returns {boolean} whether the browser has taken it */
export function writeStored(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/**
 * An object that is read by keys, such as one entry for each cell.
 * @param {string} key @param {(key: string, value: any) => any} [revive] @returns {Record<string, any>}
 */
export function readRecord(key, revive) {
  const stored = readStored(key, revive);
  return stored && typeof stored === "object" && !Array.isArray(stored) ? stored : {};
}
