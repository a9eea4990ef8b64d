// What stands round the picture and over it: the ruler for time, the two lenses, the switches of the room.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { changed, happen, made, newPage } from "./page.js";
import { FROM_WATER, madeRecord } from "./record.js";

const use = loader("bench/");
const { mountCloseUp } = await use("closeup.js");
const { mountLifted } = await use("lifted.js");
const { mountScreenSwitches } = await use("../kit/screen.js");
const { mountRuler } = await use("ruler.js");
const { createClock } = await loader("scene/motion/")("clock.js");

let body;
let heard; // by the window
beforeEach(() => {
  body = newPage();
  heard = [];
  Object.assign(globalThis, {
    innerWidth: 1366,
    requestAnimationFrame: () => 1,
    cancelAnimationFrame() {},
    addEventListener: (type, act) => heard.push([type, act]),
    matchMedia: () => ({ matches: true }), // whoever reads likes it dark
    getComputedStyle: () => ({ getPropertyValue: () => "brown" }),
  });
});

/** A ruler of a run of two minutes, with both lenses, and what each lens was told. */
function ruled(on = true) {
  const clock = createClock({ durationS: 120, timeLapse: 5 });
  const node = made(body, "div");
  const told = [];
  const lens = (name) => ({ possible: true, toggle: (open) => told.push(`${name} ${open ? "opens" : "closes"}`) });
  const ruler = mountRuler(node, clock, 120, { isOn: on, scale: () => "drawn larger", indicators: ["litmus"], settings: { indicator: "", particles: "few" }, onSetting: (...what) => told.push(what.join(" ")), lifted: lens("lifted") });
  clock.subscribe((timeS) => ruler.update(timeS));
  ruler.addCloseUp(lens("close-up"));
  ruler.update(0);
  const part = (name) => node.querySelector(`.fp-${name}`);
  return { clock, node, told, part, press: (name) => part(name).click() };
}

test("the scales are one line to unfold where the window is narrow", () => {
  assert.equal(ruled().node.querySelector(".fp-scales").open, true);
  globalThis.innerWidth = 360;
  assert.equal(ruled().node.querySelector(".fp-scales").open, false);
});

test("opened, a lens stops the run and closes the other; played on, the run is not hidden by one", () => {
  const { clock, told, part, press } = ruled();
  const open = () => ["close-up-button", "lift"].map((name) => part(name).getAttribute("aria-expanded") === "true");
  press("play");
  assert.ok(clock.playing && part("play").textContent === "Pause");
  press("close-up-button");
  assert.deepEqual([clock.playing, part("play").textContent, open()], [false, "Play", [true, false]]);
  press("lift");
  assert.deepEqual(open(), [false, true]);
  press("play");
  assert.deepEqual([clock.playing, open()], [true, [false, false]]);
  press("lift");
  press("lift");
  assert.deepEqual([clock.playing, open()], [false, [false, false]], "closed again, it leaves the run where it is");
  assert.deepEqual(told.slice(0, 4).sort(), ["close-up closes", "close-up opens", "lifted closes", "lifted opens"]);
});

test("Play goes on where the run was paused, and at its end begins anew", () => {
  const { clock, part, press } = ruled();
  clock.seek(60);
  press("play");
  assert.equal(clock.timeS, 60);
  press("play");
  clock.seek(120);
  assert.equal(part("clock").textContent, "2 min 0 s");
  press("play");
  assert.ok(clock.timeS === 0 && clock.playing);
  clock.seek(90);
  press("restart");
  assert.ok(clock.timeS === 0 && clock.playing);
});

test("the time is read and heard in words as it is dragged, and the ruler moves on while the run is played", () => {
  const { clock, part } = ruled();
  const scrubber = part("scrubber");
  scrubber.focus();
  scrubber.value = "65.04";
  happen(scrubber, "input");
  assert.deepEqual([clock.timeS, scrubber.value, scrubber.getAttribute("aria-valuetext")], [65.04, "65.04", "1 min 5 s"]);
  clock.play();
  clock.seek(70);
  assert.equal(scrubber.value, "70");
});

