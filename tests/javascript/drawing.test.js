// What is drawn, read from a pen that remembers: rods, layers, circuit, lamp, bubbles, liquid and words.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { asked, plainTheme, rememberingPen } from "./pen.js";
import { FROM_WATER, gas, madeRecord } from "./record.js";

const use = loader("scene/");
const { drawBubbles, makeBubbles } = await use("motion/bubbles.js");
const { defaultTimeLapse } = await use("motion/clock.js");
const { drawCircuit } = await use("circuit.js");
const { currentText } = await use("../kit/format.js");
const { drawElectrodes, layersPx } = await use("deposit.js");
const { makeGlyphs } = await use("glyphs.js");
const { labelParts, LETTERS, shapeWidth, writeLabel } = await use("lettering.js");
const { drawIons } = await use("motion/ion_drawing.js");
const { makeCrowd } = await use("motion/ions.js");
const { writePH } = await use("liquid/indicator.js");
const { drawLiquid } = await use("liquid/liquid.js");
const { layOut } = await use("vessels/layout.js");
const { drawProbe, PROBE_S } = await use("probe.js");
const { divide } = await use("stage.js");
const { stepWords } = await use("motion/steps.js");
const { lettersOf } = await use("theme.js");
const { fillAcross } = await use("vessels/vessel.js");

const VESSELS = ["beaker", "U-tube", "dish", "paper strip"];
const near = (a, b, within = 1e-6) => Math.abs(a - b) <= within;

/** @param {(pen: any) => void} draw */
function drawn(draw) {
  const pen = rememberingPen();
  draw(pen);
  for (const { name, given, alpha } of pen.calls) {
    for (const each of given) if (typeof each === "number") assert.ok(Number.isFinite(each));
    if (name === "arc") assert.ok(near(given[4] - given[3], 2 * Math.PI), "whole circles");
    assert.ok(alpha >= 0 && alpha <= 1);
  }
  return pen;
}

test("both rods stand alike about the middle, in the liquid and out of it", () => {
  for (const vessel of VESSELS) {
    for (const [width, height] of [[1000, 560], [360, 350]]) {
      const layout = layOut(width, height, vessel);
      const [first, second] = layout.electrodes;
      assert.ok(near(first.x - 0, width - second.x - second.width, 1), `${vessel} ${width}`);
      assert.deepEqual([first.y, first.width, first.height], [second.y, second.width, second.height]);
      assert.ok(layout.gapPx > 3 * first.width);
      assert.ok(first.y < layout.liquidTop && first.y + first.height > layout.liquidTop, vessel);
      const { x, y, width: wide, height: high } = layout.bounds;
      assert.ok(x > 0 && x + wide < width && y > 0 && y + high < height, vessel);
    }
  }
});

test("glass and liquid are alike on the left and on the right, and the liquid stands within its glass", () => {
  /** The points that an outline goes through or bends towards, an arc's its ends. */
  const points = (draw) => {
    const pen = rememberingPen();
    draw(pen);
    return pen.calls.flatMap(({ name, given: [x, y, ...more] }) => {
      if (name === "rect" || name === "roundRect") return [[x, y], [x + more[0], y], [x, y + more[1]], [x + more[0], y + more[1]]];
      if (name === "arc") return [1, 2].map((end) => [x + more[0] * Math.cos(more[end]), y + more[0] * Math.sin(more[end])]);
      return typeof x === "number" ? [[x, y], ...(name === "quadraticCurveTo" ? [more] : [])] : [];
    });
  };
  for (const vessel of VESSELS) {
    for (const [width, height] of [[1000, 560], [360, 353]]) {
      const layout = layOut(width, height, vessel);
      const [glass, liquid] = ["outline", "trace"].map((name) => points((pen) => layout[name](pen)));
      for (const part of [glass, liquid]) {
        assert.ok(part.length >= 4);
        for (const [x, y] of part) assert.ok(part.some((other) => near(other[0], width - x) && near(other[1], y)), `${x}, ${y} of ${vessel} ${width}`);
      }
      const [wide, within] = [glass, liquid].map((part) => Math.min(...part.map(([x]) => x)));
      assert.ok(wide <= within + 1e-6 && wide >= 0, `${vessel} ${width}`);
    }
  }
});

