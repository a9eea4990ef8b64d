// Random numbers that are the same on every machine for the same seed.

/** @param {number} seed @returns {() => number} uniform in [0, 1) */
export function seededRandom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * A stream of its own for each of many things, so that one more of them changes none of the others.
 * @param {number} seed @param {number} which of them
 */
export const streamOf = (seed, which) => seededRandom(Math.imul(seed + 1, 0x9e3779b1) ^ Math.imul(which + 1, 0x85ebca6b));
