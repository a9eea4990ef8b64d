// What the headings of a table mean: which of the class's columns, in which unit.

/** @param {string} cell */
export const isNumber = (cell) => /^[+\-−]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i.test(cell.replace(/\s/g, ""));
/** @type {Record<string, string>} */
const SPELLED = { cm3: "cm³", ml: "cm³", c: "°C", "°c": "°C", minutes: "min", mins: "min", minute: "min", sec: "s", seconds: "s", second: "s", amps: "A", a: "A", ma: "mA", kpa: "kPa", gram: "g", grams: "g" };

/**
 * What a heading means: its column and its unit, or why it cannot be used.
 * @param {string} heading @param {import("./reading.js").Column[]} columns @returns {import("./reading.js").Heading}
 */
export function headingOf(heading, columns) {
  // a unit stands last, in brackets or after a stroke; other brackets belong to the name
  const found = heading.match(/^(.*?)\s*(?:\/\s*([^/()[\]]+)|[([]\s*([^()[\]]+?)\s*[)\]])\s*$/);
  /** @param {string} text */
  const nameOf = (text) => text.toLowerCase().replace(/[\s_,-]+/g, " ").trim();
  /** @param {string} text */
  const fits = (text) => columns.filter(({ headings }) => headings.includes(nameOf(text)));
  const plain = fits(heading);
  if (plain.length === 1) return { column: plain[0] };
  if (plain.length) return { why: `${heading}: its unit was not given`, offers: plain };
  if (!found || !fits(found[1]).length) return { why: `${heading || "without a heading"}: this page has no such column` };
  const given = (found[2] ?? found[3]).trim();
  const column = fits(found[1]).find(({ units }) => units.includes(given) || units.includes(SPELLED[given.toLowerCase()]));
  if (!column) return { why: `${heading}: the unit must be ${fits(found[1]).flatMap(({ units }) => units).join(" or ")}`, named: true };
  return { column, unit: column.units.includes(given) ? given : SPELLED[given.toLowerCase()] };
}