test("a layer stands out on both sides of its rod, and a rod that dissolves is thinner on both", () => {
  const layout = layOut(1000, 560, "beaker");
  const record = madeRecord(0, { "0:layer_g": [0, 0.1, 0.2], "1:layer_g": [0, -0.1, -0.2] });
  const pen = drawn((it) => drawElectrodes(it, record, layout, plainTheme, 120));
  const [grown, worn] = layersPx(record, layout, 120);
  assert.ok(grown > 2 && worn < -2);
  const boxes = asked(pen, "roundRect").map(([x, y, width, height]) => ({ x, y, width, height }));
  const [cathode, anode] = layout.electrodes;
  const widest = boxes.reduce((a, b) => (a.width > b.width ? a : b));
  assert.ok(near(widest.x, cathode.x - grown) && near(widest.width, cathode.width + 2 * grown));
  assert.ok(widest.y >= layout.liquidTop, "nothing settles above the liquid");
  const thinnest = boxes.reduce((a, b) => (a.width < b.width ? a : b));
  assert.ok(near(thinnest.x, anode.x - worn) && near(thinnest.width, anode.width + 2 * worn));
  assert.ok(near(thinnest.y + thinnest.height, anode.y + anode.height + worn), "its end dissolves too");
  assert.equal(pen.globalAlpha, 1, "whoever draws next draws in full");
  const start = drawn((it) => drawElectrodes(it, record, layout, plainTheme, 0));
  assert.ok(asked(start, "roundRect").every(([, , width]) => near(width, cathode.width)));
});

test("each metal that settles keeps its colour: one that comes later lies outside, however much of it there will be", () => {
  const solid = (formula, tint, gCm3) => ({ formula, tint, gCm3 });
  const record = madeRecord(0, { "0:mass_g:Cu": [0, 0.002, 0.002], "0:mass_g:Ag": [0, 0, 0.02], "0:layer_g": [0, 0.002, 0.022] });
  record.header.electrodes[0] = { ...record.header.electrodes[0], layerTint: "--fp-silver", layers: [solid("Ag", "--fp-silver", 10.5), solid("Cu", "--fp-copper", 8.96)] };
  const layout = layOut(1000, 560, "beaker");
  const painted = (timeS) => {
    const pen = drawn((it) => drawElectrodes(it, record, layout, plainTheme, timeS));
    return pen.calls.filter(({ name, fill }) => name === "fill" && /silver|copper/.test(fill)).map(({ fill }) => fill);
  };
  assert.deepEqual([...new Set(painted(50))], ["--fp-copper"], "as it was seen, whatever comes");
  const late = painted(120);
  assert.deepEqual([...new Set(late)], ["--fp-silver", "--fp-copper"], "the later one is painted first, farther out");
  const [[some], [all]] = [50, 120].map((timeS) => layersPx(record, layout, timeS));
  const volumes = [(0.002 * 50) / 60 / 8.96, 0.002 / 8.96 + 0.02 / 10.5];
  assert.ok(Math.abs(all / some / (volumes[1] / volumes[0]) - 1) < 1e-3, "as thick as their volumes");
});

test("a dark film covers the wet part of its rod as soon as it is there, and nothing else", () => {
  const layout = layOut(1000, 560, "beaker");
  const record = madeRecord(0, { "1:film": [0, 1, 1] });
  const films = (timeS) => drawn((it) => drawElectrodes(it, record, layout, plainTheme, timeS)).calls
    .filter(({ name, fill }) => name === "fill" && fill === "--fp-film").map(({ alpha }) => alpha);
  assert.deepEqual(films(0), []);
  assert.deepEqual(films(30), [0.5]);
  assert.deepEqual(films(120), [1]);
});

