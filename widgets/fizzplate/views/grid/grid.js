// The class's table: typed, pasted from a spreadsheet or loaded from a file. It is kept in this browser, so
// that a reload takes nothing, and sent to the program only to be worked out.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton } from "../kit/elements.js";
import { csvText, rowsOf } from "../kit/csv.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { saveFile } from "../kit/files.js";
import { mountRoom } from "../kit/screen.js";
import { drawTable, markFields } from "./class_table.js";
import { headOf, placeCells, placeNamed } from "./placing.js";

const MEASURED = "fizzplate.measure.1";
const LOGGED = "logger.1";
const FIRST_ROWS = 6;
const LATER_MS = 400; // after the last key

function readMeasured() {
  try {
    const kept = JSON.parse(localStorage.getItem(MEASURED) ?? "null");
    return kept && Array.isArray(kept.rows) ? kept : null;
  } catch {
    return null;
  }
}

export function renderGrid({ model, el }) {
  let columns = model.get("columns");
  const { bytes, groups } = model.get("limits");
  const kept = readMeasured();
  const rows = kept?.rows ?? Array.from({ length: FIRST_ROWS }, () => ({}));
  const units = kept?.units ?? {};
  let note = kept?.note ?? "";
  const root = make("section", "", "fp-grid");
  root.setAttribute("aria-label", "The class's measurements");
  const status = make("p", "", "fp-status");
  status.setAttribute("role", "status");
  status.id = "fp-grid-status";
  const frame = make("div", "", "fp-table-frame");
  frame.tabIndex = 0;
  frame.setAttribute("role", "region");
  frame.setAttribute("aria-label", "Table of groups");
  const noted = make("p", "", "fp-invented");
  noted.setAttribute("role", "status");
  let waiting = 0;
  let wrongFile = /** @type {Element|null} */ (null);

  /** @param {string} text @param {Element|null} [wrong] the chooser whose file is refused by it */
  function announce(text, wrong = null) {
    status.textContent = text;
    wrongFile = wrong;
    markFiles();
  }
  function markFiles() {
    setWrong(tableFile.input, wrongFile === tableFile.input ? status.id : "");
    setWrong(loggerFile.input, wrongFile === loggerFile.input ? status.id : model.get("refused"));
  }
  function keep() {
    try {
      localStorage.setItem(MEASURED, JSON.stringify({ rows, units, note }));
    } catch {
      // a private window keeps nothing beyond itself
    }
  }
  function send() {
    clearTimeout(waiting);
    model.set("rows", rows.map((row) => ({ ...row })));
    model.set("units", { ...units });
    model.set("note", note);
    model.save_changes();
  }
  function changed() {
    keep();
    clearTimeout(waiting);
    waiting = setTimeout(send, LATER_MS);
  }
  const setUnits = (means) => means.forEach(({ column, unit }) => column && unit && (units[column.key] = unit));
  const noTable = (text) => /[\0\ufffd]/.test(text.slice(0, 4000));
  /** A whole table: by its headings where it has them, from the first column on where it has none. Why it cannot be used, if so. */
  function load(text, name) {
    if (noTable(text)) return `${name} is not a table written as text (CSV). Nothing was changed.`;
    const cells = rowsOf(text);
    if (!cells.length) return `${name} holds no rows. Nothing was changed.`;
    const { means, names, known } = headOf(cells, columns);
    const single = !known && cells.every((line) => line.length < 2);
    if ((names && !known) || (known && cells.length < 2) || single) {
      const why = names && !single ? (known ? "it has headings but no rows" : `this page does not know its headings: ${cells[0].join(", ").slice(0, 120)}`) : "no tab, semicolon, bar or comma separates its columns";
      return `${name} was not loaded: ${why}. Nothing was changed. Use these headings: ${columns.map(({ title }) => title).join("; ")}.`;
    }
    if (!mayReplace()) return "";
    rows.length = 0;
    let leftOut = "";
    note = "";
    if (known) {
      for (const key of Object.keys(units)) delete units[key];
      setUnits(means);
      leftOut = placeNamed(rows, groups, cells, means, 0);
      const noteAt = means.findIndex((each) => each.note);
      if (noteAt >= 0) note = (cells[1]?.[noteAt] ?? "").slice(0, 200);
    } else placeCells(rows, { columns, groups }, 0, 0, cells);
    draw();
    keep();
    send();
    const cut = cells.length - Number(known) > groups;
    announce((cut ? `Only the first ${groups} groups were taken.` : `${rows.length} rows loaded.`) + leftOut);
    return "";
  }
  function paste(text, at, along) {
    if (noTable(text)) {
      announce("The text you pasted is not a table. Nothing was changed.");
      return;
    }
    const cells = rowsOf(text);
    const { means, known } = headOf(cells, columns);
    const others = (key) => rows.some((row, k) => (k < at || k >= at + cells.length - 1) && row[key]?.trim());
    const clash = known && means.find(({ column, unit }) => unit && unit !== (units[column.key] ?? column.units[0]) && others(column.key));
    if (clash) {
      announce(`The text you pasted gives ${clash.column.title} in ${clash.unit}, but the table has it in ${units[clash.column.key] ?? clash.column.units[0]}. Nothing was changed: choose the unit of the column first, or empty the table.`);
      return;
    }
    let leftOut = "";
    if (known) {
      setUnits(means);
      leftOut = placeNamed(rows, groups, cells, means, at);
    } else {
      placeCells(rows, { columns, groups }, at, along, cells);
      const beyond = Math.max(...cells.map((line) => line.length)) - (columns.length - along);
      if (beyond > 0) leftOut = ` Left out: ${beyond} more column${beyond > 1 ? "s" : ""} on the right.`;
    }
    draw();
    keep();
    send();
    announce(`Pasted.${leftOut}`);
  }
  const filled = () => rows.some((row) => Object.values(row).some((cell) => cell.trim()));
  const mayReplace = () => !filled() || confirm("Replace what is in the table?");
  /** @param {string} label @param {(text: string, name: string) => string} act gives why a file cannot be used, if so */
  function chooser(label, act) {
    const wrapper = make("label", "", "fp-button fp-open");
    const input = document.createElement("input");
    input.type = "file";
    input.accept = ".csv,.txt,.tsv,text/csv,text/plain";
    input.addEventListener("change", async () => {
      const file = input.files?.[0];
      if (!file) return;
      const isLarge = file.size > bytes;
      const refused = isLarge ? `${file.name} holds ${file.size} bytes; at most ${bytes} can be read. Nothing was sent.` : act(await file.text(), file.name);
      if (refused) announce(refused, input);
      input.value = "";
    });
    wrapper.append(make("span", label), input);
    return { wrapper, input };
  }
  function asCsv() {
    const unitOf = ({ key, units: offered }) => (offered.length ? ` (${units[key] ?? offered[0]})` : "");
    const head = [...columns.map((column) => column.key.replaceAll("_", " ") + unitOf(column)), ...(note ? ["note"] : [])];
    const lines = rows.map((row) => [...columns.map(({ key }) => row[key] ?? ""), ...(note ? [note] : [])]);
    return csvText([head, ...lines]);
  }

  const mark = () => markFields(frame, columns, model.get("marks"));
  function draw() {
    frame.replaceChildren(drawTable(rows, columns, units, { changed, paste }));
    noted.textContent = note;
    noted.hidden = !note;
    mark();
  }
  const tableFile = chooser("Load a table", load);
  const loggerFile = chooser("Load a logger's file", (text, name) => {
    announce(""); // whether it can be used is said where its charge is
    model.set("logger", { name, text, at: Date.now() });
    model.save_changes();
    return "";
  });
  const acts = make("div", "", "fp-options");
  acts.append(
    makeButton("Add a group", () => {
      if (rows.length < groups) rows.push({});
      draw();
      keep();
      frame.querySelector("tbody tr:last-child input").focus();
    }),
    tableFile.wrapper,
    loggerFile.wrapper,
    makeButton("Save the table", () => saveFile("class.csv", "text/csv", asCsv())),
    makeButton("Try an invented class", () => {
      if (!mayReplace()) return;
      rows.splice(0, rows.length, ...model.get("invented").rows.map((row) => ({ ...row })));
      for (const key of Object.keys(units)) delete units[key];
      note = model.get("invented").note;
      announce("");
      draw();
      keep();
      send();
    }),
    makeButton("Empty the table", () => {
      if (!confirm("Forget all measurements?")) return;
      rows.splice(0, rows.length, ...Array.from({ length: FIRST_ROWS }, () => ({})));
      for (const key of Object.keys(units)) delete units[key];
      note = "";
      announce("");
      model.set("logger", {});
      draw();
      keep();
      send();
    }),
  );
  root.append(make("h2", "Measurements"), acts, status, noted, frame, make("p", "Your measurements stay in this browser and in the file that you save. The program calculates with them and stores nothing.", "fp-note"));
  const switches = make("div", "", "fp-room");
  switches.setAttribute("role", "group");
  switches.setAttribute("aria-label", "Room");
  const room = mountRoom(switches, null, () => {}, ["Dim room", "Projector size"]);
  el.append(root, switches);
  function rename() {
    columns = model.get("columns");
    draw();
  }
  function put({ row, cells }) {
    if (row === undefined) return;
    while (rows.length <= row && rows.length < groups) rows.push({});
    Object.assign(rows[row], cells);
    draw();
    keep();
    send();
  }
  model.on("change:marks", mark);
  model.on("change:refused", markFiles);
  model.on("change:columns", rename);
  model.on("msg:custom", put);
  const leave = () => keepInTab(LOGGED, model.get("logger").text ? model.get("logger") : null);
  addEventListener("pagehide", leave);
  const logged = keptInTab(LOGGED);
  if (logged) model.set("logger", logged);
  draw();
  send(); // so that empty rows can be named where a charge is put into one
  return () => {
    clearTimeout(waiting);
    removeEventListener("pagehide", leave);
    model.off("change:marks", mark);
    model.off("change:refused", markFiles);
    model.off("change:columns", rename);
    model.off("msg:custom", put);
    room.destroy();
    root.remove();
    switches.remove();
  };
}
