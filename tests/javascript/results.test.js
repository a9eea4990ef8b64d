// The results table: two lines for a solution, cells that are pressed, a new class, and lessons kept by name.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { keeping, made, newPage } from "./page.js";
import { DEFAULT_SLOTS, SIGN_SLOTS } from "./record.js";

const use = loader("bench/lesson/");
const { mountResultsTable } = await use("results_table.js");
const { openStore } = await use("../../kit/store.js");

let body;
beforeEach(() => {
  body = newPage();
  globalThis.localStorage = keeping();
});

const at = (product) => ({ product, equation: `${product} equation`, seen: `${product} is seen`, test: `a test for ${product}`, task: null });
const entry = (label) => ({
  label,
  row: { ions: "Na⁺, Cl⁻", left: "alkaline", pH: "7 to 12", cathode: at("hydrogen"), anode: at("chlorine"), accepts: { "cathode-product": ["hydrogen", "hydrogen"] } },
  "cathode:predicted": "sodium",
});

function table(slots = DEFAULT_SLOTS) {
  const store = openStore();
  store.change("NaCl", entry("NaCl"));
  store.change("HCl", entry("HCl"));
  const node = made(body, "div");
  const emptied = [];
  const mounted = mountResultsTable(node, store, {}, (isUndo) => emptied.push(isUndo ? "back" : "emptied"));
  mounted.nameElectrodes(slots);
  mounted.opened();
  const cell = (title) => node.querySelectorAll("td").find((each) => each.querySelector(`[aria-label="${title}"]`));
  const button = (name) => node.querySelectorAll("button").find((each) => (each.getAttribute("aria-label") ?? each.textContent) === name);
  return { mounted, store, node, cell, button, emptied: () => emptied };
}

test("a solution has a line for each electrode, named as the board does", () => {
  const { node } = table(SIGN_SLOTS);
  const [first] = node.querySelectorAll("tbody");
  const heads = first.querySelectorAll("th").map(({ textContent }) => textContent);
  assert.deepEqual(heads, ["NaCl", "Negative electrode", "Positive electrode"]);
  assert.equal(first.querySelectorAll("tr").length, 2);
});

test("a press on a cell reveals what is expected there, and again hides it", () => {
  const { cell, node } = table();
  const title = "Product, cathode, NaCl";
  assert.doesNotMatch(node.textContent, /hydrogen/);
  cell(title).click();
  assert.equal(cell(title).querySelector(".fp-expected").textContent, "hydrogen");
  assert.doesNotMatch(cell("Product, cathode, HCl").textContent, /hydrogen/, "no other cell tells");
  cell(title).click();
  assert.equal(cell(title).querySelector(".fp-expected"), null);
});

test("what is written stays when its cell is pressed, and is compared", () => {
  const { cell, button, store } = table();
  const title = "Product, cathode, NaCl";
  cell(title).querySelector("textarea").value = "Hydrogen";
  button(`Reveal: ${title}`).click();
  assert.equal(store.of("NaCl")["cell:cathode-product"], "Hydrogen");
  assert.equal(cell(title).querySelector(".fp-verdict").textContent, "✓");
});

test("a prediction is judged when its cell is pressed", () => {
  const { cell } = table();
  cell("Predicted, cathode, NaCl").click();
  assert.equal(cell("Predicted, cathode, NaCl").querySelector(".fp-verdict").textContent, "the rule says hydrogen");
});

test("one solution's lines can be shown alone, and all again", () => {
  const { mounted, node, button } = table();
  const labels = () => node.querySelectorAll("tbody").map((each) => each.querySelector("th").textContent);
  mounted.only("HCl");
  assert.deepEqual(labels(), ["HCl"]);
  button("All solutions").click();
  assert.deepEqual(labels(), ["NaCl", "HCl"]);
  mounted.lock(true);
  assert.deepEqual(labels(), [], "while the class is asked there is no table");
});

test("a lesson is kept by name, opened on another day, and forgotten", () => {
  const { node, button, store, emptied } = table();
  Object.assign(node.querySelector(".fp-kept-lessons input"), { value: " " });
  button("Keep lesson").click();
  assert.equal(node.querySelector("[aria-label='Kept lesson']"), null, "a lesson needs a name");
  node.querySelector(".fp-kept-lessons input").value = " Class 9 ";
  button("Keep lesson").click();
  assert.match(node.textContent, /Kept in this browser: Class 9\./);
  button("New class").click();
  assert.deepEqual(emptied(), ["emptied"]);
  button("Undo: New class").click();
  assert.deepEqual(emptied(), ["emptied", "back"]);
  button("New class").click();
  assert.deepEqual(store.keys(), []);
  const menu = node.querySelector("[aria-label='Kept lesson']");
  assert.deepEqual(menu.options.map(({ value }) => value), ["Class 9"]);
  menu.value = "Class 9";
  button("Open lesson").click();
  assert.deepEqual(store.keys(), ["NaCl", "HCl"]);
  assert.equal(store.of("NaCl")["cathode:predicted"], "sodium");
  node.querySelector("[aria-label='Kept lesson']").value = "Class 9";
  button("Forget lesson").click();
  assert.equal(node.querySelector("[aria-label='Kept lesson']"), null);
});