test("what a stage pours in raises the level in proportion, never over the rim, and leaves the rods where they are", () => {
  for (const vessel of ["beaker", "dish"]) {
    for (const most of [1.05, 1.5, 4]) {
      const at = (now) => layOut(1000, 560, vessel, false, { now, most });
      const depth = (layout) => layout.bounds.y + layout.bounds.height - layout.liquidTop;
      const [start, middle, full] = [at(1), at((1 + most) / 2), at(most)];
      assert.ok(near(depth(full) / depth(start), most, 1e-6));
      assert.ok(near(depth(middle) / depth(start), (1 + most) / 2, 1e-6));
      assert.deepEqual(start.electrodes, full.electrodes);
      const rims = asked(drawn((pen) => full.outline(pen)), "moveTo").map(([, y]) => y);
      assert.ok(full.liquidTop > Math.min(...rims), `${vessel} ${most}`);
      assert.ok(full.electrodes.every((rod) => rod.y + rod.height > start.liquidTop), "they stay in the liquid");
      assert.ok(!start.inside(500, start.liquidTop - 30));
    }
    assert.deepEqual(layOut(1000, 560, vessel, false, { now: 1, most: 1 }).liquidTop, layOut(1000, 560, vessel).liquidTop);
  }
});

test("loose metal is a ragged rim of grains no farther out than the layer is thick", () => {
  const layout = layOut(1000, 560, "beaker");
  const layers = { "0:layer_g": [0, 0.1, 0.2], "0:loose_g": [0, 0.1, 0.2], "1:layer_g": [0, 0, 0] };
  const record = madeRecord(0, layers);
  const [grown] = layersPx(record, layout, 120);
  const [rod] = layout.electrodes;
  const pen = drawn((it) => drawElectrodes(it, record, layout, plainTheme, 120));
  const grains = asked(pen, "arc");
  assert.ok(grains.length > 20);
  const below = rod.y + rod.height;
  for (const [x, y, r] of grains) {
    const out = Math.max(rod.x - x, x - rod.x - rod.width, y - below);
    assert.ok(out >= -r && out <= grown + r, `${out} of ${grown}`);
  }
  const sides = [grains.filter(([x]) => x < rod.x), grains.filter(([x]) => x > rod.x + rod.width)];
  assert.ok(near(sides[0].length, sides[1].length, 4), "as many on one side as on the other");
  const again = drawn((it) => drawElectrodes(it, record, layout, plainTheme, 120));
  assert.deepEqual(asked(again, "arc"), grains, "they do not flicker");
});

test("electrons leave minus and come back to plus, evenly spaced, the other way with swapped wires", () => {
  const layout = layOut(1000, 560, "beaker");
  const circles = (pen) => asked(pen, "arc").filter(([, , r]) => near(r, 5.2));
  const at = (record, timeS) => drawn((pen) => drawCircuit(pen, record, layout, plainTheme, timeS));
  const record = madeRecord();
  const before = circles(at(record, 60));
  const after = circles(at(record, 60.5));
  assert.ok(before.length > 15);
  const [left, right] = layout.electrodes.map((rod) => rod.x + rod.width / 2);
  for (const [x, y] of before) {
    assert.ok(x >= left - 1e-6 && x <= right + 1e-6 && y <= layout.electrodes[0].y);
  }
  const downTheLeft = (list) => list.filter(([x]) => near(x, left)).map(([, y]) => y);
  const upTheRight = (list) => list.filter(([x]) => near(x, right)).map(([, y]) => y);
  assert.ok(downTheLeft(before).length > 0 && upTheRight(before).length > 0);
  const wire = before.filter(([x]) => !near(x, left) && x < 480).map(([x]) => x).sort((a, b) => a - b);
  wire.slice(1).forEach((x, k) => assert.ok(near(x - wire[k], 30), "30 px apart"));
  // how far all of them have moved on: less than half of what lies between two
  const way = (from, to) => ((to[0] - from[0] + 45) % 30) - 15;
  assert.ok(near(way(downTheLeft(before), downTheLeft(after)), 1100 / 240, 1e-3), "down to the cathode");
  assert.ok(near(way(upTheRight(before), upTheRight(after)), -1100 / 240, 1e-3), "up from the anode");
  const swapped = madeRecord(0, { swapped: [1, 1, 1] });
  assert.ok(way(downTheLeft(circles(at(swapped, 60))), downTheLeft(circles(at(swapped, 60.5)))) < 0);
  const words = (pen) => asked(pen, "fillText").map(([text]) => text);
  assert.ok(words(at(record, 60)).includes("6.0 V") && words(at(record, 60)).includes("50.0 mA"));
  const signs = (pen) => asked(pen, "fillText").filter(([text]) => "−+".includes(text)).sort((a, b) => a[1] - b[1]).map(([text]) => text);
  assert.deepEqual(signs(at(record, 60)), ["−", "+"]);
  assert.deepEqual(signs(at(swapped, 60)), ["+", "−"]);
  const open = madeRecord(0, { supply_V: [0, 0, 0], current_A: [0, 0, 0] });
  const off = words(at(open, 60));
  assert.ok(off.includes("off") && off.includes("switch open") && off.includes("0 mA") && !off.includes("electrons"));
});

