// The class's table: typed, pasted from a spreadsheet or loaded from a file. The program gets it only to calculate.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton } from "../kit/elements.js";
import { fileButton, saveFile } from "../kit/files.js";
import { mountScreenSwitches, screenSwitchGroup } from "../kit/screen.js";
import { subscribe } from "../kit/subscription.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { drawTable, markFields } from "./class_table.js";
import { Measurements } from "./measurements.js";
import { fileRefusal, readTable } from "./reading.js";
import { askUnits } from "./unit_question.js";

const LOGGER_FILE = "logger.1"; // what the tab keeps of it
const SEND_DELAY_MS = 400; // after the last key
const POINT = /point-(\d+)$/; // ends the id of a point in a chart; its row is the number
const TABLE_TYPES = ".csv,.txt,.tsv,text/csv,text/plain";
const PRIVACY = "Your measurements stay in this browser and in the file that you save. The program calculates with them and stores nothing.";

function buildLayout() {
  const root = make("section", "", "fp-grid");
  root.setAttribute("aria-label", "The class's measurements");
  const status = make("p", "", "fp-status");
  status.setAttribute("role", "status");
  status.id = "fp-grid-status";
  const note = make("p", "", "fp-invented");
  note.setAttribute("role", "status");
  const question = make("div");
  const remark = make("p", "", "fp-note");
  remark.setAttribute("role", "status");
  const frame = make("div", "", "fp-table-frame");
  frame.tabIndex = 0;
  frame.setAttribute("role", "region");
  frame.setAttribute("aria-label", "Table of groups");
  const buttons = make("div", "", "fp-options");
  root.append(make("h2", "Measurements"), buttons, status, question, note, frame, remark, make("p", PRIVACY, "fp-note"));
  return { root, buttons, status, question, note, remark, frame, switches: screenSwitchGroup() };
}

class Grid {
  constructor(model, el) {
    const { bytes, groups } = model.get("limits");
    this.model = model;
    this.maxFileBytes = bytes;
    this.measurements = new Measurements(model.get("columns"), groups);
    this.layout = buildLayout();
    this.sendTimer = 0;
    this.opened = new Set([0]); // rows that are unfolded on a phone
    this.wrongInput = /** @type {Element|null} */ (null); // of the file that the status refuses
    this.tableFile = this.textFileButton("Load a table", (text, name) => this.load(text, name));
    this.loggerFile = this.textFileButton("Load a logger's file", (text, name) => this.sendLoggerFile(text, name));
    this.addButtons();
    el.append(this.layout.root, this.layout.switches);
    this.screenSwitches = mountScreenSwitches(this.layout.switches, null, () => {}, ["Dim room", "Projector size"]);
    this.unsubscribe = subscribe(model, {
      "change:marks": () => this.mark(),
      "change:refused": () => this.markFiles(),
      "change:remark": () => this.showRemark(),
      "change:columns": () => {
        this.measurements.columns = model.get("columns");
        this.draw();
      },
      "msg:custom": ({ row, cells }) => row !== undefined && this.put(row, cells),
    });
    this.keepLoggerFile = () => keepInTab(LOGGER_FILE, model.get("logger").text ? model.get("logger") : null);
    addEventListener("pagehide", this.keepLoggerFile);
    this.pressed = (event) => this.pressPoint(event.target);
    document.addEventListener("click", this.pressed);
  }

  start() {
    const loggerFile = keptInTab(LOGGER_FILE);
    if (loggerFile) this.model.set("logger", loggerFile);
    this.draw();
    this.send(); // the program names the rows, empty ones too, where a charge can be put into one
  }

  // files

  /** @param {string} text @param {(text: string, name: string) => string} onText gives why the file cannot be used, if so */
  textFileButton(text, onText) {
    const chooser = fileButton(text, TABLE_TYPES, async (file) => {
      const isLarge = file.size > this.maxFileBytes;
      const refusal = isLarge ? `${file.name} holds ${file.size} bytes; at most ${this.maxFileBytes} can be read. Nothing was sent. Choose a smaller file.` : onText(await file.text(), file.name);
      if (refusal) this.announce(refusal, chooser.input);
    });
    return chooser;
  }

  load(text, name) {
    const { measurements } = this;
    const table = readTable(text, measurements.columns);
    const refusal = fileRefusal(name, table, measurements.columns);
    if (!refusal && table && this.mayReplace()) {
      this.askThen(table, () => {
        const message = measurements.load(table);
        this.opened.clear();
        this.refresh();
        this.announce(message);
      });
    }
    return refusal;
  }

  /** Ask once for the unit of each heading that does not say it, then go on. @param {import("./reading.js").TextTable} table @param {() => void} act */
  askThen(table, act) {
    askUnits(this.layout.question, table, this.measurements, () => {
      act();
      this.measurements.save();
    });
  }

  sendLoggerFile(text, name) {
    this.announce(""); // the program says beside the charge whether it can be used
    this.model.set("logger", { name, text, at: Date.now() });
    this.model.save_changes();
    return "";
  }

  // changes of the table

  mayReplace() { return this.measurements.isEmpty || confirm("Replace what is in the table?"); }

