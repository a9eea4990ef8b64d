// The class's table: typed, pasted from a spreadsheet or loaded from a file. It is kept in this browser, so
// that a reload takes nothing, and sent to the program only to be worked out.

import { make, pressable } from "../bench/ask.js";
import { saveFile } from "../bench/files.js";
import { mountLifeline } from "../bench/lifeline.js";
import { mountRoom } from "../bench/room.js";
import { csvCell } from "../bench/table.js";

const MEASURED = "fizzplate.measure.1";
const FIRST_ROWS = 6;
const LATER_MS = 400; // after the last key
const LONGEST_CELL = 40;

function readMeasured() {
  try {
    const kept = JSON.parse(localStorage.getItem(MEASURED) ?? "null");
    return kept && Array.isArray(kept.rows) ? kept : null;
  } catch {
    return null;
  }
}

/** Cells of pasted text: tabs first, as a spreadsheet copies. @param {string} text */
export function pastedRows(text) {
  const lines = text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n").split("\n").filter((line) => line.trim());
  const delimiter = ["\t", ";", ","].find((each) => lines.every((line) => line.includes(each))) ?? "\t";
  return lines.map((line) => line.split(delimiter).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1")));
}

/** Which column a heading means. @param {string} heading @param {{key: string, title: string}[]} columns */
function columnOf(heading, columns) {
  const plain = heading.toLowerCase().split(/[/([]/)[0].replace(/[\s_,-]+/g, " ").trim();
  return columns.find(({ key, title }) => [key.replaceAll("_", " "), title.toLowerCase().replace(",", "")].includes(plain));
}

export function renderGrid({ model, el }) {
  const columns = model.get("columns");
  const { bytes, groups } = model.get("limits");
  const kept = readMeasured();
  const rows = kept?.rows ?? Array.from({ length: FIRST_ROWS }, () => ({}));
  const units = kept?.units ?? {};
  const root = make("section", "", "fp-grid");
  root.setAttribute("aria-label", "The class's measurements");
  const told = make("p", "", "fp-told");
  told.setAttribute("role", "status");
  const frame = make("div", "", "fp-table-frame");
  frame.tabIndex = 0;
  frame.setAttribute("role", "region");
  frame.setAttribute("aria-label", "Table of groups");
  let waiting = 0;

  function keep() {
    try {
      localStorage.setItem(MEASURED, JSON.stringify({ rows, units }));
    } catch {
      // a private window keeps nothing beyond itself
    }
  }
  function send() {
    clearTimeout(waiting);
    model.set("rows", rows.map((row) => ({ ...row })));
    model.set("units", { ...units });
    model.save_changes();
  }
  function changed() {
    keep();
    clearTimeout(waiting);
    waiting = setTimeout(send, LATER_MS);
  }
  function place(at, from, cells) {
    cells.forEach((line, down) => {
      if (at + down >= groups) return;
      while (rows.length <= at + down) rows.push({});
      line.forEach((cell, along) => {
        const column = columns[from + along];
        if (column) rows[at + down][column.key] = cell.slice(0, LONGEST_CELL);
      });
    });
  }
  /** A whole table: by its headings where it has them, from the first column on where it has none. */
  function load(text, name) {
    const cells = pastedRows(text);
    if (!cells.length) {
      told.textContent = `${name} holds no rows. Nothing was changed.`;
      return;
    }
    if (!mayReplace()) return;
    const named = cells[0]?.map((heading) => columnOf(heading, columns)) ?? [];
    rows.length = 0;
    if (named.filter(Boolean).length >= 2) {
      for (const line of cells.slice(1, groups + 1)) {
        rows.push(Object.fromEntries(named.flatMap((column, k) => (column ? [[column.key, (line[k] ?? "").slice(0, LONGEST_CELL)]] : []))));
      }
    } else place(0, 0, cells);
    draw();
    keep();
    send();
    told.textContent = cells.length > groups + 1 ? `Only the first ${groups} groups were taken.` : `${rows.length} rows loaded.`;
  }
  const filled = () => rows.some((row) => Object.values(row).some((cell) => cell.trim()));
  const mayReplace = () => !filled() || confirm("Replace what is in the table?");
  async function open(file, act) {
    if (!file) return;
    if (file.size > bytes) {
      told.textContent = `${file.name} holds ${file.size} bytes; at most ${bytes} can be read. Nothing was sent.`;
      return;
    }
    act(await file.text(), file.name);
  }
  function chooser(label, act) {
    const wrapper = make("label", "", "fp-button fp-open");
    const input = document.createElement("input");
    input.type = "file";
    input.accept = ".csv,.txt,.tsv,text/csv,text/plain";
    input.addEventListener("change", async () => {
      await open(input.files?.[0], act);
      input.value = "";
    });
    wrapper.append(make("span", label), input);
    return wrapper;
  }
  function asCsv() {
    const head = columns.map(({ key }) => key);
    return [head, ...rows.map((row) => head.map((key) => row[key] ?? ""))].map((line) => line.map(csvCell).join(",")).join("\r\n");
  }

  function draw() {
    const table = document.createElement("table");
    table.className = "fp-results fp-measured";
    table.createCaption().textContent = "One row a group; leave empty what was not measured.";
    const head = table.createTHead().insertRow();
    for (const { key, title, units: offered } of columns) {
      const cell = make("th", title);
      cell.setAttribute("scope", "col");
      if (offered.length > 1) {
        const choice = /** @type {HTMLSelectElement} */ (make("select"));
        choice.setAttribute("aria-label", `Unit of ${title}`);
        for (const unit of offered) choice.append(new Option(unit, unit));
        choice.value = units[key] ?? offered[0];
        choice.addEventListener("change", () => {
          units[key] = choice.value;
          changed();
        });
        cell.append(" ", choice);
      } else if (offered.length) cell.append(`, ${offered[0]}`);
      head.append(cell);
    }
    const body = table.createTBody();
    rows.forEach((row, at) => {
      const line = body.insertRow();
      columns.forEach(({ key, title }, along) => {
        const cell = line.insertCell();
        cell.dataset.title = title;
        const field = /** @type {HTMLInputElement} */ (make("input"));
        field.type = "text";
        field.inputMode = along ? "decimal" : "text";
        field.maxLength = LONGEST_CELL;
        field.value = row[key] ?? "";
        field.setAttribute("aria-label", `${title}, row ${at + 1}`);
        field.addEventListener("input", () => {
          row[key] = field.value;
          changed();
        });
        field.addEventListener("paste", (event) => {
          const text = event.clipboardData?.getData("text/plain") ?? "";
          if (!/[\t\n]/.test(text.trim())) return;
          event.preventDefault();
          place(at, along, pastedRows(text));
          draw();
          keep();
          send();
          told.textContent = "Pasted.";
        });
        cell.append(field, make("p", "", "fp-cell-mark"));
      });
    });
    frame.replaceChildren(table);
    mark();
  }
  function mark() {
    for (const field of frame.querySelectorAll("input")) {
      field.removeAttribute("aria-invalid");
      field.nextElementSibling.textContent = "";
    }
    for (const { row, key, says, wrong } of model.get("marks")) {
      const along = columns.findIndex((column) => column.key === key);
      const field = frame.querySelectorAll("tbody tr")[row]?.querySelectorAll("input")[along];
      if (!field) continue;
      if (wrong) field.setAttribute("aria-invalid", "true");
      field.nextElementSibling.textContent = `${wrong ? "✗" : "?"} ${says}`;
    }
  }
  const acts = make("div", "", "fp-options");
  acts.append(
    pressable("Add a group", () => {
      if (rows.length < groups) rows.push({});
      draw();
      keep();
      frame.querySelector("tbody tr:last-child input").focus();
    }),
    chooser("Load a table", load),
    chooser("Load a logger's file", (text, name) => {
      model.set("logger", { name, text, at: Date.now() });
      model.save_changes();
      told.textContent = `${name} loaded.`;
    }),
    pressable("Save the table", () => saveFile("class.csv", "text/csv", asCsv())),
    pressable("Try an invented class", () => {
      if (!mayReplace()) return;
      rows.splice(0, rows.length, ...model.get("invented").rows.map((row) => ({ ...row })));
      draw();
      keep();
      send();
      told.textContent = model.get("invented").note;
    }),
    pressable("Empty the table", () => {
      if (!confirm("Forget all measurements?")) return;
      rows.splice(0, rows.length, ...Array.from({ length: FIRST_ROWS }, () => ({})));
      model.set("logger", {});
      draw();
      keep();
      send();
    }),
  );
  root.append(make("h2", "Measurements"), acts, told, frame, make("p", "Kept in this browser and in the file that you save. To be worked out it passes through the program's memory and is written nowhere.", "fp-note"));
  const switches = make("div", "", "fp-room");
  switches.setAttribute("role", "group");
  switches.setAttribute("aria-label", "Room");
  const room = mountRoom(switches, null, () => {}, ["Dim room", "Projector size"]);
  el.append(root, switches);
  const lifeline = mountLifeline(root, model);
  model.on("change:marks", mark);
  draw();
  if (kept) send();
  return () => {
    clearTimeout(waiting);
    model.off("change:marks", mark);
    room.destroy();
    lifeline.destroy();
    root.remove();
    switches.remove();
  };
}