test("beside another cell the supply's letters are as large as those of the other readings, and keep between its signs", () => {
  for (const [width, height] of [[660, 330], [940, 500], [1366, 560]]) {
    const record = madeRecord(0, {});
    const pen = rememberingPen();
    const sizes = new Map();
    const watching = new Proxy(pen, {
      get: (target, name) => (name === "fillText" ? (text, ...at) => (sizes.set(text, parseFloat(target.font.match(/[\d.]+(?=px)/)[0])), target.fillText(text, ...at)) : target[name]),
      set: (target, name, value) => Reflect.set(target, name, value),
    });
    drawCircuit(watching, record, layOut(width, height, "beaker"), plainTheme, 60);
    for (const text of ["supply", "6.0 V"]) assert.ok(sizes.get(text) >= sizes.get("50.0 mA"), `${text}: ${sizes.get(text)} of ${width}`);
    const x = (text) => asked(pen, "fillText").find(([said]) => said === text)[1];
    assert.ok(x("−") < x("supply") - 42 && x("supply") < x("6.0 V") && x("6.0 V") + 35 < x("+"), `${width}`);
  }
});

test("currents are read to three figures in the unit that suits", () => {
  assert.deepEqual([0, 9e-6, 3.21e-4, 0.05, 0.9999, 1.234].map((amperes) => currentText(amperes)), ["0 mA", "0 mA", "0.321 mA", "50.0 mA", "1.00 A", "1.23 A"]);
  assert.deepEqual([0.9994, 0.09996].map((amperes) => currentText(amperes)), ["999 mA", "100 mA"]);
});

test("a lamp glows the farther the brighter it is, and not at all when it is dark", () => {
  const layout = layOut(1000, 560, "beaker");
  const glow = (volts) => {
    const pen = drawn((it) => drawCircuit(it, madeRecord(0, { lamp_V: [volts, volts, volts] }), layout, plainTheme, 60));
    assert.equal(pen.globalAlpha, 1);
    const [found] = asked(pen, "createRadialGradient");
    return found ? found[5] : 0;
  };
  assert.equal(glow(0), 0);
  assert.equal(glow(0.5), 0);
  assert.ok(glow(6) > glow(4) && glow(4) > glow(2.5) && glow(2.5) > 0);
});

test("bubbles come in the number that the gas says, and rise to the surface", () => {
  // gas for the first minute of the run only
  const record = madeRecord(0, { "0:bubbles_cm3:H2": [0, 0.2, 0.2], "1:bubbles_cm3:O2": [0, 0.1, 0.1] });
  const layout = layOut(1000, 560, "beaker");
  const bubbles = makeBubbles(record, layout);
  const paceS = defaultTimeLapse(120);
  const [atOne, atOther] = [bubbles.numberBy(0, 6), bubbles.numberBy(1, 6)];
  assert.ok(atOther >= 2);
  assert.ok(Math.abs(atOne - 2 * atOther) <= 2);
  const now = bubbles.at(60);
  for (const { x, y, side: k } of now) {
    const rod = layout.electrodes[k];
    assert.ok(y >= layout.liquidTop && y <= rod.y + rod.height);
    assert.ok(x > rod.x - 40 && x < rod.x + rod.width + 40);
  }
  assert.ok(now.length > 10);
  const pen = drawn((it) => drawBubbles(it, now, plainTheme));
  assert.equal(asked(pen, "arc").length, now.length);
  let before = now;
  for (let timeS = 60 + paceS; timeS <= 60 + 6 * paceS; timeS += paceS) { // a second of the picture each
    const left = bubbles.at(timeS);
    assert.ok(left.length < before.length, "they leave at the surface");
    // all have grown by now: none of those left stands lower than the lowest before
    assert.ok(!left.length || Math.max(...left.map(({ y }) => y)) < Math.max(...before.map(({ y }) => y)), "all rise");
    before = left;
    if (!left.length) break;
  }
  assert.equal(bubbles.at(60 + 6 * paceS).length, 0, "all are gone at the surface");
});

