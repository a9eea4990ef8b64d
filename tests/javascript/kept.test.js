// What a page keeps and gives back: its controls after a reload, what a class said, tables that come and go.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { keeping, made, newPage } from "./page.js";

const use = loader("bench/");
const { keepInTab, keptInTab } = await use("../kit/tab_memory.js");
const { mountPageState } = await loader("web/address/")("page_state.js");
const { openStore, within } = await use("../kit/store.js");
const { csvCell, rowsOf } = await use("../kit/csv.js");

let body;
let came; // how the page has come
let leaving; // what is done when the page goes
const leavePage = () => leaving.forEach((act) => act());
beforeEach(() => {
  body = newPage();
  came = "navigate";
  leaving = new Set();
  globalThis.addEventListener = (_, act) => leaving.add(act);
  globalThis.removeEventListener = (_, act) => leaving.delete(act);
  globalThis.sessionStorage = keeping();
  globalThis.localStorage = keeping();
  globalThis.location = { pathname: "/demonstrate", search: "" };
  performance.getEntriesByType = () => [{ type: came }];
});

/** A page's own model: what it was sent, and how its program answers. */
function modelOf(traits) {
  const sent = [];
  let hear = () => {};
  return {
    sent,
    get: (name) => traits[name],
    send: (message) => sent.push(message),
    on: (_, listener) => (hear = listener),
    off: () => (hear = () => {}),
    answer: (message) => hear(message),
  };
}

/** A page with a control of each kind that is typed into, and one that is not. @param {Record<string, string>} texts by key */
function fields(texts) {
  for (const [key, value] of Object.entries(texts)) {
    const control = made(body, "div", { className: `widget-text fp-key-${key}` });
    made(control, "input", { type: "text", value }, { type: "text" });
  }
  made(made(body, "div", { className: "widget-checkbox fp-key-lamp" }), "input", { type: "checkbox", value: "on" }, { type: "checkbox" });
  made(made(body, "div", { className: "widget-text" }), "input", { type: "text", value: "no key" }, { type: "text" });
}

test("after a reload the program gets its page's state back, unread, with what stood in each field by its key", () => {
  fields({ "first-minutes": "12", "logger-readings": "0 0.25" });
  const before = modelOf({ page_state: '{"on": true}' });
  const first = mountPageState(before);
  first.restore();
  assert.deepEqual(before.sent, [], "on a new visit there is nothing to hand back");
  leavePage();
  first.destroy();
  came = "reload";
  body.replaceChildren();
  fields({ "first-minutes": "5", "logger-readings": "" });
  const after = modelOf({ page_state: '{"on": false}' });
  const state = mountPageState(after);
  assert.deepEqual(after.sent, [], "the link is followed first");
  state.restore();
  const kept = { page_state: '{"on": true}', field_texts: { "first-minutes": "12", "logger-readings": "0 0.25" } };
  assert.deepEqual(after.sent, [kept]);
  leavePage();
  assert.deepEqual(keptInTab("state.1"), kept, "left before the program has answered, the page keeps what it had");
  after.answer({ ready: true });
  leavePage();
  assert.deepEqual(keptInTab("state.1"), { page_state: '{"on": false}', field_texts: { "first-minutes": "5", "logger-readings": "" } });
  state.destroy();
});

test("what an earlier version kept of a page goes to the program as well", () => {
  came = "reload";
  keepInTab("state.1", { take_up: '{"on": true}', typed: { "first-minutes": "12" } });
  const model = modelOf({ page_state: "" });
  const state = mountPageState(model);
  state.restore();
  state.destroy();
  keepInTab("state.1", null);
  assert.deepEqual(model.sent, [{ page_state: '{"on": true}', field_texts: { "first-minutes": "12" } }]);
});

test("a long text is cut, and too large a state is not kept", () => {
  fields({ notes: "x".repeat(30_000) });
  came = "reload";
  for (const [page_state, expected] of [["{}", 20_000], ["y".repeat(1_000_001), undefined]]) {
    const state = mountPageState(modelOf({ page_state }));
    state.restore();
    leavePage();
    state.destroy();
    assert.equal(keptInTab("state.1")?.field_texts.notes.length, expected);
    keepInTab("state.1", null);
  }
});

test("a new visit takes nothing up; a page that lost its program does, without a reload", () => {
  keepInTab("typed", "zinc");
  assert.equal(keptInTab("typed"), null);
  came = "reload";
  assert.equal(keptInTab("typed"), "zinc");
  came = "navigate";
  made(body, "div", { className: "fp-lost" });
  keepInTab("typed", "copper");
  assert.equal(keptInTab("typed"), "copper");
  location.pathname = "/explore";
  assert.equal(keptInTab("typed"), null, "each page has its own");
  sessionStorage.setItem("fizzplate.typed:/explore", "{broken");
  assert.equal(keptInTab("typed"), null);
});

test("what a class said outlasts a reload, is cleared by one press and brought back by another", () => {
  openStore().change("NaCl", { seen: "bubbles" });
  openStore().change("NaCl", { revealsProducts: true });
  const store = openStore();
  assert.deepEqual(store.of("NaCl"), { seen: "bubbles", revealsProducts: true });
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
  store.change("NaCl", { revealsProducts: true });
  assert.deepEqual(store.of("NaCl"), { seen: "bubbles", revealsProducts: true });
});

test("a table copied from a spreadsheet, or saved as text, comes in cell by cell", () => {
  assert.deepEqual(rowsOf("group\tcharge\r\n1\t1,5\r\n\r\n2\t\r\n"), [["group", "charge"], ["1", "1,5"], ["2", ""]]);
  assert.deepEqual(rowsOf("\ufeffgroup;mass\n1;0,12"), [["group", "mass"], ["1", "0,12"]], "a decimal comma divides nothing");
  assert.deepEqual(rowsOf("a,b\r1.5,2"), [["a", "b"], ["1.5", "2"]]);
  assert.deepEqual(rowsOf('a,"left, then ""right"""\n"1;2",3'), [["a", 'left, then "right"'], ["1;2", "3"]]);
  assert.deepEqual(rowsOf('5" rod,2'), [['5" rod', "2"]], "an inch is no quotation");
});

test("no answer of a class becomes a formula in a spreadsheet, and all of it comes back", () => {
  for (const text of ["=1+1", "+5", "-5", "@SUM(A1)"]) {
    assert.equal(csvCell(text), `'${text}`);
    assert.deepEqual(rowsOf(`${csvCell(text)};x`), [[text, "x"]]);
  }
  assert.deepEqual(["\tx", "\rx"].map((text) => csvCell(text)[0]), ["'", "'"]);
  assert.equal(csvCell('it said "pop", twice'), '"it said ""pop"", twice"');
  assert.equal(csvCell("two\nlines"), '"two\nlines"');
  assert.equal(csvCell("5 - 3"), "5 - 3");
});