test("a cell that is switched off has no time to play, and says so", () => {
  const { node, part } = ruled(false);
  assert.ok(["play", "step", "restart", "scrubber", "lift"].every((name) => part(name).disabled));
  assert.equal(part("scale").textContent, "switched off");
  assert.ok(!node.querySelector(".fp-indicator select").disabled, "an indicator can be added before");
});

/** Both electrodes lifted out at a time, with layers of so many grams at the end. */
function liftedOut(layers, header = {}) {
  const record = madeRecord(0, Object.fromEntries(layers.map((grams, k) => [`${k}:layer_g`, [0, grams / 2, grams]])));
  Object.assign(record.header.electrodes[0], { products: [{ kind: "gas" }, { kind: "solid" }], ...header });
  const node = made(body, "section");
  const lens = mountLifted(node, record, { electrodes: [{ title: "Cathode", names: ["hydrogen", "copper"] }, { title: "Anode", names: [] }] });
  lens.update(120);
  lens.toggle(true);
  return { node, lens, said: () => node.querySelectorAll("figure").map((each) => each.querySelector("p").textContent) };
}

test("lifted out, each electrode says what it gained or lost, and names the metal only when that may be told", () => {
  const { node, lens, said } = liftedOut([0.2, -0.1]);
  assert.deepEqual(said(), ["200 mg of a solid has settled.", "It has lost 100 mg."]);
  lens.reveal();
  assert.equal(said()[0], "200 mg of copper has settled.");
  lens.update(60);
  assert.deepEqual(said(), ["100 mg of copper has settled.", "It has lost 50 mg."]);
  const dried = node.querySelector("input");
  dried.checked = false;
  happen(dried, "change");
  assert.ok(said().every((text) => text.endsWith(" While it is wet, the balance shows about 50 mg more.")));
  const nothing = liftedOut([1e-5, -1e-5]);
  assert.deepEqual(nothing.said(), ["Nothing has settled on it.", "Nothing has settled on it."]);
  assert.equal(nothing.node.querySelector(".fp-scale").textContent, "", "no layer, no scale");
  const loose = liftedOut([0.2, 0], { spongy: true });
  assert.match(loose.said()[0], /loose and dark: it falls off easily/);
  assert.deepEqual([loose, liftedOut([0.2, 0])].map((each) => each.node.querySelectorAll("[opacity]").length), [1, 0], "only what is dark is drawn dark");
});

test("lifted out, a layer is drawn in proportion to its mass, alike on both sides, and a loss makes the rod thinner", () => {
  const { node, lens } = liftedOut([0.2, -0.1]);
  const layer = () => node.querySelector("rect");
  const sides = () => [27 - Number(layer().x), Number(layer().x) + Number(layer().width) - 63];
  const [left, right] = sides();
  assert.ok(left > 0 && left === right);
  const wide = (lifted = node) => Number(/h-(-?[\d.]+) v-94/.exec(lifted.querySelectorAll("path")[1].d)[1]); // of the rod below the liquid's surface
  const worn = wide();
  assert.ok(worn < 36 && wide(liftedOut([0, -0.2]).node) > 10, "and something is left of it");
  lens.update(60);
  assert.ok(Math.abs(sides()[0] - left / 2) < 1e-4 && worn < wide() && wide() < 36);
});

test("in the close-up the anode is the cathode's mirror image, and an atom that is to dissolve stands at its face", () => {
  const record = madeRecord();
  const dissolving = { formula: "Cu2+", label: "Cu²⁺", kind: "ion", electrons: 2, tint: "--fp-ion-cu", consumed: { formula: "Cu", count: 1 }, released: [] };
  for (const electrode of record.header.electrodes) Object.assign(electrode, { material: "copper", role: "anode", products: [dissolving] });
  const node = made(body, "section");
  const words = { title: "", equation: "" };
  mountCloseUp(node, record, { on: true, electrodes: [words, words] });
  const next = node.querySelector("button");
  const drawn = () =>
    node.querySelectorAll("svg").map((svg) => {
      const face = svg.querySelector("rect");
      const number = (each, name) => Number(each.getAttribute(name));
      return {
        face: number(face, "x") || number(face, "width"),
        discs: svg.querySelectorAll("circle").map((each) => [number(each, "cx"), number(each, "cy"), number(each, "r")]),
        texts: svg.querySelectorAll("text").map((each) => [number(each, "x"), number(each, "y"), each.textContent]),
      };
    });
  for (let step = 0; step < 3; step += 1) {
    const [left, right] = drawn();
    const mirrored = ([x, ...more]) => [300 - x, ...more];
    assert.deepEqual([300 - right.face, right.discs.map(mirrored), right.texts.map(mirrored)], [left.face, left.discs, left.texts]);
    if (step < 2) {
      const [[x, , r]] = left.discs;
      assert.ok(x - r < left.face && x + r > left.face, "part of the electrode, at its face");
    }
    assert.equal(left.texts.filter(([, , text]) => text === "−").length, step === 1 ? 2 : 0);
    next.click();
  }
});

