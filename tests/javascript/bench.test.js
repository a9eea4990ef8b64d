// What the bench says in figures, and what the scene writes beside the drawing.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { asked, plainTheme, rememberingPen } from "./pen.js";
import { madeRecord } from "./record.js";

const { amountText, clockText, currentText, massText, percentText, significant, volumeText } = await loader("bench/")("format.js");
const use = loader("scene/");
const { drawCircuit } = await use("circuit.js");
const { drawLabels } = await use("labels.js");
const { layOut } = await use("layout.js");
const { clamp, modelPlace } = await use("vessel.js");

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
    record.header.electrodes[1].products = [{ formula: "I2", label: "I₂", kind: "dissolved", electrons: 2, tint: "", metal: "", consumed: { formula: "I-", count: 2 } }];
    const pen = rememberingPen();
    drawLabels(pen, record, layOut(1000, 560, vessel), plainTheme, { draw() {} }, 60, { withWater: false, names: ["cathode", "anode"] });
    return asked(pen, "fillText").map(([text]) => text).join(" ");
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
        drawLabels(pen, record, layout, plainTheme, { draw() {} }, 60, { withWater: true, names: ["cathode", "anode"] });
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