test("bubbles of chlorine are pale yellow-green, the paler the more oxygen is in them, and others are colourless", () => {
  const products = [{ formula: "Cl2", kind: "gas", tint: "--fp-ion-cl2" }, { formula: "O2", kind: "gas", tint: "--fp-ion-other" }];
  const record = madeRecord(0, { "1:bubbles_cm3:Cl2": [0, 0.3, 0.4], "1:bubbles_cm3:O2": [0, 0, 0.1] });
  record.header.electrodes[1].products.splice(0, 1, ...products.map((each) => ({ ...record.header.electrodes[1].products[0], ...each })));
  const bubbles = makeBubbles(record, layOut(1000, 560, "beaker"));
  const colours = (timeS, side) => {
    const pen = drawn((it) => drawBubbles(it, bubbles.at(timeS).filter((each) => each.side === side), plainTheme));
    return pen.calls.filter(({ name, fill }) => name === "fill" && fill === "--fp-ion-cl2").map(({ alpha }) => alpha);
  };
  assert.ok(bubbles.at(59).some(({ side }) => side === 0));
  assert.deepEqual(colours(59, 0), []);
  const [pure, mixed] = [colours(59, 1), colours(119, 1)];
  assert.ok(pure.length > 3 && pure.every((alpha) => alpha > 0.4), "seen");
  assert.ok(pure.every((alpha) => alpha < 1), "but pale");
  assert.ok(mixed.length > 1 && Math.min(...mixed) < 0.7 * Math.min(...pure), "paler");
});

test("the liquid is coloured within the vessel only, and the deeper the stronger", () => {
  const layout = layOut(1000, 560, "beaker");
  const blue = (mol_m3) => {
    const record = madeRecord(0, { "c:Na+": Array(15).fill(mol_m3) });
    record.header.liquidColours = [{ formula: "Na+", absorbance: [0.001, 0.0002, 0.00001] }];
    const pen = rememberingPen();
    const stops = [];
    const plain = pen.createLinearGradient;
    pen.createLinearGradient = (...given) => ({ ...plain(...given), addColorStop: (_, colour) => stops.push(colour) });
    drawLiquid(pen, record, layout, plainTheme, 60, { indicator: "", flakes: [] });
    assert.ok(asked(pen, "clip").length === 1 && asked(pen, "save").length === asked(pen, "restore").length);
    return stops.at(-1).match(/[\d.]+/g).map(Number);
  };
  const [weak, strong] = [blue(50), blue(500)];
  assert.ok(weak[0] > strong[0] && weak[3] < strong[3]);
  assert.ok(strong[0] < strong[1] && strong[1] < strong[2], "red is taken away");
  assert.ok(near(strong[0], 255 * 10 ** -0.5, 1) && strong[3] <= 0.56);
});

test("a step of the close-up says who moves, how many, and which way", () => {
  const copper = { formula: "Cu", label: "Cu", electrons: 2, consumed: { formula: "Cu2+", count: 1 }, released: [] };
  const hydrogen = { ...gas("H2", "H₂", 2, "H+", 2) };
  const moment = (phase, more = {}) => ({ phase, waiting: false, ions: 1, crossing: 0, crossed: 0, formed: false, ...more });
  assert.equal(stepWords(moment("arrive"), copper, "Cu²⁺", false), "One Cu²⁺ arrives at the electrode.");
  assert.equal(stepWords(moment("arrive", { ions: 2 }), hydrogen, "H⁺", false), "2 H⁺ arrive at the electrode.");
  assert.equal(stepWords(moment("arrive"), copper, "", true), "An atom of the metal is at the surface.");
  assert.equal(stepWords(moment("cross", { crossing: 2 }), copper, "Cu²⁺", false), "2 electrons cross from the electrode to Cu²⁺.");
  assert.equal(stepWords(moment("cross", { crossing: 1 }), copper, "", true), "1 electron crosses from the atom to the electrode.");
  assert.equal(stepWords(moment("form", { formed: true }), hydrogen, "H⁺", false), "One H₂ has formed.");
  assert.equal(stepWords(moment("arrive", { waiting: true, crossed: 1 }), copper, "Cu²⁺", false), "The electrode waits: 1 electron still to cross.");
  const [fromWater, oxygen] = FROM_WATER;
  assert.equal(stepWords(moment("arrive", { ions: 2 }), oxygen, "H₂O", true), "2 H₂O arrive at the electrode.");
  assert.equal(stepWords(moment("form", { formed: true }), oxygen, "H₂O", true), "One O₂ and 4 H⁺ have formed.");
  assert.equal(stepWords(moment("form", { formed: true }), fromWater, "H₂O", false), "One H₂ and 2 OH⁻ have formed.");
});

