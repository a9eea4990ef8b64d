// What the bench says in figures, and what the scene writes beside the drawing.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { made, newPage } from "./page.js";
import { asked, plainTheme, rememberingPen } from "./pen.js";
import { madeRecord } from "./record.js";

const onTheBench = loader("bench/");
const { amountText, clockText, currentText, massText, percentText, significant, volumeText } = await onTheBench("../kit/format.js");
const { compareObservation, judgePrediction } = await onTheBench("lesson/feedback.js");
const { mountFlows } = await onTheBench("flows.js");
const { fillSideCard } = await onTheBench("cards/side_card.js");
const use = loader("scene/");
const { drawCircuit } = await use("circuit.js");
const { drawLabels, notesBeside } = await use("labels.js");
const { layOut } = await use("vessels/layout.js");
const { clamp, modelPlace } = await use("vessels/vessel.js");

const each = (say, pairs) => {
  for (const [value, text] of pairs) assert.equal(say(value), text, String(value));
};

test("numbers have the figures that a class reads, and units that suit", () => {
  each(significant, [[0, "0"], [1.234, "1.2"], [123.4, "120"], [0.01234, "0.012"], [-2.5, "−2.5"], [9.96, "10"], [99.6, "100"], [NaN, "0"], [1e-12, "0"]]);
  assert.equal(significant(1.2345, 3), "1.23");
  assert.equal(significant(0.9996, 3), "1.00");
  each(clockText, [[0, "0 s"], [59.4, "59 s"], [59.6, "1 min 0 s"], [60, "1 min 0 s"], [125, "2 min 5 s"]]);
  each(currentText, [[1e-7, "0 mA"], [0.05, "50.0 mA"], [0.9994, "999 mA"], [0.9996, "1.00 A"], [2, "2.00 A"]]);
  each(massText, [[0.0123, "12 mg"], [-0.0123, "12 mg"], [0.9994, "1000 mg"], [0.9996, "1.0 g"], [2.5, "2.5 g"]]);
  each(amountText, [[5e-6, "less than 0.01 mmol"], [0, "0 mmol"], [2.5e-3, "2.5 mmol"]]);
  each(volumeText, [[0.005, "less than 0.01 cm³"], [0, "0 cm³"], [7.6, "7.6 cm³"]]);
  each(percentText, [[1, "100 %"], [0.9996, "100 %"], [0.994, "99.4 %"], [0.985, "99 %"], [0.5, "50 %"], [1e-4, "less than 0.1 %"]]);
});

test("the wide layers at the faces are the model's films, and the middle is the middle", () => {
  const place = (share) => modelPlace(share, 0.03, 2e-4);
  assert.deepEqual([0, 0.5, 1].map((share) => Number(place(share).toFixed(9))), [0, 0.015, 0.03]);
  assert.ok(Math.abs(place(0.16) - 2e-4) < 1e-9 && Math.abs(place(0.84) - 0.0298) < 1e-9);
  assert.ok(Math.abs(place(0.08) - 1e-4) < 1e-9 && Math.abs(place(0.92) - 0.0299) < 1e-9);
  for (let k = 1; k <= 100; k += 1) assert.ok(place(k / 100) > place((k - 1) / 100));
  assert.equal(modelPlace(0.25, 0.04, 0), 0.01);
  assert.deepEqual([-1, 0.5, 2].map((value) => clamp(value, 0, 1)), [0, 0.5, 1]);
});

test("dense colour sinks where there is depth, and is spread along the cell elsewhere", () => {
  const deep = ["beaker", "U-tube", "dish", "paper strip"].map((vessel) => layOut(1000, 560, vessel).deep);
  const said = (vessel) => {
    const record = madeRecord(0, { "c:I2": Array(15).fill(1) });
    record.header.liquidColours = [{ formula: "I2", absorbance: [0, 0, 1] }];
    record.header.electrodes[1].products = [{ formula: "I2", label: "I₂", kind: "dissolved", electrons: 2, tint: "", metal: "", consumed: { formula: "I-", count: 2 }, released: [] }];
    return notesBeside(record, layOut(1000, 560, vessel), 60, false).join(" ");
  };
  assert.deepEqual(deep.slice(0, 2), [true, false]);
  assert.match(said("beaker"), /sinking of the colour: drawn, not computed/);
  assert.match(said("U-tube"), /along the cell only/);
});

