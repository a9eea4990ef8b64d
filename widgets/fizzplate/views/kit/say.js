// Fill a sentence's named slots, as Python's fizzplate.words.say does. The board's names for the electrodes come from
// Python as slots with the same names, so that a sentence is written once for every board.

/** @typedef {Record<string, string|number>} Slots */

/** Words as the beginning of a sentence. @param {string} text */
export const begin = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {Slots} slots @param {string} name */
const has = (slots, name) => Object.prototype.hasOwnProperty.call(slots, name); // phones of 2020 have no Object.hasOwn

/**
 * @param {string} template with slots like {the_cathode}; {The_cathode} begins a sentence with the same
 * @param {Slots} slots what fills them
 */
export function say(template, slots) {
  return template.replace(/\{(\w+)\}/g, (_, name) => {
    if (has(slots, name)) return String(slots[name]);
    const small = name.charAt(0).toLowerCase() + name.slice(1);
    if (small === name || !has(slots, small)) throw new Error(`nothing fills {${name}} in “${template}”`);
    return begin(String(slots[small]));
  });
}

/** @param {number} count @param {string} noun */
export const countText = (count, noun) => `${count} ${noun}${count === 1 ? "" : "s"}`;