test("the close-up shows water molecules where the board has hydrogen and oxygen come from water", () => {
  const record = madeRecord();
  record.header.electrodes.forEach((electrode, side) => (electrode.products = [FROM_WATER[side]]));
  const node = made(body, "section");
  const words = { title: "", equation: "" };
  mountCloseUp(node, record, { on: true, electrodes: [words, words] });
  const labels = () => node.querySelectorAll("svg").map((svg) => svg.querySelectorAll("text").map(({ textContent }) => textContent).filter((text) => text !== "−"));
  const said = () => node.querySelectorAll("figure p").map(({ textContent }) => textContent);
  assert.deepEqual(labels(), [["H₂O", "H₂O"], ["H₂O", "H₂O"]]);
  assert.deepEqual(said(), ["2 H₂O arrive at the electrode.", "2 H₂O arrive at the electrode."]);
  for (let step = 0; step < 5; step += 1) node.querySelector("button").click();
  assert.deepEqual(labels(), [["H₂", "OH⁻", "OH⁻"], ["O₂", "H⁺", "H⁺", "H⁺", "H⁺"]]);
  assert.deepEqual(said(), ["One H₂ and 2 OH⁻ have formed.", "One O₂ and 4 H⁺ have formed."]);
});

/** A close-up of copper that settles and oxygen that forms, with the frames that it asks for. */
function closeUp(isStill) {
  const frames = [];
  let now = 0;
  Object.assign(globalThis, {
    requestAnimationFrame: (act) => frames.push(act),
    matchMedia: () => ({ matches: isStill }),
  });
  const clock = mock.method(performance, "now", () => now);
  const record = madeRecord();
  const copper = { formula: "Cu", label: "Cu", kind: "solid", electrons: 2, tint: "--fp-copper", metal: "", consumed: { formula: "Na+", count: 1 }, released: [] };
  record.header.electrodes[0].products = [copper];
  const node = made(body, "section");
  const words = { title: "", equation: "" };
  const lens = mountCloseUp(node, record, { on: true, electrodes: [words, words] });
  const [next, byItself] = node.querySelectorAll("button");
  const pass = (ms) => {
    now += ms;
    frames.splice(0).forEach((act) => act(now));
  };
  const discs = (r) => node.querySelector("svg").querySelectorAll("circle").filter((each) => each.getAttribute("r") === String(r));
  const said = () => node.querySelector(".fp-electron-count").textContent;
  const rows = () => node.querySelectorAll(".fp-passed").map((row) => row.children.length);
  return { lens, next, byItself, pass, discs, said, rows, frames, end: () => clock.mock.restore() };
}

test("in the close-up what settled stays, and both rows of electrons grow alike, round after round", () => {
  const { next, discs, said, rows, end } = closeUp(true);
  const settled = [];
  for (let step = 0; step < 13; step += 1) {
    settled.push(discs(10).length);
    assert.equal(rows()[0], rows()[1]);
    assert.ok(said().includes(`: ${rows()[0]} electron`), said());
    next.click();
  }
  // a copper ion takes two electrons every three steps; oxygen is done after six
  assert.deepEqual(settled, [0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4]);
  assert.deepEqual(rows(), [10, 10]);
  end();
});

