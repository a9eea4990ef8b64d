// The results table: a row a solution, each answer filled by the class, hidden, revealed or checked. It lives
// in the browser's store, so that a reload or a lost program takes nothing from it.

import { make, makeButton, sayWhenFull } from "../../kit/elements.js";
import { judge } from "../../workshop/judge.js";
import { csvText } from "../../kit/csv.js";
import { saveFile } from "../../kit/files.js";
import { say } from "../../kit/say.js";
import { within } from "../../kit/store.js";
import { compareObservation } from "./feedback.js";

/** @typedef {{name: string, title: string, of: (kept: any) => string}} Column */

const OF_ELECTRODE = {
  cathode: ["Predicted, {cathode_in_full}", "Observed, {cathode_in_full}", "Test, {cathode_in_full}", "Product, {cathode_in_full}", "Half-equation, {cathode_in_full}"],
  anode: ["Predicted, {anode_in_full}", "Observed, {anode_in_full}", "Test, {anode_in_full}", "Product, {anode_in_full}", "Half-equation, {anode_in_full}"],
};

/** The columns, with the electrodes as the board calls them. @param {import("../../kit/say.js").Slots} slots @returns {Column[]} */
const columnsFor = (slots) => [
  { name: "ions", title: "Ions present", of: ({ row }) => row.ions },
  ...Object.entries(OF_ELECTRODE).flatMap(([role, titles]) => {
    const [predicted, seen, test, product, equation] = titles.map((title) => say(title, slots));
    return [
      { name: `${role}-predicted`, title: predicted, of: (entry) => entry[`${role}:predicted`] ?? "" },
      { name: `${role}-seen`, title: seen, of: ({ row }) => row[role].seen },
      { name: `${role}-test`, title: test, of: ({ row }) => row[role].test },
      { name: `${role}-product`, title: product, of: ({ row }) => row[role].product },
      { name: `${role}-equation`, title: equation, of: ({ row }) => row[role].equation },
    ];
  }),
  { name: "left", title: "Solution becomes", of: ({ row }) => row.left },
  { name: "pH", title: "pH change", of: ({ row }) => row.pH },
];
const PRINTS = [["as shown", "shown"], ["empty", "empty"], ["half-filled", "half"], ["complete", "complete"]];
const HALF_FILLED = ["ions", "cathode-product", "anode-seen", "anode-equation"]; // what a half-filled sheet gives away

/** What the class wrote in a cell: what it filled in here, or said at the electrode. */
function written(entry, name) {
  const [role, what] = name.split("-");
  const filled = entry[`cell:${name}`];
  if (filled) return filled;
  if (what === "predicted") return entry[`${role}:predicted`] ?? "";
  if (what === "seen") return entry[`${role}:observed`] ?? "";
  if (what === "test") return entry[`${role}:tested`] ?? "";
  return "";
}

/** Plain words: signs that look alike are made the same. @param {string} text */
const plain = (text) =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[−–]/g, "-")
    .replace(/->|→/g, "=")
    .replace(/[\s.,^]+/g, "");

/** Say how an answer stands beside what is expected. */
function verdict(entry, name, answer, expected, species) {
  if (!answer) return "nothing written";
  const role = name.startsWith("cathode") ? "cathode" : "anode";
  const task = entry.row[role].task;
  if (name.endsWith("-equation") && task) {
    const { code, says } = judge(answer, task, species);
    return `${code === "right" ? "✓ " : ""}${says.join(" ")}`;
  }
  if (name.endsWith("-seen")) {
    const { missing, trapped } = compareObservation(answer, entry[`${role}:points`] ?? [], entry.traps ?? []);
    return [missing.length ? `left out: ${missing.join(", ")}` : "✓", ...trapped].join(" ");
  }
  if (name.endsWith("-predicted")) return "kept as you wrote it";
  const accepted = [expected, ...(entry.row.accepts?.[name] ?? [])]; // rows kept by an older page have none
  return accepted.some((each) => plain(answer) === plain(each)) ? "✓" : "compare with what is expected";
}

/** @param {(key: string) => void} redraw draws the table anew; the key is of what has the keyboard then */
function drawCell(store, key, column, species, redraw) {
  const entry = store.of(key);
  const cell = make("td");
  cell.dataset.title = column.title;
  const expected = column.of(entry) ?? "";
  const state = entry[`state:${column.name}`] ?? "hidden";
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = 2;
  field.maxLength = 500;
  field.setAttribute("aria-label", `${column.title}, ${entry.label}`);
  field.value = written(entry, column.name);
  const place = `${key} ${column.name}`;
  field.dataset.fpKey = `${place} field`;
  const forPaper = () => (cell.dataset.written = field.value); // where a field would cut it
  forPaper();
  field.addEventListener("input", forPaper);
  field.addEventListener("change", () => store.change(key, { [`cell:${column.name}`]: within(field.value) }));
  const answer = make("p", state === "hidden" ? "" : expected, "fp-expected");
  cell.append(field, sayWhenFull(field), answer);
  if (state === "checked") {
    const result = verdict(entry, column.name, field.value, expected, species);
    cell.append(make("p", result, "fp-verdict"));
  }
  const called = (text) => `${text}: ${column.title}, ${entry.label}`;
  const set = (to) => () => {
    store.change(key, { [`cell:${column.name}`]: within(field.value), [`state:${column.name}`]: to });
    redraw(`${place} turn`); // the press that was made has gone, and this one has come
  };
  const acts = make("div", "", "fp-cell-acts");
  const press = (text, to, what = "turn") => {
    const button = makeButton(text, set(to), `${place} ${what}`);
    button.setAttribute("aria-label", called(text));
    acts.append(button);
  };
  if (state === "hidden") {
    press("Reveal", "shown");
    press("Check", "checked", "check");
  } else press("Hide", "hidden");
  if (column.name !== "ions" || expected) cell.append(acts);
  return cell;
}

