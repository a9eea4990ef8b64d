// The results table: a row for each solution, filled by the class. The browser's store keeps it through a reload or the loss
// of the program.

import { make, makeButton } from "../../kit/elements.js";
import { csvText } from "../../kit/csv.js";
import { saveFile } from "../../kit/files.js";
import { say } from "../../kit/say.js";
import { drawCell } from "./results_cell.js";
import { mountKeptLessons } from "./kept_lessons.js";
import { classAnswer, columnsFor, PARTS, votesOf } from "./results_columns.js";

/** @typedef {import("./results_columns.js").Column} Column */

const PRINTS = [["as shown", "shown"], ["empty", "empty"], ["half-filled", "half"], ["complete", "complete"]];
const HALF_FILLED = ["ions", "cathode-product", "anode-seen", "anode-equation"]; // what a half-filled sheet gives away
const [FILL, LEAVE] = ["Table on full screen", "Leave full screen (Esc)"];
const ELECTRODES = { cathode: "{Cathode_in_full}", anode: "{Anode_in_full}" };
const EMPTIED = "Predictions, notes and results table are empty for the next class.";

// a run of which the class is still asked has no row: another cell's table would tell it
// (pages of an earlier version kept that as `told`, and still earlier ones not at all)
const isRow = ({ row, revealsProducts, told }) => row?.cathode && (revealsProducts ?? told) !== false;

/** A line of the printed table to be filled in by hand. @param {string} label */
function blankLine(label) {
  const line = make("p", `${label}: `, "fp-line");
  line.append(make("span"));
  return line;
}

class ResultsTable {
  /** @param node the panel @param {import("../../kit/store.js").Store} store @param species of equations @param {(isUndo: boolean) => void} onNewClass */
  constructor(node, store, species, onNewClass) {
    Object.assign(this, { node, store, species, onNewClass });
    this.slots = /** @type {import("../../kit/say.js").Slots|null} */ (null);
    this.columns = /** @type {Column[]} */ ([]); // until a cell is shown and the board's names are known
    this.onlyKeys = /** @type {string[]} */ ([]); // of the lesson's own solution, or of both; or none
    this.showsAll = false; // and the others with it
    this.isLocked = false; // while the class is asked: the table names what forms
    this.cleared = /** @type {Record<string, import("../../kit/store.js").Entry>|null} */ (null); // by "New class"
    this.status = make("span");
    this.status.setAttribute("role", "status");
    this.whereToGoOn = /** @type {HTMLElement|null} */ (null); // once the table leaves the whole screen
    node.addEventListener("fullscreenchange", () => this.screenTurned());
    this.draw();
  }

  opened() { this.draw(); }

  /** Leave the table out while the class is asked. @param {boolean} isLocked */
  lock(isLocked) {
    this.isLocked = isLocked;
    this.draw();
  }

  /** Name the electrodes as the board does. @param {import("../../kit/say.js").Slots} slots */
  nameElectrodes(slots) {
    this.slots = slots;
    this.columns = columnsFor(slots);
  }

  /** Show the rows of some solutions, or all. @param {string[]} keys */
  only(...keys) {
    this.onlyKeys = keys.filter(Boolean);
    this.showsAll = false;
    this.draw();
  }

  /** Show the rows of all solutions, or only the lesson's own. @param {boolean} isAll */
  showAll(isAll) {
    this.showsAll = isAll;
    this.draw();
  }

  /** The rows that there are. */
  rows() { return this.store.keys().filter((key) => isRow(this.store.of(key))); }

  /** The rows that are shown. */
  keys() { return this.rows().filter((key) => this.showsAll || !this.onlyKeys.length || this.onlyKeys.includes(key)); }

  // what a class does

  setAll(state) {
    for (const key of this.keys()) {
      this.store.change(key, Object.fromEntries(this.columns.map(({ name }) => [`state:${name}`, state])));
    }
    this.draw();
  }

  /** Clear all that the last class has left, or bring it back. @param {boolean} isUndo */
  clear(isUndo) {
    if (isUndo) this.store.restore(this.cleared ?? {});
    this.cleared = isUndo ? null : this.store.clear();
    this.status.textContent = isUndo ? "Everything is back." : EMPTIED;
    this.draw();
    this.focusOn(isUndo ? "new class" : "undo");
    this.onNewClass(isUndo);
  }

  /** Another lesson stands in the store. @param {string} said */
  changed(said) {
    this.status.textContent = said;
    this.onlyKeys = [];
    this.draw();
  }

  async print(kind) {
    // a browser prints of what fills the screen one sheet, and cuts the rest
    if (document.fullscreenElement) await document.exitFullscreen();
    const page = document.documentElement.dataset;
    this.node.dataset.print = kind;
    page.fpPrint = "table";
    addEventListener("afterprint", () => {
      delete this.node.dataset.print;
      delete page.fpPrint;
    }, { once: true });
    window.print();
  }

  save() {
    const head = ["Solution", ...this.columns.flatMap(({ title }) => [`${title}: class`, `${title}: expected`])];
    const rows = this.keys().map((key) => {
      const entry = this.store.of(key);
      return [entry.label, ...this.columns.flatMap((column) => [classAnswer(entry, column), votesOf(entry, column) || (column.of(entry) ?? "")])];
    });
    saveFile("results.csv", "text/csv", csvText([head, ...rows]));
  }

  // drawing

  focusOn(key) { [...this.node.querySelectorAll("[data-fp-key]")].find((each) => each.dataset.fpKey === key)?.focus(); }