/** A gas test at an electrode, so far shown. */
function probed(held, picture, part, side = 0) {
  const pen = rememberingPen();
  drawProbe(pen, { side, test: held, picture, age: part * PROBE_S }, { x: 0, y: 0, width: 190, height: 560 }, plainTheme);
  return pen;
}

test("a paper or limewater turns to what the gas makes of it, and stays as it was where the gas does nothing", () => {
  const shade = (held, picture, part) => probed(held, picture, part).calls.find(({ name }) => name === "fill").fill;
  const [blue, white, paper] = ["rgb(111,143,208)", "rgb(255,255,255)", "rgb(244,241,234)"];
  assert.deepEqual([0, 1, 3].map((part) => shade("limewater", "cloudy", part)), ["rgb(230,238,242)", white, white]);
  assert.deepEqual([0, 1].map((part) => shade("limewater", "nothing", part)), ["rgb(230,238,242)", "rgb(230,238,242)"]);
  assert.deepEqual([0, 0.5, 1].map((part) => shade("damp blue litmus", "bleach", part)), [blue, "rgb(208,105,122)", paper], "red, then white");
  assert.deepEqual([0, 1].map((part) => shade("damp blue litmus", "nothing", part)), [blue, blue]);
  assert.deepEqual([0, 1].map((part) => shade("damp starch-iodide paper", "blue-black", part)), [paper, "rgb(35,38,63)"]);
});

test("a test is done on a tube of gas in a strip of its own, beside the vessel and its wires, in a picture of any size", () => {
  for (const vessel of ["beaker", "U-tube", "dish", "paper strip"]) {
    for (const [width, height] of [[1249, 713], [560, 400], [430, 230], [360, 250]]) {
      for (const side of [0, 1]) {
        const { layout, aside, left } = divide({ width, height }, vessel, false, { now: 1, most: 1 }, { testSide: side, least: 0 });
        assert.ok(aside.width >= 84 && aside.height === height);
        const pen = rememberingPen();
        drawProbe(pen, { side, test: "lighted splint", picture: "pop", age: PROBE_S }, aside, plainTheme);
        const [[x]] = asked(pen, "translate");
        const [[scale]] = asked(pen, "scale");
        assert.ok(x + left >= 0 && x + left + 120 * scale <= width + 1e-6, "all of it in the picture");
        assert.ok(side ? x >= layout.width - 1e-6 : x + 120 * scale <= 1e-6, "beside the vessel's own part of the picture");
        const whole = divide({ width, height }, vessel, false, { now: 1, most: 1 }, { testSide: -1, least: 0 });
        assert.ok(whole.aside === null && layout.ionRadius > 0.9 * whole.layout.ionRadius, "ions stay as large");
      }
    }
  }
});

test("a glowing splint has a flame only where it relights, and a pop is written when it comes", () => {
  const flame = (held, picture, part) => asked(probed(held, picture, part), "ellipse")[0]?.[3] ?? 0;
  assert.deepEqual(["nothing", "relight"].map((picture) => flame("glowing splint", picture, 1) > 0), [false, true]);
  assert.equal(flame("glowing splint", "relight", 0), 0);
  assert.ok(flame("lighted splint", "nothing", 1) === flame("lighted splint", "nothing", 0) && flame("lighted splint", "nothing", 1) > 0);
  assert.equal(flame("lighted splint", "out", 1), 0);
  assert.ok(flame("lighted splint", "brighter", 1) > flame("lighted splint", "brighter", 0));
  const said = (picture, part) => asked(probed("lighted splint", picture, part), "fillText").map(([text]) => text).filter((text) => !/tube|cell/.test(text)).join();
  assert.deepEqual([said("pop", 0.2), said("pop", 1), said("bang", 1), said("nothing", 1)], ["", "squeaky pop", "bang", ""]);
});

