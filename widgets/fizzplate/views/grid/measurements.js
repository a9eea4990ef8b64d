// The state of the class's table: its rows, the unit of each column, and a note. This browser keeps it.

import { csvText } from "../kit/csv.js";
import { readStored, writeStored } from "../kit/local_storage.js";

const STORAGE_KEY = "fizzplate.measure.1";
const DEFAULT_ROWS = 6;
const MAX_NOTE_LENGTH = 200;
export const MAX_CELL_LENGTH = 40;
const LEFT_OUT = "left_out"; // in a row that does not count

/** @typedef {import("./reading.js").Column} Column */
/** @typedef {import("./reading.js").TextTable} TextTable */
/** @typedef {Record<string, string>} Row */

/** @returns {Row[]} */
const emptyRows = () => Array.from({ length: DEFAULT_ROWS }, () => ({}));

export class Measurements {
  rows = /** @type {Row[]} */ ([]);
  units = /** @type {Record<string, string>} */ ({}); // that are chosen, by column
  note = "";
  answers = /** @type {Record<string, string>} */ ({}); // the column that a heading without a unit means, by the heading

  /** @param {Column[]} columns @param {number} maxGroups */
  constructor(columns, maxGroups) {
    const stored = readStored(STORAGE_KEY);
    const { rows, units, note, answers } = Array.isArray(stored?.rows) ? stored : {};
    this.answers = answers ?? {};
    this.columns = columns;
    this.maxGroups = maxGroups;
    this.replace(rows ?? emptyRows(), units, note);
  }

  /** @param {Row[]} rows @param {Record<string, string>} [units] @param {string} [note] */
  replace(rows, units = {}, note = "") {
    this.rows = rows;
    this.units = units;
    this.note = note;
  }

  clear() {
    this.replace(emptyRows());
    this.answers = {};
  }

  save() { writeStored(STORAGE_KEY, { rows: this.rows, units: this.units, note: this.note, answers: this.answers }); }

  /** Leave a group out of the results, or take it back in. @param {number} at its row @returns {boolean} whether it is out now */
  toggleLeftOut(at) {
    const row = this.rows[at];
    if (row[LEFT_OUT]) delete row[LEFT_OUT];
    else row[LEFT_OUT] = "yes";
    return LEFT_OUT in row;
  }

  /** @param {number} at */
  isLeftOut(at) { return LEFT_OUT in this.rows[at]; }

  /** What people call a group. @param {number} at its row */
  nameOf(at) { return this.rows[at].group?.trim() || String(at + 1); }

  get isEmpty() { return !this.rows.some((row) => Object.values(row).some((cell) => cell.trim())); }

  /** @param {Column} column */
  unitOf({ key, units }) { return this.units[key] ?? units[0]; }

  /** The row at a place, with all before it; none beyond the last that is allowed. @param {number} at @returns {Row|undefined} */
  rowAt(at) {
    while (this.rows.length <= at && this.rows.length < this.maxGroups) this.rows.push({});
    return at < this.maxGroups ? this.rows[at] : undefined;
  }

  /** Take a whole table, by its headings where they are known. @param {TextTable} table @returns {string} what was loaded */
  load(table) {
    const { cells, headings, isKnown } = table;
    const noteAt = headings.findIndex((heading) => heading.note);
    const note = isKnown && noteAt >= 0 ? (cells[1]?.[noteAt] ?? "").slice(0, MAX_NOTE_LENGTH) : "";
    this.replace([], isKnown ? {} : this.units, note);
    const omission = isKnown ? this.#putNamed(table, 0) : "";
    if (!isKnown) this.#put(cells, 0, 0);
    const isCut = cells.length - Number(isKnown) > this.maxGroups;
    return (isCut ? `Only the first ${this.maxGroups} groups were taken.` : `${this.rows.length} rows loaded.`) + omission;
  }

  /** The heading of a table whose unit differs from that of other rows in its column. @param {TextTable} table @param {number} at */
  #clash({ cells, headings, isKnown }, at) {
    const end = at + cells.length - 1;
    /** @param {string} key */
    const hasOthers = (key) => this.rows.some((row, k) => (k < at || k >= end) && row[key]?.trim());
    if (!isKnown) return undefined;
    return headings.find(({ column, unit }) => column && unit && unit !== this.unitOf(column) && hasOthers(column.key));
  }

  /**
   * Take a table from one row, and without headings from one column on.
   * @param {TextTable} table @param {number} at @param {number} from @returns {{refusal?: string, omission?: string}}
   */
  paste(table, at, from) {
    const clash = this.#clash(table, at);
    if (clash?.column) {
      const { column, unit } = clash;
      return { refusal: `The text you pasted gives ${column.title} in ${unit}, but the table has it in ${this.unitOf(column)}. Nothing was changed: choose the unit of the column first, or empty the table.` };
    }
    if (table.isKnown) return { omission: this.#putNamed(table, at) };
    this.#put(table.cells, at, from);
    const beyond = Math.max(...table.cells.map((line) => line.length)) - (this.columns.length - from);
    return { omission: beyond > 0 ? ` Left out: ${beyond} more column${beyond > 1 ? "s" : ""} on the right.` : "" };
  }

  /** @param {string[][]} cells @param {number} at the first row @param {number} from the first column */
  #put(cells, at, from) {
    cells.forEach((line, down) => {
      const row = this.rowAt(at + down);
      line.forEach((cell, along) => {
        const column = this.columns[from + along];
        if (row && column) row[column.key] = cell.slice(0, MAX_CELL_LENGTH);
      });
    });
  }

  /** Put rows under their headings. @param {TextTable} table @param {number} at the first row @returns {string} what is left out */
  #putNamed({ cells, headings }, at) {
    for (const { column, unit } of headings) if (column && unit) this.units[column.key] = unit;
    cells.slice(1).forEach((line, down) => {
      const row = this.rowAt(at + down);
      headings.forEach(({ column, leftOut }, k) => {
        if (row && column) row[column.key] = (line[k] ?? "").slice(0, MAX_CELL_LENGTH);
        if (row && leftOut && line[k]?.trim()) row[LEFT_OUT] = "yes";
      });
    });
    const reasons = headings.flatMap(({ why }) => (why ? [why] : []));
    return reasons.length ? ` Left out: ${reasons.join("; ")}.` : "";
  }

  toCsv() {
    /** @param {Column} column */
    const title = (column) => column.headings[0] + (column.units.length ? ` (${this.unitOf(column)})` : "");
    const note = this.note ? [this.note] : [];
    const someLeftOut = this.rows.some((row) => row[LEFT_OUT]);
    const head = [...this.columns.map(title), ...(someLeftOut ? ["left out"] : []), ...(this.note ? ["note"] : [])];
    return csvText([head, ...this.rows.map((row) => [
      ...this.columns.map(({ key }) => row[key] ?? ""), ...(someLeftOut ? [row[LEFT_OUT] ?? ""] : []), ...note,
    ])]);
  }
}