  draw() {
    const active = document.activeElement;
    const focus = active && this.node.contains(active) ? active.dataset.fpKey : "";
    const keptOpen = this.node.querySelector("details")?.open ?? false;
    this.node.replaceChildren();
    if (!this.isLocked && this.slots) {
      const kept = mountKeptLessons(this.store, (said) => this.changed(said));
      kept.open = keptOpen; // with the keyboard perhaps
      this.node.append(...this.tableParts(), kept);
    }
    this.node.append(this.classButtons());
    if (focus) this.focusOn(focus);
  }

  classButtons() {
    const row = make("div", "", "fp-options fp-new-class");
    row.append(makeButton("New class", () => this.clear(false), "new class"));
    if (this.cleared) {
      const undo = makeButton("Undo", () => this.clear(true), "undo");
      undo.setAttribute("aria-label", "Undo: New class");
      row.append(undo);
    }
    row.append(this.status);
    this.node.toggleAttribute("data-cleared", this.cleared !== null);
    return row;
  }

  tableParts() {
    if (!this.keys().length) return [make("p", "Each solution that you switch on gets a row here.", "fp-empty")];
    const frame = make("div", "", "fp-table-frame");
    frame.tabIndex = 0;
    frame.setAttribute("role", "region");
    frame.setAttribute("aria-label", "Results table");
    frame.append(this.table());
    const title = make("header", "", "fp-table-head");
    title.append(make("h2", "Electrolysis: results"), blankLine("Class"), blankLine("Date"));
    return [this.tableButtons(), title, frame];
  }

  tableButtons() {
    const row = make("div", "", "fp-options");
    const kinds = /** @type {HTMLSelectElement} */ (make("select"));
    kinds.setAttribute("aria-label", "Print the table");
    for (const [label, value] of PRINTS) kinds.append(new Option(label, value));
    row.append(
      makeButton("Reveal all", () => this.setAll("checked"), "reveal all"),
      makeButton("Hide all", () => this.setAll("hidden"), "hide all"),
      ...this.sizeButtons(),
      makeButton("Save table as CSV", () => this.save()),
      kinds,
      makeButton("Print table", () => this.print(kinds.value)),
    );
    return row;
  }

  /** All solutions, and the whole screen. */
  sizeButtons() {
    const buttons = [];
    if (this.onlyKeys.length && this.rows().length > this.onlyKeys.length) {
      const all = makeButton("All solutions", () => this.showAll(!this.showsAll), "all solutions");
      all.setAttribute("aria-pressed", String(this.showsAll));
      buttons.push(all);
    }
    const { node } = this;
    if (node.requestFullscreen) buttons.push(makeButton(this.fills ? LEAVE : FILL, () => this.fillScreen(), "full screen"));
    return buttons;
  }

  get fills() { return document.fullscreenElement === this.node; }

  /** The table has filled the screen, or fills it no more: the keyboard is where it can be seen. */
  screenTurned() {
    const button = [...this.node.querySelectorAll("[data-fp-key]")].find((each) => each.dataset.fpKey === "full screen");
    if (button) button.textContent = this.fills ? LEAVE : FILL;
    if (!this.fills) this.whereToGoOn?.focus();
    else if (!this.node.contains(document.activeElement)) button?.focus();
    if (!this.fills) this.whereToGoOn = null;
  }

  /** @param {HTMLElement|null} [whereToGoOn] with the keyboard afterwards, if not in the table */
  fillScreen(whereToGoOn = null) {
    if (!this.fills) this.whereToGoOn = whereToGoOn;
    const turned = this.fills ? document.exitFullscreen() : this.node.requestFullscreen();
    turned.catch(() => {}); // a browser may refuse
  }

  table() {
    const table = document.createElement("table");
    table.className = "fp-results";
    table.createCaption().textContent = "Results. What is written here stays in this browser.";
    const head = table.createTHead().insertRow();
    for (const title of ["Solution", "Ions present", "Electrode", ...PARTS.map(([, each]) => each), "Solution becomes", "pH change"]) {
      const cell = make("th", title);
      cell.setAttribute("scope", "col");
      head.append(cell);
    }
    for (const key of this.keys()) table.append(this.linesOf(key));
    return table;
  }

  /** A solution is two lines, one for each electrode. @param {string} key */
  linesOf(key) {
    const entry = this.store.of(key);
    const body = make("tbody");
    const [first, second] = ["cathode", "anode"].map((role) => this.line(key, entry, role));
    const label = make("th", entry.label);
    label.setAttribute("scope", "rowgroup");
    label.setAttribute("rowspan", "2");
    first.prepend(label, this.cell(key, entry, "ions", 2));
    first.append(this.cell(key, entry, "left", 2), this.cell(key, entry, "pH", 2));
    body.append(first, second);
    return body;
  }

  line(key, entry, role) {
    const row = make("tr");
    const name = make("th", say(ELECTRODES[role], /** @type {import("../../kit/say.js").Slots} */ (this.slots)));
    name.setAttribute("scope", "row");
    row.append(name, ...PARTS.map(([part]) => this.cell(key, entry, `${role}-${part}`)));
    return row;
  }

  cell(key, entry, name, lines = 1) {
    const column = /** @type {Column} */ (this.columns.find((each) => each.name === name));
    const cell = drawCell(this.store, key, column, this.species, (next) => {
      this.draw();
      this.focusOn(next);
    });
    if (lines > 1) cell.setAttribute("rowspan", String(lines));
    cell.toggleAttribute("data-half", HALF_FILLED.includes(name));
    cell.dataset.complete = column.of(entry) ?? "";
    return cell;
  }
}

export const mountResultsTable = (node, store, species, onNewClass) => new ResultsTable(node, store, species, onNewClass);