test("liquid of one colour at every depth is painted in one piece, and the rest without gaps", () => {
  const boxes = (byDepth) => asked(drawn((pen) => fillAcross(pen, { x: 0, y: 3.3, width: 90, height: 71.5 }, (x) => x / 90, () => "blue", byDepth)), "fillRect");
  assert.deepEqual(boxes(false), [[0, 3.3, 90, 71.5]], "no line can show where two pieces meet");
  const pieces = boxes(true);
  assert.ok(pieces.length > 10);
  let end = 3.3;
  for (const [, y, , height] of pieces) {
    assert.ok(near(y, end) && (y === 3.3 || Number.isInteger(y)));
    end = y + height;
  }
  assert.ok(near(end, 74.8));
});

test("the shape tells the charge: cations have six corners, anions are round, a higher charge has two outlines", () => {
  const look = (charge, formula = "X", label = formula) => {
    const pen = rememberingPen();
    globalThis.document = { createElement: () => ({ getContext: () => pen }) };
    const glyphs = makeGlyphs([{ formula, label, charge, tint: "--fp-ion-other", dissolved: false }], 15, 2, plainTheme);
    const made = pen.calls.length;
    glyphs.draw(pen, formula, 70, 40, 0.5);
    const [[, left, top, wide, high]] = asked(pen, "drawImage").slice(-1);
    assert.ok(near(left + wide / 2, 70) && near(top + high / 2, 40) && wide === high && wide > 15 && wide < 35, "where it is, at half its size");
    pen.calls.length = made;
    const corners = asked(pen, "lineTo");
    for (const axis of [0, 1]) assert.ok(near(corners.reduce((sum, corner) => sum + corner[axis], 0), 0), "even all round");
    for (const [x, y, r = 0] of [...corners, ...asked(pen, "arc")]) assert.ok(Math.hypot(x, y) + r < (charge ? 1.1 : 1.5) * 15, "within its place");
    return ["lineTo", "arc", "ellipse", "stroke"].map((name) => asked(pen, name).length);
  };
  assert.deepEqual([1, 2, 3].map((charge) => look(charge)), [[6, 0, 0, 1], [12, 0, 0, 2], [12, 0, 0, 2]]);
  assert.deepEqual([-1, -2].map((charge) => look(charge)), [[0, 1, 0, 1], [0, 2, 0, 2]]);
  assert.deepEqual(look(-2, "SO4^2-", "SO₄²⁻"), [0, 0, 2, 2], "a long label widens its disc");
  assert.deepEqual([look(0), look(0, "H2O", "H₂O")], [[0, 2, 0, 2], [0, 3, 0, 3]], "a molecule is joined discs");
});

test("the figures of a formula stand below the line, its charge above, over each other where both are", () => {
  assert.deepEqual(labelParts("SO₄²⁻"), [{ text: "SO", place: "line" }, { text: "4", place: "below" }, { text: "2−", place: "above" }]);
  const pen = rememberingPen();
  writeLabel(pen, labelParts("SO₄²⁻"), 30, plainTheme, "black");
  const [[line, , lineY], [four, fourX, fourY], [two, twoX, twoY]] = asked(pen, "fillText");
  assert.deepEqual([line, four, two], ["SO", "4", "2−"]);
  assert.ok(fourX === twoX && twoY < lineY && fourY > lineY);
  assert.ok(shapeWidth("Cl⁻") === 1 && shapeWidth("SO₄²⁻") > 1.1 && shapeWidth("HSO₄⁻") > shapeWidth("SO₄²⁻"));
});

test("no label is smaller than a thirtieth of the picture's height allows, and on a phone none below thirteen pixels", () => {
  for (const vessel of VESSELS) {
    for (const [width, height, least] of [[1249, 713, 34], [1500, 700, 36], [1860, 900, 45], [1100, 600, 30], [360, 350, 13]]) {
      const { ionRadius } = layOut(width, height, vessel);
      assert.ok(LETTERS * ionRadius >= least, `${vessel} ${width}: ${LETTERS * ionRadius}`);
    }
  }
});

