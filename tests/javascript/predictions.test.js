// What a class is asked before and after the switch is closed, what it is told then, and what it concludes.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { SIGN_SLOTS, DEFAULT_SLOTS } from "./record.js";
import { happen, keeping, made, newPage } from "./page.js";

const use = loader("bench/");
const { mountPredictions } = await use("lesson/predictions.js");
const { say } = await use("../kit/say.js");
const { openStore } = await use("../kit/store.js");
const { renderInquiry } = await loader("inquiry/")("inquiry.js");

let body;
beforeEach(() => {
  body = newPage();
  globalThis.localStorage = keeping();
});

const POINTS = [{ name: "bubbles", words: ["bubbl"] }, { name: "colourless", words: ["colourless"] }];
const asked = (title, role, expected) => ({ title, role, expected, options: ["hydrogen", "zinc", "chlorine"], phrases: ["colourless bubbles"], points: POINTS, observation: "colourless bubbles" });
const CLASSROOM = {
  ask: [asked("Cathode", "cathode", "hydrogen"), asked("Anode", "anode", "chlorine")],
  ions: [{ label: "Zn²⁺", goes: "cathode" }, { label: "H⁺", goes: "cathode" }, { label: "Cl⁻", goes: "anode" }],
  traps: [],
};

/** Both side cards of a page that asks; which electrodes were told of, in order. */
function page(on, enabled = true, slots = DEFAULT_SLOTS) {
  body.replaceChildren();
  const sideCards = [0, 1].map(() => {
    const node = made(body, "article");
    made(node, "header");
    made(node, "p", { className: "fp-product" });
    return node;
  });
  const told = [];
  const ask = mountPredictions(sideCards, { key: "ZnCl2", on, generalCaution: "Chlorine is toxic.", classroom: CLASSROOM }, openStore(), slots, { enabled, reveal: (index) => told.push(index) });
  const button = (text, index = 0) => sideCards[index].querySelectorAll("button").find(({ textContent }) => textContent === text);
  const field = (text, index = 0) => sideCards[index].querySelectorAll("label").find(({ textContent }) => textContent === text).querySelector("input");
  const set = (node, changes, type = "change") => happen(Object.assign(node, changes), type);
  return { ask, sideCards, told, button, field, set, compared: (index = 0) => sideCards[index].querySelector(".fp-feedback")?.textContent };
}

test("hands are counted for each product, and what most of them say is the class's prediction", () => {
  const { button, field, set } = page(false);
  button("Count hands").click();
  assert.equal(document.activeElement, button("One choice"), "the keyboard stays where it was");
  for (const [product, hands] of [["hydrogen", "7"], ["zinc", "12.4"], ["chlorine", "-3"]]) set(field(product), { value: hands });
  const entry = () => openStore().of("ZnCl2");
  assert.deepEqual([entry()["cathode:hands"], entry()["cathode:predicted"]], [{ hydrogen: 7, zinc: 12, chlorine: 0 }, "zinc"]);
  set(field("hydrogen"), { value: "1000" });
  assert.deepEqual([entry()["cathode:hands"].hydrogen, entry()["cathode:predicted"]], [99, "hydrogen"]);
  for (const product of ["hydrogen", "zinc"]) set(field(product), { value: "0" });
  assert.equal(entry()["cathode:predicted"], "", "nobody has said anything");
  set(field("zinc"), { value: "3" });
  assert.deepEqual(["hydrogen", "zinc"].map((product) => page(false).field(product).value), ["0", "3"], "after a reload as before");
});