test("words and readings stand in the picture, the electrodes' names beside them", () => {
  for (const vessel of ["beaker", "U-tube", "dish", "paper strip"]) {
    for (const [width, height] of [[1000, 560], [360, 350]]) {
      for (const swap of [0, 1]) {
        const record = madeRecord(0, { swapped: [swap, swap, swap], voltage_V: [3, 3, 3] });
        const layout = layOut(width, height, vessel);
        const pen = rememberingPen();
        drawCircuit(pen, record, layout, plainTheme, 60);
        drawLabels(pen, record, layout, plainTheme, 60);
        const words = asked(pen, "fillText");
        for (const [text, x, y] of words) {
          assert.ok(x >= 0 && x <= width && y >= 0 && y <= height, `${text} at ${x}, ${y} of ${vessel} ${width}`);
        }
        const at = (text) => words.find(([said]) => said === text)[1];
        assert.equal(at("cathode") < at("anode"), swap === 0);
        const [left, right] = layout.electrodes;
        assert.ok(Math.abs(Math.min(at("cathode"), at("anode")) - left.x) < left.width + 20);
        assert.ok(Math.abs(Math.max(at("cathode"), at("anode")) - right.x) < right.width + 20);
        // the reading belongs to the lamp: right of the supply, left of the wire
        assert.ok(at("50.0 mA") > at("supply") && at("50.0 mA") < right.x + right.width, vessel);
      }
    }
  }
});

test("on a phone, also where the picture has the whole screen, all of a U-tube has room, and the names stand beside its rods", () => {
  for (const [width, height] of [[320, 320], [360, 353], [412, 404], [360, 640], [412, 800]]) {
    const record = madeRecord(0, { voltage_V: [3, 3, 3] });
    const layout = layOut(width, height, "U-tube");
    const pen = rememberingPen();
    layout.outline(pen);
    drawCircuit(pen, record, layout, plainTheme, 60);
    drawLabels(pen, record, layout, plainTheme, 60);
    const boxes = [...layout.electrodes.map((rod) => [rod.x, rod.y, rod.width, rod.height]), ...asked(pen, "roundRect")];
    for (const [x, y, r] of asked(pen, "arc")) boxes.push([x - r, y - r, 2 * r, 2 * r]); // the bend, the lamp, electrons
    for (const [x, y] of [...asked(pen, "moveTo"), ...asked(pen, "lineTo")]) boxes.push([x, y, 0, 0]);
    for (const [x, y, wide, high] of boxes) assert.ok(x >= 0 && y >= 0 && x + wide <= width && y + high <= height, `${x}, ${y} of ${width} by ${height}`);
    for (const [name, rod, outward] of [["cathode", layout.electrodes[0], -1], ["anode", layout.electrodes[1], 1]]) {
      const at = asked(pen, "fillText").find(([text]) => text === name)[1];
      const away = outward * (at - rod.x - rod.width / 2) - rod.width / 2; // from the rod's side that faces the edge
      const isOutside = away > 0 && away < 10;
      const isInside = away < -rod.width && away > -rod.width - 10;
      const edge = outward < 0 ? at : width - at;
      const { width: needed } = pen.measureText(name);
      assert.ok(isOutside ? needed + 8 <= edge : isInside, `${name} at ${at} in ${width} by ${height}`);
    }
  }
});

test("a prediction is held against the rule and against the run, which may differ", () => {
  const both = { expected: "hydrogen", outcome: "zinc" };
  assert.equal(judgePrediction("copper", { expected: "copper" }), "right by the rule, and in this run");
  assert.equal(judgePrediction("zinc", { expected: "copper" }), "the rule says copper");
  assert.equal(judgePrediction("hydrogen", both), "right by the rule; in this run it is zinc");
  assert.equal(judgePrediction("zinc", both), "right in this run; the rule says hydrogen");
});

