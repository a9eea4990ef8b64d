// What a page keeps and gives back: its controls after a reload, what a class said, tables that come and go.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { keeping, made, newPage } from "./page.js";

const use = loader("bench/");
const { carried, carry, keepControls, takeUpControls } = await use("../kit/carried.js");
const { openStore, within } = await use("../kit/store.js");
const { csvCell } = await use("lesson/table.js");
const { pastedRows } = await loader("grid/")("grid.js");

let body;
let came; // how the page has come
beforeEach(() => {
  body = newPage();
  came = "navigate";
  globalThis.sessionStorage = keeping();
  globalThis.localStorage = keeping();
  globalThis.location = { pathname: "/demonstrate", search: "" };
  performance.getEntriesByType = () => [{ type: came }];
});

/** A page with every kind of control, as it opens. */
function controls() {
  const page = made(body, "main");
  const each = {
    size: made(page, "button", { textContent: "Projector size" }, { role: "switch", "aria-checked": "false" }),
    dim: made(page, "button", { textContent: "Dim room" }, { role: "switch", "aria-checked": "false" }),
    swap: made(page, "button", { textContent: "Swap wires", className: "widget-toggle-button" }),
    charts: made(page, "button", { textContent: "Charts" }, { role: "tab", "aria-selected": "true" }),
    table: made(page, "button", { textContent: "Table" }, { role: "tab", "aria-selected": "false" }),
    minutes: made(page, "input", { type: "text", value: "5" }, { "aria-label": "Minutes" }),
    lamp: made(page, "input", { type: "checkbox", checked: false }, { "aria-label": "Lamp" }),
    supply: made(page, "button", { textContent: "Switch on", className: "fp-switch" }),
  };
  const pressed = [];
  for (const [name, node] of Object.entries(each)) node.addEventListener("click", () => pressed.push(name));
  return { page, pressed, ...each };
}

test("after a reload each control is as it was left, and what needs no press gets none", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const before = controls();
  before.size.setAttribute("aria-checked", "true");
  before.swap.className += " mod-active";
  before.charts.setAttribute("aria-selected", "false");
  before.table.setAttribute("aria-selected", "true");
  before.minutes.value = "12";
  before.lamp.checked = true;
  before.supply.textContent = "Switch off";
  keepControls(before.page);
  body.replaceChildren();
  came = "reload";
  const after = controls();
  after.supply.disabled = true; // its program is not there yet
  let done = false;
  takeUpControls(after.page, () => (done = true));
  mock.timers.tick(50);
  assert.deepEqual(after.pressed.sort(), ["lamp", "size", "swap", "table"]);
  assert.equal(after.minutes.value, "12");
  assert.ok(!done, "the supply is awaited");
  mock.timers.tick(20_000);
  assert.ok(done, "but not for ever");
  mock.timers.reset();
});

test("a cell whose set-up had to be put back is not switched on before its run is the one that was shown", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const twoCells = (minutes, supply) => {
    const page = made(body, "main");
    return [0, 1].map((k) => {
      const label = made(page, "label", { textContent: "Minutes" });
      const field = made(made(page, "div", { className: "fp-setup" }), "input", { type: "text", value: minutes[k], labels: [label] });
      return { page, field, supply: made(page, "button", { className: "fp-switch", textContent: supply }) };
    });
  };
  keepControls(twoCells(["12", "5"], "Switch off")[0].page);
  body.replaceChildren();
  came = "reload";
  const cells = twoCells(["5", "5"], "Switch on");
  const pressed = [];
  cells.forEach(({ supply }, k) => supply.addEventListener("click", () => pressed.push(k)));
  takeUpControls(cells[0].page, () => {});
  mock.timers.tick(50);
  assert.deepEqual([cells.map(({ field }) => field.value), pressed], [["12", "5"], [1]]);
  mock.timers.reset();
});