/** A line of the printed table to be filled in by hand. @param {string} label */
function blank(label) {
  const line = make("p", `${label}: `, "fp-line");
  line.append(make("span"));
  return line;
}

function tableCsv(store, keys, columns) {
  const head = ["Solution", ...columns.flatMap(({ title }) => [`${title}: class`, `${title}: expected`])];
  const lines = keys.map((key) => {
    const entry = store.of(key);
    return [entry.label, ...columns.flatMap((column) => [written(entry, column.name), column.of(entry) ?? ""])];
  });
  return csvText([head, ...lines]);
}

const EMPTIED = "Predictions, notes and results table are empty for the next class.";

/**
 * @param node the panel @param {import("../../kit/store.js").Store} store @param species of equations
 * @param {() => void} begin a new class has come: what was said before is forgotten
 */
export function mountResultsTable(node, store, species, begin) {
  let held = false; // while the class is asked: the table names what forms
  let emptied = /** @type {Record<string, import("../../kit/store.js").Entry>|null} */ (null);
  let columns = /** @type {Column[]} */ ([]); // until a cell is shown and the board's names are known
  // a run of which the class is still asked has no row: another cell's table would tell it
  // (pages of an earlier version kept that as `told`, and still earlier ones not at all)
  const isRow = ({ row, revealsProducts, told }) => row?.cathode && (revealsProducts ?? told) !== false;
  const keys = () => store.keys().filter((key) => isRow(store.of(key)));

  function setAll(state) {
    for (const key of keys()) {
      store.change(key, Object.fromEntries(columns.map(({ name }) => [`state:${name}`, state])));
    }
    draw();
  }
  function print(kind) {
    node.dataset.print = kind;
    document.documentElement.dataset.fpPrint = "table";
    addEventListener("afterprint", () => {
      delete node.dataset.print;
      delete document.documentElement.dataset.fpPrint;
    }, { once: true });
    window.print();
  }

  const status = make("span");
  status.setAttribute("role", "status");
  /** One press for all that the last class has left, and one to take that back. */
  function newClass() {
    const row = make("div", "", "fp-options fp-new-class");
    row.append(
      makeButton("New class", () => {
        emptied = store.clear();
        status.textContent = EMPTIED;
        draw();
        find("undo")?.focus();
        begin();
      }, "new class"),
    );
    if (emptied) {
      const undo = makeButton("Undo", () => {
        store.restore(emptied ?? {});
        emptied = null;
        status.textContent = "Everything is back.";
        draw();
        find("new class")?.focus();
        begin();
      }, "undo");
      undo.setAttribute("aria-label", "Undo: New class");
      row.append(undo);
    }
    row.append(status);
    return row;
  }
  const find = (key) => [...node.querySelectorAll("[data-fp-key]")].find((each) => each.dataset.fpKey === key);

  function draw() {
    const active = document.activeElement;
    const focus = active && node.contains(active) ? active.dataset.fpKey : "";
    fill();
    if (focus) find(focus)?.focus();
  }
  function fill() {
    node.replaceChildren(newClass());
    if (held) return;
    const acts = make("div", "", "fp-options");
    const kinds = /** @type {HTMLSelectElement} */ (make("select"));
    kinds.setAttribute("aria-label", "Print the table");
    for (const [label, value] of PRINTS) kinds.append(new Option(label, value));
    acts.append(
      makeButton("Reveal all", () => setAll("shown"), "reveal all"),
      makeButton("Hide all", () => setAll("hidden"), "hide all"),
      makeButton("Check all", () => setAll("checked"), "check all"),
      makeButton("Save table as CSV", () => saveFile("results.csv", "text/csv", tableCsv(store, keys(), columns))),
      kinds,
      makeButton("Print table", () => print(kinds.value)),
    );
    if (!keys().length) {
      node.append(make("p", "Each solution that you switch on gets a row here.", "fp-empty"));
      return;
    }
    const frame = make("div", "", "fp-table-frame");
    frame.tabIndex = 0;
    frame.setAttribute("role", "region");
    frame.setAttribute("aria-label", "Results table");
    const table = document.createElement("table");
    table.className = "fp-results";
    table.createCaption().textContent = "Results. What is written here stays in this browser.";
    const head = table.createTHead().insertRow();
    for (const title of ["Solution", ...columns.map((column) => column.title)]) {
      const cell = make("th", title);
      cell.setAttribute("scope", "col");
      head.append(cell);
    }
    const body = table.createTBody();
    for (const key of keys()) {
      const row = body.insertRow();
      const name = make("th", store.of(key).label);
      name.setAttribute("scope", "row");
      row.append(name, ...columns.map((column) => drawCell(store, key, column, species, (next) => {
        draw();
        find(next)?.focus();
      })));
      for (const [k, { name: column }] of columns.entries()) {
        row.cells[k + 1].toggleAttribute("data-half", HALF_FILLED.includes(column));
        row.cells[k + 1].dataset.complete = columns[k].of(store.of(key)) ?? "";
      }
    }
    frame.append(table);
    const title = make("header", "", "fp-table-head");
    title.append(make("h2", "Electrolysis: results"), blank("Class"), blank("Date"));
    node.append(acts, title, frame);
  }
  draw();
  return {
    opened: draw,
    /** Leave the table out while the class is asked. @param {boolean} holds */
    hold(holds) {
      held = holds;
      draw();
    },
    /** Name the electrodes as the board does. @param {import("../../kit/say.js").Slots} slots */
    nameElectrodes(slots) {
      columns = columnsFor(slots);
    },
  };
}