test("what a class wrote is searched for what is seen, and for words that lose marks", () => {
  const points = [{ name: "bubbles", words: ["bubbl", "fizz"] }, { name: "colourless", words: ["colourless"] }];
  const traps = [{ word: "clear", unless: ["colourless"], advice: "clear is no colour" }, { word: "gas", unless: [], advice: "say what is seen" }];
  const held = (text) => Object.values(compareObservation(text, points, traps)).map((list) => list.join());
  assert.deepEqual(held("It FIZZES and is clear"), ["bubbles", "colourless", "clear is no colour"]);
  assert.deepEqual(held("clear, colourless"), ["colourless", "bubbles", ""]);
  assert.deepEqual(held("Gas bubbles"), ["bubbles", "colourless", "say what is seen"]);
  assert.deepEqual(held("unclear, biogas"), ["", "bubbles,colourless", ""], "part of another word is not that word");
});

test("one who sees no meter hears whether current flows, and again when it or the lamp changes much", () => {
  const heard = (changes, timesS, on = true, { isPlaying = true, changeAtS = Infinity } = {}) => {
    const node = { textContent: "" };
    const flows = mountFlows(node, [{ label: "NaCl", record: madeRecord(0, changes) }], on, {
      isPlaying: () => isPlaying,
      stageAt: (timeS) => Number(timeS >= changeAtS),
    });
    return timesS.map((timeS) => {
      flows.update(timeS);
      return node.textContent;
    });
  };
  const [first, little, much] = heard({ current_A: [0.1, 0.08, 0.06], lamp_V: [6, 6, 6] }, [0, 60, 120]);
  assert.equal(first, "Current flows: 100 mA, the lamp glows.");
  assert.equal(little, first, "a fifth less is not told");
  const falls = { current_A: [0.1, 0.08, 0.07], lamp_V: [6, 6, 6] };
  const asDrawn = ["Current flows: 100 mA, the lamp glows.", "Current flows: 80.0 mA, the lamp glows.", "Current flows: 70.0 mA, the lamp glows."];
  assert.deepEqual(heard(falls, [0, 60, 120], true, { isPlaying: false }), asDrawn, "where the run stands, what the meter shows");
  const [, changed, after] = heard(falls, [0, 60, 120], true, { changeAtS: 60 });
  assert.equal(changed, asDrawn[1], "something was changed");
  assert.equal(after, changed, "an eighth less since then is not told");
  assert.equal(much, "Current flows: 60.0 mA, the lamp glows.");
  const lamp = heard({ lamp_V: [6, 2, 0.1] }, [0, 60, 120]).map((text) => text.split(", ")[1]);
  assert.deepEqual(lamp, ["the lamp glows.", "the lamp glows faintly.", "the lamp stays dark."]);
  assert.deepEqual(heard({ current_A: [0, 0, 0] }, [60]), ["No current flows."]);
  const [hardlyAny, any] = heard({ current_A: [9e-6, 9e-6, 2e-5] }, [0, 120]);
  assert.equal(hardlyAny, "No current flows.", "as the sentences and the side cards take it");
  assert.match(any, /^Current flows: 0\.0200 mA/);
  assert.deepEqual(heard({}, [60], false), [""], "the sentence says that the switch is open");
});

test("of two cells side by side both currents are heard, each with its cell", () => {
  const node = { textContent: "" };
  const cells = [["NaCl", 0.1], ["CuSO₄", 0.05]].map(([label, currentA]) => ({ label, record: madeRecord(0, { current_A: [currentA, currentA, currentA], lamp_V: [6, 6, 6] }) }));
  mountFlows(node, cells, true, { isPlaying: () => true, stageAt: () => 0 }).update(60);
  assert.equal(node.textContent, "NaCl: Current flows: 100 mA, the lamp glows. CuSO₄: Current flows: 50.0 mA, the lamp glows.");
});