test("the close-up shows what the run has left on each electrode by the time on the ruler, and names one count alone", () => {
  const record = madeRecord(0, { "0:layer_g": [0, 0.01, 0.02], "1:layer_g": [0, -0.01, -0.02] });
  const node = made(body, "section");
  const words = { title: "", equation: "" };
  const lens = mountCloseUp(node, record, { on: true, electrodes: [words, words] }, 0);
  lens.toggle(true);
  const rods = () => node.querySelectorAll("svg").map((svg) => svg.querySelectorAll("rect").map((each) => Number(each.getAttribute("width"))));
  const [bare, whole] = rods();
  assert.deepEqual([bare, whole], [[62], [62]]);
  lens.update(60);
  const [half, worn] = rods();
  lens.update(120);
  const [full, thin] = rods();
  assert.equal(half.length, 2, "the rod and its layer");
  assert.ok(half[1] > 1 && Math.abs(full[1] - 2 * half[1]) < 1e-3);
  assert.ok(worn[0] < 62 && Math.abs(62 - thin[0] - 2 * (62 - worn[0])) < 1e-3);
  assert.ok(full[1] <= 0.42 * 62 + 1e-6, "no thicker against its rod than in the picture");
  node.querySelector("button").click();
  assert.match(node.querySelector(".fp-electron-count").textContent, /in these events alone: 2 electrons at each/);
  assert.deepEqual(node.querySelectorAll(".fp-counted").map(({ children: [count, way] }) => `${count.textContent} ${way.textContent}`), ["2 electrons taken from the wire", "2 electrons given to the wire"]);
});

test("by itself the close-up goes on step by step, slowly, until it is stopped or closed", () => {
  const { lens, next, byItself, pass, said, discs, frames, end } = closeUp(false);
  next.click();
  assert.match(said(), /: 2 electrons/);
  byItself.click();
  assert.equal(byItself.getAttribute("aria-pressed"), "true");
  for (let k = 0; k < 15; k += 1) pass(100);
  assert.equal(discs(10).length, 0);
  for (let k = 0; k < 30; k += 1) pass(100);
  assert.equal(discs(10).length, 1, "the next event has begun");
  lens.toggle(false);
  assert.equal(byItself.getAttribute("aria-pressed"), "false");
  for (let k = 0; k < 30; k += 1) pass(100);
  assert.deepEqual([discs(10).length, frames.length], [1, 0], "closed, it stands");
  end();
});

/** The switches of a bench; what they are called and whether they are on. */
function switches(stage = null, changes = () => {}) {
  const node = made(body, "div");
  const { destroy } = mountScreenSwitches(node, () => stage, changes);
  const button = (text) => node.querySelectorAll("button").find(({ textContent }) => textContent === text);
  return { destroy, button, on: (text) => button(text).getAttribute("aria-checked") === "true" };
}

test("a page is dim at first for whoever likes it dark, and a second bench does not undo what was chosen since", () => {
  const first = switches();
  assert.ok(first.on("Dim room") && first.on("Remote keys") && !first.on("Projector size"));
  first.button("Dim room").click();
  first.button("Projector size").click();
  changed();
  const second = switches();
  for (const each of [first, second]) assert.ok(!each.on("Dim room") && each.on("Projector size"), "both show what the page is");
  second.button("Remote keys").click();
  changed();
  assert.ok(!first.on("Remote keys"), "a switch of one is a switch of the other");
});

test("when one bench goes, the page stays as it is for the other; when the last goes, nothing is left of it", () => {
  const benches = [switches(), switches()];
  benches[0].button("Projector size").click();
  benches[0].destroy();
  assert.equal(document.documentElement.dataset.fpSize, "projector");
  benches[1].destroy();
  assert.deepEqual(document.documentElement.dataset, {});
});

test("a dim page is printed on white, and is dim again afterwards", () => {
  const dims = [];
  const page = document.documentElement.dataset;
  switches(null, () => dims.push(page.fpRoom ?? "light"));
  const happens = (type) => heard.filter(([each]) => each === type).forEach(([, act]) => act());
  happens("beforeprint");
  happens("afterprint");
  assert.deepEqual(dims, ["light", "dim"]);
  delete page.fpRoom;
  happens("beforeprint");
  happens("afterprint");
  assert.equal(page.fpRoom, undefined, "a light one stays light");
});

test("the whole screen is offered only where the browser has it to give", () => {
  assert.equal(switches({}).button("Full screen"), undefined);
  let asked = 0;
  switches({ requestFullscreen: async () => (asked += 1) }).button("Full screen").click();
  assert.equal(asked, 1);
});
