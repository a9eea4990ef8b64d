// What the teacher's page finds again of a round, also after a reload: which solution or set it is about, and what of it.

const MAX_NAME = 400; // of the 500 signs that the server keeps

/** @param {string} of key of a cell, or name of a set @param {string|number} what */
export const writeMemo = (of, what) => JSON.stringify([of.slice(0, MAX_NAME), what]);

/** @param {{memo: string}} asked @returns {[string, string|number]} */
export function readMemo({ memo }) {
  try {
    const [of, what] = JSON.parse(memo);
    return [String(of), what];
  } catch {
    return ["", ""];
  }
}

/** @param {{memo: string}} asked @param {string} of */
export const isAbout = (asked, of) => readMemo(asked)[0] === of.slice(0, MAX_NAME);
