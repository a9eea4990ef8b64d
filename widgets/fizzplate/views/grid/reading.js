// A table as text, loaded or pasted: its cells, what its first row says about them, and why it cannot be used.

import { rowsOf } from "../kit/csv.js";
import { headingOf, isNumber } from "./headings.js";

const HEADINGS_LENGTH = 120; // characters of headings that a refusal repeats

/**
 * @typedef {{key: string, title: string, headings: string[], units: string[]}} Column
 * @typedef {{column?: Column, unit?: string, why?: string, named?: boolean, note?: boolean, leftOut?: boolean, offers?: Column[]}} Heading
 *   offers: the columns that it may mean, where it does not say which
 * @typedef {{cells: string[][], headings: Heading[], isNamed: boolean, isKnown: boolean}} TextTable isNamed: its first row
 *   names columns; isKnown: at least one of them is a column of the class's table
 */

const LEFT_OUT_HEADING = /^left[ _]out$/i;
const CLOCK = /^\s*(\d+:)?\d+:\d{1,2}\s*$/;

/** A time written as 20:30 throughout says itself what it is in. @param {Heading} heading @param {string[]} cells below it */
function clockRead(heading, cells) {
  const filled = cells.filter((cell) => cell.trim());
  const isClock = filled.length > 0 && filled.every((cell) => CLOCK.test(cell));
  return heading.offers && isClock ? answered(heading.offers[0]) : heading;
}

/** A heading whose column was asked for and is known now. @param {Column} column @returns {Heading} */
export const answered = (column) => ({ column, unit: column.units[0] });

/** Whether a file is no text at all. @param {string} text */
const isBinary = (text) => /[\0\ufffd]/.test(text.slice(0, 4000));

/** @param {string} text @param {Column[]} columns @returns {TextTable|null} null where the text is no table */
export function readTable(text, columns) {
  if (isBinary(text)) return null;
  const cells = rowsOf(text);
  const first = cells[0] ?? [];
  const headings = first.map((heading, k) => {
    if (/^note$/i.test(heading)) return { note: true };
    if (LEFT_OUT_HEADING.test(heading)) return { leftOut: true };
    return clockRead(headingOf(heading, columns), cells.slice(1).map((line) => line[k] ?? ""));
  });
  const isNamed = first.some((cell) => cell) && !first.some(isNumber);
  return { cells, headings, isNamed, isKnown: isNamed && headings.some(({ column, named, offers }) => column || named || offers) };
}

/**
 * Why a file cannot replace the class's table; empty if it can.
 * @param {string} name of the file @param {TextTable|null} table @param {Column[]} columns
 */
export function fileRefusal(name, table, columns) {
  if (!table) return `${name} is not a table written as text (CSV). Nothing was changed.`;
  const { cells, isNamed, isKnown } = table;
  if (!cells.length) return `${name} holds no rows. Nothing was changed.`;
  let why = "";
  if (!isKnown && cells.every((line) => line.length < 2)) why = "no tab, semicolon, bar or comma separates its columns";
  else if (isKnown && cells.length < 2) why = "it has headings but no rows";
  else if (isNamed && !isKnown) why = `this page does not know its headings: ${cells[0].join(", ").slice(0, HEADINGS_LENGTH)}`;
  return why && `${name} was not loaded: ${why}. Nothing was changed. Use these headings: ${columns.map(({ title }) => title).join("; ")}.`;
}