/** An ion's place, its arrow and what is copied of it. @param {Record<string, any>} changes */
function drawnIons(changes, view = {}) {
  const record = madeRecord(0, changes);
  const layout = layOut(1500, 700, "beaker");
  const crowd = makeCrowd(record, layout);
  const drawnGlyphs = [];
  const pen = rememberingPen();
  drawIons(pen, record, { layout, crowd, glyphs: { draw: (it, formula) => drawnGlyphs.push([formula, it.globalAlpha]) } }, plainTheme, { timeS: 60, surface: "seen", meant: [], ...view });
  return { layout, crowd, glyphs: drawnGlyphs, heads: pen.calls.filter(({ name }) => name === "closePath").length, pen };
}

test("ions that come up to their electrode carry arrows, as long as they drift fast, and none where no current flows", () => {
  const { heads, crowd, layout } = drawnIons({});
  assert.ok(heads >= 3 && heads < crowd.ions.length / 1.4, `${heads}`);
  /** The lengths of the arrows near the cathode, to which only cations come up. */
  const lengths = (changes) => {
    const ends = asked(drawnIons(changes).pen, "moveTo"); // a blunt end, then a tip
    return ends.flatMap(([x], k) => (k % 2 || x > 600 ? [] : [Math.round(10 * Math.abs(ends[k + 1][0] - x)) / 10]));
  };
  const [fast, slow] = [-8e-6, -4e-6].map((metresAS) => lengths({ "v:Na+": Array(15).fill(metresAS) }));
  assert.ok(fast.length > 0 && slow.length > 0);
  for (const each of fast) assert.ok(near(each, 2 * slow[0], 0.2) && each < 1.2 * layout.ionRadius, "half as fast, half as long");
  assert.equal(drawnIons({ current_A: [0, 0, 0] }).heads, 0);
});

test("water's ions are pale where there are very few, and come forward where there are many; others fade that are not spoken of", () => {
  const neutral = drawnIons({});
  assert.ok(neutral.glyphs.some(([formula]) => formula === "pale H+") && neutral.glyphs.some(([formula]) => formula === "pale OH-"));
  assert.ok(!neutral.glyphs.some(([formula]) => formula === "H+"));
  const acid = drawnIons({ pH: Array(15).fill(1) });
  assert.ok(acid.glyphs.filter(([formula]) => formula === "H+").length > 3 && !acid.glyphs.some(([formula]) => formula === "pale H+"));
  const meant = drawnIons({}, { meant: ["Na+"] });
  for (const [formula, alpha] of meant.glyphs) assert.equal(alpha === 1, formula === "Na+");
});

test("with an indicator the pH stands at both electrodes and between them, and where chlorine has bleached it", () => {
  const pH = Array.from({ length: 3 }, () => [12, 10, 7, 5, 3]).flat();
  const record = madeRecord(0, { pH, "c:Cl2": Array.from({ length: 3 }, () => [0, 0, 0, 0.4, 50]).flat() });
  for (const [width, height] of [[1000, 560], [360, 350]]) {
    for (const vessel of VESSELS) {
      const pen = drawn((it) => writePH(it, record, layOut(width, height, vessel), plainTheme, { before: 0, after: 0, part: 0 }));
      assert.deepEqual(asked(pen, "fillText").map(([text]) => text), ["pH 12.0", "pH 7.0", "pH 3.0", "bleached"]);
      for (const [x, , wide] of asked(pen, "roundRect")) assert.ok(x >= 0 && x + wide <= width, `${vessel} ${width}`);
    }
  }
});

test("words keep their share of a page that is drawn twice as large, and grow with the page's own beside a small picture", () => {
  assert.ok(near(lettersOf(37.33, 2500), lettersOf(18.665, 1250), 0.03)); // a screen of 3840 pixels, and one of 1920
  assert.equal(lettersOf(24, 1000), 1.5);
  assert.equal(lettersOf(16, 1900), 1); // alone on the screen
  assert.equal(lettersOf(16, 0), 1); // not yet on the page
});