test("nothing is told of an electrode before the class has said what it sees there, or asks to be shown", () => {
  const before = page(false);
  before.set(before.field("zinc"), { checked: true });
  before.set(before.field("Zn²⁺"), { checked: true });
  assert.deepEqual(before.told, []);
  const { sideCards, told, button, set, compared } = page(true);
  assert.deepEqual([told, compared(), sideCards[0].querySelector(".fp-caution").textContent], [[], undefined, "Chlorine is toxic."]);
  assert.equal(button("Compare"), undefined, "nothing is written yet that could be compared");
  set(sideCards[0].querySelector("textarea"), { value: "Bubbles" }, "input");
  assert.equal(button("Show"), undefined);
  button("Compare").click();
  assert.deepEqual(told, [0]);
  for (const part of ["Predicted: zinc (the rule says hydrogen).", "You said that these ions travel here: Zn²⁺. They are Zn²⁺, H⁺.", "You wrote: “Bubbles”. You mentioned: bubbles. You left out: colourless.", "Expected: colourless bubbles."]) {
    assert.ok(compared().includes(part), compared());
  }
  assert.equal(document.activeElement, sideCards[0].querySelector(".fp-feedback"), "one reads on there");
  button("Show", 1).click();
  assert.deepEqual([told, compared(1), document.activeElement], [[0, 1], undefined, sideCards[1].querySelector(".fp-product")]);
  const again = page(true);
  assert.deepEqual([again.told, again.button("Compare")], [[0, 1], undefined], "after a reload it is not asked again");
});

test("all ions named and no other are right, and the sentence says so", () => {
  const before = page(false);
  const name = (ion, checked = true) => before.set(before.field(ion), { checked });
  const said = () => {
    openStore().change("ZnCl2", { "cathode:shown": true });
    return page(true).compared();
  };
  for (const ion of ["H⁺", "Cl⁻", "Zn²⁺"]) name(ion);
  assert.equal(said(), "You said that these ions travel here: H⁺, Cl⁻, Zn²⁺. They are Zn²⁺, H⁺.");
  name("Cl⁻", false);
  assert.equal(said(), "You said that these ions travel here: H⁺, Zn²⁺. Those are all of them.");
});

test("both electrodes can be shown at once, each is told once, and one reads on at the first", () => {
  const { ask, sideCards, told } = page(true);
  ask.showAll();
  ask.showAll();
  assert.deepEqual(told.sort(), [0, 1]);
  assert.equal(document.activeElement, sideCards[0].querySelector(".fp-product"));
});

test("who is not to be asked is told at once", () => {
  for (const on of [false, true]) {
    const { sideCards, told } = page(on, false);
    assert.deepEqual([told, sideCards[0].querySelectorAll(".fp-task").length], [[0, 1], 0]);
  }
});

test("a conclusion as long as its field allows is kept whole, and one of one's own comes before the model answer", () => {
  const inquiry = () => {
    const [sent, el] = [[], made(body, "main")];
    const known = { items: [{ name: "Time", question: "?", vary: "", lookFor: "" }], answers: {} };
    renderInquiry({ model: { get: (name) => known[name], set: (name) => sent.push(name), save_changes() {}, on() {} }, el });
    return { sent, el, field: el.querySelector("textarea"), answer: () => el.querySelectorAll("button").find(({ textContent }) => textContent === "Show a model answer").click() };
  };
  const first = inquiry();
  first.answer();
  assert.ok(!first.sent.length && document.activeElement === first.field);
  assert.match(first.el.textContent, /Write a conclusion of your own first\./);
  const long = "x".repeat(first.field.maxLength);
  happen(Object.assign(first.field, { value: long }), "input");
  assert.match(first.el.textContent, /No more than \d+ characters are kept\./);
  first.answer();
  assert.deepEqual(first.sent, ["answer_request"]);
  const later = inquiry();
  assert.equal(later.field.value, long);
  assert.match(later.el.textContent, /1 of 1 investigations concluded/);
});

test("a sentence is a template that the board's names fill, as in Python", () => {
  assert.equal(say("{The_cathode} is negative.", SIGN_SLOTS), "The negative electrode is negative.");
  assert.equal(say("{Metal} forms at {the_anode}.", { ...DEFAULT_SLOTS, metal: "copper(II)" }), "Copper(II) forms at the anode.");
  assert.throws(() => say("At {the_kathode}.", DEFAULT_SLOTS), /nothing fills \{the_kathode\} in “At \{the_kathode\}\.”/);
  assert.throws(() => say("{toString}", DEFAULT_SLOTS), /nothing fills/);
});

test("a board that names electrodes by their signs is asked by those names", () => {
  const { sideCards } = page(false, true, SIGN_SLOTS);
  assert.equal(sideCards[0].querySelector("legend").textContent, "What forms at the negative electrode?");
  const seen = page(true, true, SIGN_SLOTS).sideCards[1];
  assert.match(seen.textContent, /What do you see at the positive electrode\?/);
});
