// The results table: a row for each solution, filled by the class. The browser's store keeps it through a reload or the loss
// of the program.

import { make, makeButton } from "../../kit/elements.js";
import { csvText } from "../../kit/csv.js";
import { saveFile } from "../../kit/files.js";
import { drawCell } from "./results_cell.js";
import { classAnswer, columnsFor } from "./results_columns.js";

/** @typedef {import("./results_columns.js").Column} Column */

const PRINTS = [["as shown", "shown"], ["empty", "empty"], ["half-filled", "half"], ["complete", "complete"]];
const HALF_FILLED = ["ions", "cathode-product", "anode-seen", "anode-equation"]; // what a half-filled sheet gives away
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
  /** @param node the panel @param {import("../../kit/store.js").Store} store @param species of equations @param {() => void} onNewClass */
  constructor(node, store, species, onNewClass) {
    Object.assign(this, { node, store, species, onNewClass });
    this.columns = /** @type {Column[]} */ ([]); // until a cell is shown and the board's names are known
    this.isLocked = false; // while the class is asked: the table names what forms
    this.cleared = /** @type {Record<string, import("../../kit/store.js").Entry>|null} */ (null); // by "New class"
    this.status = make("span");
    this.status.setAttribute("role", "status");
    this.draw();
  }

  opened() { this.draw(); }

  /** Leave the table out while the class is asked. @param {boolean} isLocked */
  lock(isLocked) {
    this.isLocked = isLocked;
    this.draw();
  }

  /** Name the electrodes as the board does. @param {import("../../kit/say.js").Slots} slots */
  nameElectrodes(slots) { this.columns = columnsFor(slots); }

  keys() { return this.store.keys().filter((key) => isRow(this.store.of(key))); }

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
    this.onNewClass();
  }

  print(kind) {
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
      return [entry.label, ...this.columns.flatMap((column) => [classAnswer(entry, column), column.of(entry) ?? ""])];
    });
    saveFile("results.csv", "text/csv", csvText([head, ...rows]));
  }

  // drawing

  focusOn(key) { [...this.node.querySelectorAll("[data-fp-key]")].find((each) => each.dataset.fpKey === key)?.focus(); }

  draw() {
    const active = document.activeElement;
    const focus = active && this.node.contains(active) ? active.dataset.fpKey : "";
    this.node.replaceChildren(this.classButtons());
    if (!this.isLocked) this.node.append(...this.tableParts());
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
      makeButton("Reveal all", () => this.setAll("shown"), "reveal all"),
      makeButton("Hide all", () => this.setAll("hidden"), "hide all"),
      makeButton("Check all", () => this.setAll("checked"), "check all"),
      makeButton("Save table as CSV", () => this.save()),
      kinds,
      makeButton("Print table", () => this.print(kinds.value)),
    );
    return row;
  }

  table() {
    const table = document.createElement("table");
    table.className = "fp-results";
    table.createCaption().textContent = "Results. What is written here stays in this browser.";
    const head = table.createTHead().insertRow();
    for (const title of ["Solution", ...this.columns.map((column) => column.title)]) {
      const cell = make("th", title);
      cell.setAttribute("scope", "col");
      head.append(cell);
    }
    const body = table.createTBody();
    for (const key of this.keys()) this.fillRow(body.insertRow(), key);
    return table;
  }

  fillRow(row, key) {
    const entry = this.store.of(key);
    const label = make("th", entry.label);
    label.setAttribute("scope", "row");
    row.append(label, ...this.columns.map((column) => {
      const cell = drawCell(this.store, key, column, this.species, (next) => {
        this.draw();
        this.focusOn(next);
      });
      cell.toggleAttribute("data-half", HALF_FILLED.includes(column.name));
      cell.dataset.complete = column.of(entry) ?? "";
      return cell;
    }));
  }
}

export const mountResultsTable = (node, store, species, onNewClass) => new ResultsTable(node, store, species, onNewClass);
