// The page to take away: what is packed in it is read back to the last figure, and only what it holds can be chosen.

import assert from "node:assert/strict";
import { test } from "node:test";
import { gzipSync } from "node:zlib";

import { loader } from "./loader.js";
import { happen, made, newPage } from "./page.js";

const use = loader("../share/takeaway/");
const { mountBar } = await use("bar.js");
const { createModel } = await use("model.js");
const { openPlain, openRuns } = await use("unpack.js");

const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#$%:()*+-;,=.?@^_`{|}~";

/** Four bytes as five letters, as Python's b85encode does, with other letters for those that mean something in HTML. */
function base85(bytes) {
  const padded = Buffer.concat([bytes, Buffer.alloc((4 - (bytes.length % 4)) % 4)]);
  let text = "";
  for (let at = 0; at < padded.length; at += 4) {
    let number = padded.readUInt32BE(at);
    const five = [];
    for (let k = 0; k < 5; k += 1) {
      five.unshift(LETTERS[number % 85]);
      number = Math.floor(number / 85);
    }
    text += five.join("");
  }
  return text.slice(0, Math.ceil((bytes.length * 5) / 4));
}

/** Pack as the program does: plain data, then low bytes and high bytes of folded changes. */
function packed(plain, folded = []) {
  const text = Buffer.from(JSON.stringify(plain));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(text.length);
  return base85(gzipSync(Buffer.concat([length, text, Buffer.from(folded.map((code) => code % 256)), Buffer.from(folded.map((code) => code >> 8))])));
}

test("runs come out of the file with their numbers, tables and sentences", async () => {
  const even = [4, 1, 10, 0.5]; // codes 2, 3, 1, and on downwards past nought: 65535
  const rows = [4, 2, 0, 1e-3]; // two places by two times: codes 0, 1 and 2, 1
  const state = (lesson) => ({ header: {}, lesson: { sentence: { $: lesson } }, scales: { x: even, same: "x", y: rows }, charts: [{ csv: "a,b", columns: [[2, 1, 0, 1 / 3], [2, 1, 300, 0]] }], certainty: [{ wide: 0.05, sentences: [], ranges: [] }, { wide: 0.05, sentences: [{ $: lesson }], ranges: [[2, 1, 0, 0.25], [2, 1, 1, 0]] }] });
  const folded = [4, 2, 3, 3, 0, 2, 4, 0, 2, 600, 0, 0, 2, 4, 0, 0];
  const [{ rest, on }] = await openRuns(packed({ lines: ["one", "two", "three"], runs: [{ rest: state([0]), on: state([2, -1]) }] }, [...folded.map(() => 0), ...folded]));
  const told = on();
  const array = (name) => Array.from({ length: told.header.index[name].length }, (_, k) => told.array_bytes.getFloat32(4 * (told.header.index[name].offset + k), true));
  assert.deepEqual(array("x"), [11, 11.5, 10.5, 32777.5]);
  assert.deepEqual(array("same"), array("x"));
  assert.deepEqual(array("y").map((value) => Number(value.toPrecision(4))), [0, 0.001, 0.002, 0.001]);
  assert.equal(told.charts[0].csv, "a,b\n0.3333,300\n100.3,300\n");
  assert.equal(told.lesson.sentence, "three\ntwo");
  const [sure, unsure] = told.certainty.map((side) => ({ ...side, low: [...side.low], high: [...side.high] }));
  assert.deepEqual(sure, { wide: 0.05, sentences: [], low: [], high: [] });
  assert.deepEqual(unsure, { wide: 0.05, sentences: ["three\ntwo"], low: [0.25, 0.75], high: [1, 1] });
  assert.equal(rest().lesson.sentence, "one");
  assert.equal(rest().array_bytes.getFloat32(0, true), 10, "each state begins where the one before ends");
  assert.deepEqual(await openPlain(packed({ lines: ["one", "two"], say: [{ $: [1] }, null, 3] })), { lines: ["one", "two"], say: ["two", null, 3] });
});

test("what is not in the file together cannot be chosen together", () => {
  const page = made(newPage(), "main");
  const cell = { label: "NaCl", menus: [["Strength", ["0.1", "0.5"]], ["Electrodes", ["graphite", "copper"]], ["Vessel", ["beaker"]]], variants: [[0, 0, 0], [0, 1, 0], [1, 0, 0]], solution: "NaCl", settings: ["0.1", "0.1 and copper", "0.5"], fixed: "6 V" };
  const varied = [];
  const bar = mountBar(page, [cell, { ...cell, label: "KI", menus: [["Time", ["2", "5"]]], variants: [[0], [1]], settings: ["short", "long"] }], "In this file", { onCell() {}, onVariant: (variant) => varied.push(variant), onSwitch() {} });
  const [strength, electrodes, vessel] = (bar.show(0, 0, false, new Set([1])), page.querySelectorAll("select"));
  const grey = () => [strength, electrodes].map((menu) => menu.options.map((option) => option.disabled));
  assert.deepEqual([grey(), vessel.disabled, strength.disabled], [[[false, false], [false, false]], true, false]);
  strength.value = "1";
  happen(strength, "change");
  assert.deepEqual([varied, grey()], [[2], [[false, false], [false, true]]]);
  assert.deepEqual(page.querySelectorAll(".fp-choice").map((each) => [each.textContent, each.getAttribute("aria-pressed")]), [["NaCl", "true"], ["✓ KI", "false"]]);
  assert.match(page.textContent, /Set-up: NaCl, 0.1; 6 V.*Switch on$/);
  bar.show(1, 1, true, new Set([1]));
  assert.deepEqual(page.querySelectorAll("select").map((menu) => menu.value), ["1"]);
  assert.deepEqual(page.querySelectorAll(".fp-chosen").map((each) => each.textContent), ["✓ KI"]);
  assert.match(page.textContent, /Set-up: NaCl, long; 6 V.*Switch off$/);
});

test("a widget in the file hears what changes, as it would from its program", () => {
  const model = createModel({ shown: 0, said: "" });
  const heard = [];
  const follower = () => heard.push(model.get("shown"), model.get("said"));
  model.on("change:shown", follower);
  model.change({ shown: 1, said: "all of it" }, "shown");
  assert.deepEqual(heard, [1, "all of it"]);
  model.off("change:shown", follower);
  model.set("shown", 2);
  assert.equal(heard.length, 2);
  model.on("msg:custom", ({ more }) => heard.push(more));
  model.respond(({ like }) => (like ? { more: `${like} again` } : null));
  model.send({ like: "ions" });
  model.send({});
  assert.equal(heard[2], "ions again");
  assert.equal(heard.length, 3);
});

test("a list that is longer than a link's is a menu", () => {
  const page = made(newPage(), "main");
  const cell = { menus: [["Lamp", ["none"]]], variants: [[0]], solution: "x", settings: ["only"], fixed: "6 V" };
  const chosen = [];
  const cells = Array.from({ length: 25 }, (_, k) => ({ ...cell, label: `cell ${k}` }));
  const bar = mountBar(page, cells, "On this site", { onCell: (at) => chosen.push(at), onVariant() {}, onSwitch() {} });
  bar.show(3, 0, false, new Set());
  const [solution, lamp] = page.querySelectorAll("select");
  assert.equal(solution.value, "3");
  assert.notEqual(solution.id, lamp.id);
  solution.value = "7";
  happen(solution, "change");
  assert.deepEqual(chosen, [7]);
});