test("a side card says how sure the share is where that is worth a line, and not before the products may be named", () => {
  const record = madeRecord(0, { "1:share:Cl2": [0.8, 0.8, 0.8] });
  record.header.electrodes[1].products = [{ formula: "Cl2", kind: "gas", electrons: 2, metal: "" }];
  const node = made(newPage(), "article");
  const words = { title: "Anode", material: "graphite", sign: "+", product: "chlorine", equation: "", waiting: "", on: true, rows: [["Seen", ""], ["Test", ""]], names: ["chlorine"], rule: [], difference: [], cautions: [] };
  const sideCard = fillSideCard(node, words, 1, record, { folded: false });
  sideCard.sayHowSure({ low: [0.75, 0.7, 0.3], high: [0.79, 0.9, 1], wide: 0.05, sentences: ["How sure is this?"] });
  sideCard.update(120);
  assert.equal(node.childElementCount, 1, "only its head, until it may be told");
  sideCard.reveal();
  const range = node.querySelector(".fp-range");
  const at = (timeS) => {
    sideCard.update(timeS);
    return range.hidden ? "" : range.textContent;
  };
  assert.deepEqual([0, 60, 120].map(at), ["", "not sure: 70 to 90\u00a0%", "not sure: 30 to 100\u00a0%"]);
  assert.equal(node.querySelector(".fp-how-sure").textContent, "How sure is this?");
  sideCard.sayHowSure({ low: [], high: [], wide: 0.05, sentences: [] });
  assert.equal(at(120), "");
  assert.equal(node.querySelector(".fp-how-sure").textContent, "");
});

test("a side card tells how much has formed, how much of a gas is still dissolved, and leaves traces out", () => {
  const told = (changes, more = {}) => {
    const record = madeRecord(0, changes);
    record.header.electrodes[1].products = ["Cl2", "O2"].map((formula) => ({ formula, kind: "gas", electrons: 2, metal: "" }));
    Object.assign(record.header.electrodes[1].products[0], more);
    const node = made(newPage(), "article");
    const words = { title: "Anode", material: "graphite", sign: "+", product: "chlorine", equation: "", waiting: "", on: true, rows: [["Seen", ""], ["Test", ""]], names: ["chlorine", "oxygen"], rule: [], difference: [], cautions: [] };
    const sideCard = fillSideCard(node, words, 1, record, { folded: false });
    assert.equal(node.childElementCount, 1, "only its head, until it may be told");
    sideCard.reveal();
    sideCard.update(120);
    const open = [true, false].map((narrow) => sideCard.fold(narrow) && node.querySelector("details").open);
    assert.deepEqual(open, [false, true], "folded where there is no room");
    return [".fp-share", ".fp-made"].map((name) => node.querySelector(name).textContent);
  };
  const all = (value) => [value, value, value];
  const chlorine = (formed, freed, shareOfOxygen, bubbles = 0) => told({ "1:bubbles_cm3:Cl2": [0, 0, bubbles], "1:share:Cl2": all(0.9), "1:share:O2": all(shareOfOxygen), "1:gas_cm3:Cl2": [0, 0, formed], "1:collected_cm3:Cl2": [0, 0, freed], "1:gas_cm3:O2": all(0.2) })[1];
  assert.equal(chlorine(2, 1.5, 0.01), "2.0 cm³ chlorine");
  assert.equal(chlorine(2, 0.5, 0.02), "2.0 cm³ chlorine, most of it dissolved; 0.20 cm³ oxygen");
  assert.equal(chlorine(2, 0.01, 0.01), "2.0 cm³ chlorine, all dissolved so far");
  assert.equal(chlorine(2, 0.01, 0.01, 0.5), "2.0 cm³ chlorine, nearly all of it dissolved");
  assert.equal(told({ "1:share:Cl2": all(0.9) })[0], "90 % of the charge, now 50.0 mA");
  assert.deepEqual(told({ current_A: all(0) }), ["almost no current", "nothing"]);
  assert.deepEqual(told({ current_A: all(9e-6) }), ["almost no current", "nothing"], "as the meter takes it");
  assert.equal(told({ "1:share:Cl2": all(0.005) })[1], "a trace");
  assert.equal(told({ "1:share:Cl2": all(1), "1:mass_g:Cl2": [0, 0, 0.012] }, { kind: "solid" })[1], "12 mg chlorine");
  assert.equal(told({ "1:share:Cl2": all(1), "1:mass_g:Cu": [0, 0, -0.012] }, { kind: "ion", metal: "Cu" })[1], "metal dissolved: 12 mg");
  assert.equal(told({ "1:share:Cl2": all(1), "1:amount_mol:Cl2": [0, 0, 1.4e-4] }, { kind: "ion", charge: 3 })[1], "0.14 mmol chlorine");
});