test("a cell whose set-up was only unfolded is switched on again, for the same run", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const cell = (folded, supply) => {
    const page = made(body, "main");
    const summary = made(made(page, "div", { className: "fp-setup" }), "button", { className: `widget-toggle-button ${folded}`, textContent: "Set-up: copper sulfate" });
    return { page, summary, supply: made(page, "button", { className: "fp-switch", textContent: supply }) };
  };
  keepControls(cell("mod-active", "Switch off").page);
  body.replaceChildren();
  came = "reload";
  const { page, ...parts } = cell("", "Switch on");
  const pressed = [];
  for (const [name, node] of Object.entries(parts)) node.addEventListener("click", () => pressed.push(name));
  takeUpControls(page, () => {});
  mock.timers.tick(50);
  assert.deepEqual(pressed, ["summary", "supply"]);
  mock.timers.reset();
});

test("a new visit takes nothing up; a page that lost its program does, without a reload", () => {
  carry("typed", "zinc");
  assert.equal(carried("typed"), null);
  came = "reload";
  assert.equal(carried("typed"), "zinc");
  came = "navigate";
  made(body, "div", { className: "fp-lost" });
  carry("typed", "copper");
  assert.equal(carried("typed"), "copper");
  location.pathname = "/explore";
  assert.equal(carried("typed"), null, "each page has its own");
  sessionStorage.setItem("fizzplate.typed:/explore", "{broken");
  assert.equal(carried("typed"), null);
});

test("what a class said outlasts a reload, is cleared by one press and brought back by another", () => {
  openStore().change("NaCl", { seen: "bubbles" });
  openStore().change("NaCl", { told: true });
  const store = openStore();
  assert.deepEqual(store.of("NaCl"), { seen: "bubbles", told: true });
  assert.deepEqual(store.of("constructor"), {});
  const was = store.clear();
  assert.deepEqual(store.keys(), []);
  store.change("KI", { seen: "brown" });
  store.restore(was);
  assert.deepEqual(store.keys().sort(), ["KI", "NaCl"]);
  assert.equal(within("x".repeat(600)).length, 500);
});

test("where a browser keeps nothing, or something else, a lesson still goes on", () => {
  for (const text of ["[1]", "7", "null", "{broken"]) {
    localStorage.setItem("fizzplate.class.1", text);
    assert.deepEqual(openStore().keys(), [], text);
  }
  localStorage.setItem = () => {
    throw new Error("full");
  };
  const store = openStore();
  store.change("NaCl", { seen: "bubbles" });
  store.change("NaCl", { told: true });
  assert.deepEqual(store.of("NaCl"), { seen: "bubbles", told: true });
});

test("a table copied from a spreadsheet, or saved as text, comes in cell by cell", () => {
  assert.deepEqual(pastedRows("group\tcharge\r\n1\t1,5\r\n\r\n2\t\r\n"), [["group", "charge"], ["1", "1,5"], ["2", ""]]);
  assert.deepEqual(pastedRows("\ufeffgroup;mass\n1;0,12"), [["group", "mass"], ["1", "0,12"]], "a decimal comma divides nothing");
  assert.deepEqual(pastedRows("a,b\r1.5,2"), [["a", "b"], ["1.5", "2"]]);
  assert.deepEqual(pastedRows('a,"left, then ""right"""\n"1;2",3'), [["a", 'left, then "right"'], ["1;2", "3"]]);
  assert.deepEqual(pastedRows('5" rod,2'), [['5" rod', "2"]], "an inch is no quotation");
});

test("no answer of a class becomes a formula in a spreadsheet, and all of it comes back", () => {
  for (const text of ["=1+1", "+5", "-5", "@SUM(A1)"]) {
    assert.equal(csvCell(text), `'${text}`);
    assert.deepEqual(pastedRows(`${csvCell(text)};x`), [[text, "x"]]);
  }
  assert.deepEqual(["\tx", "\rx"].map((text) => csvCell(text)[0]), ["'", "'"]);
  assert.equal(csvCell('it said "pop", twice'), '"it said ""pop"", twice"');
  assert.equal(csvCell("two\nlines"), '"two\nlines"');
  assert.equal(csvCell("5 - 3"), "5 - 3");
});