  paste(text, at, from) {
    const table = readTable(text, this.measurements.columns);
    if (!table) {
      this.announce("The text you pasted is not a table. Nothing was changed.");
      return;
    }
    this.askThen(table, () => {
      const { refusal, omission } = this.measurements.paste(table, at, from);
      if (!refusal) this.refresh();
      this.announce(refusal ?? `Pasted.${omission}`);
    });
  }

  // groups that do not count

  /** @param {number} at its row */
  leaveOut(at) {
    const isOut = this.measurements.toggleLeftOut(at);
    const name = this.measurements.nameOf(at);
    this.refresh();
    this.announce(isOut ? `Group ${name} is left out. The results below show both, with it and without it.` : `Group ${name} counts again.`);
  }

  /** A point of a chart stands for its group. @param {EventTarget|null} target */
  pressPoint(target) {
    const point = /** @type {Element|null} */ (target)?.closest?.('.fp-measure [id*="point-"]');
    const at = Number(point?.id.match(POINT)?.[1] ?? NaN);
    if (at < this.measurements.rows.length) this.leaveOut(at);
  }

  put(at, cells) {
    Object.assign(this.measurements.rowAt(at), cells);
    this.refresh();
  }

  addGroup() {
    this.measurements.rowAt(this.measurements.rows.length);
    this.opened = new Set([this.measurements.rows.length - 1]);
    this.draw();
    this.measurements.save();
    this.layout.frame.querySelector("tbody tr:last-child input").focus();
  }

  showInvented() {
    if (!this.mayReplace()) return;
    const { rows, note } = this.model.get("invented");
    this.opened.clear();
    this.measurements.replace(rows.map((row) => ({ ...row })), {}, note);
    this.announce("");
    this.refresh();
  }

  clear() {
    if (!confirm("Forget all measurements?")) return;
    this.measurements.clear();
    this.announce("");
    this.model.set("logger", {});
    this.refresh();
  }

  refresh() {
    this.draw();
    this.measurements.save();
    this.send();
  }

  // what the program gets

  send() {
    const { model, measurements: { rows, units, note } } = this;
    clearTimeout(this.sendTimer);
    model.set("rows", rows.map((row) => ({ ...row })));
    model.set("units", { ...units });
    model.set("note", note);
    model.save_changes();
  }

  sendSoon() {
    this.measurements.save();
    clearTimeout(this.sendTimer);
    this.sendTimer = setTimeout(() => this.send(), SEND_DELAY_MS);
  }

  // drawing

  addButtons() {
    const add = makeButton("Add a group", () => this.addGroup());
    add.classList.add("fp-main-action");
    const quiet = [
      this.loggerFile.node,
      makeButton("Save the table", () => saveFile("class.csv", "text/csv", this.measurements.toCsv())),
      makeButton("Try an invented class", () => this.showInvented()),
      makeButton("Empty the table", () => this.clear()),
    ];
    for (const each of quiet) each.classList.add("fp-plain");
    this.layout.buttons.append(add, this.tableFile.node, ...quiet);
  }

  draw() {
    const { measurements, layout } = this;
    const focused = /** @type {HTMLElement|null} */ (layout.frame.contains(document.activeElement) ? document.activeElement : null);
    layout.frame.replaceChildren(drawTable(measurements, {
      opened: this.opened,
      onLeaveOut: (at) => this.leaveOut(at),
      onChange: () => this.sendSoon(),
      onPaste: (text, at, from) => this.paste(text, at, from),
    }));
    layout.note.textContent = measurements.note;
    layout.note.hidden = !measurements.note;
    const key = focused?.dataset?.fpKey;
    if (key) /** @type {HTMLElement|null} */ (layout.frame.querySelector(`[data-fp-key="${key}"]`))?.focus();
    this.showRemark();
    this.mark();
  }

  showRemark() {
    const { remark } = this.layout;
    const text = this.model.get("remark") ?? "";
    if (remark.textContent !== text) remark.textContent = text;
    remark.hidden = !text;
  }

  mark() { markFields(this.layout.frame, this.measurements.columns, this.model.get("marks")); }

  /** @param {string} text @param {Element|null} [wrongInput] the field whose file it refuses */
  announce(text, wrongInput = null) {
    this.layout.status.textContent = text;
    this.wrongInput = wrongInput;
    this.markFiles();
  }

  markFiles() {
    const { wrongInput, layout: { status } } = this;
    setWrong(this.tableFile.input, wrongInput === this.tableFile.input ? status.id : "");
    setWrong(this.loggerFile.input, wrongInput === this.loggerFile.input ? status.id : this.model.get("refused"));
  }

  destroy() {
    clearTimeout(this.sendTimer);
    removeEventListener("pagehide", this.keepLoggerFile);
    document.removeEventListener("click", this.pressed);
    this.unsubscribe();
    this.screenSwitches.destroy();
    this.layout.root.remove();
    this.layout.switches.remove();
  }
}

export function renderGrid({ model, el }) {
  const grid = new Grid(model, el);
  grid.start();
  return () => grid.destroy();
}
