// A run that is changed while it goes on: which stage a time lies in, what is said there, and what the picture keeps.

import assert from "node:assert/strict";
import test from "node:test";
import { loader } from "./loader.js";
import { madeRecord } from "./record.js";

const { entryOf, lessonOf, sideOf, sinceText, stageAt } = await loader("bench/lesson/")("run_stages.js");
const { labelRooms } = await loader("bench/")("ruler.js");
const { forScales } = await loader("scene/")("record.js");
const { amountOfOneEvent } = await loader("scene/motion/")("events.js");
const { gasOfOneBubble } = await loader("scene/motion/")("bubbles.js");
const { fastestDriftM_S, scaleKept } = await loader("scene/motion/")("scale.js");
const { paceOf } = await loader("scene/motion/")("clock.js");
const { electronPath } = await loader("scene/")("circuit.js");
const { makeDistribution } = await loader("scene/motion/")("distribution.js");
const { layOut } = await loader("scene/vessels/")("layout.js");
const { makeVisits } = await loader("scene/motion/")("visits.js");

const ask = ["cathode", "anode"].map((role) => ({ role, title: role }));
const LESSON = {
  key: "NaCl",
  picture: "at first",
  classroom: { ask, row: { ions: "Na⁺" }, steps: ["first"] },
  stages: [
    { fromS: 60, firstS: 62, swapped: true, text: "wires swapped", picture: "swapped", classroom: { ask, steps: ["second"] } },
    { fromS: 90, firstS: 92, swapped: false, text: "wires swapped", picture: "back", classroom: { ask, steps: ["third"] } },
  ],
};

test("a time lies in the stage in which the picture shows it", () => {
  assert.deepEqual([0, 60, 60.9, 61, 62, 90, 92, 200].map((timeS) => stageAt(LESSON, timeS)), [0, 0, 0, 1, 1, 1, 2, 2]);
  assert.equal(stageAt({}, 100), 0);
});

test("a stage has words and entries of its own, and the row of the results stays that of the first", () => {
  assert.equal(lessonOf(LESSON, 0), LESSON);
  const second = lessonOf(LESSON, 1);
  assert.deepEqual([second.picture, second.key, second.classroom.steps, second.classroom.row], ["swapped", "NaCl", ["second"], { ions: "Na⁺" }]);
  assert.deepEqual(second.classroom.ask.map((each) => entryOf(each, each.role)), ["2 cathode", "2 anode"]);
  assert.equal(entryOf(LESSON.classroom.ask[0], "cathode"), "cathode");
});

test("with the wires swapped the cathode stands where the anode was", () => {
  const [first, second, third] = [0, 1, 2].map((number) => lessonOf(LESSON, number));
  assert.deepEqual([0, 1, -1].map((index) => sideOf(second, index)), [1, 0, -1]);
  for (const each of [first, third]) assert.deepEqual([0, 1, -1].map((index) => sideOf(each, index)), [0, 1, -1]);
  assert.deepEqual([first, second].map(sinceText), ["", "Since 1 min 0 s (wires swapped): "]);
});

test("labels at the ruler have room, and the last one always", () => {
  const rooms = (shares) => labelRooms(shares).map(({ room, isLate }) => (isLate ? "before" : Number(room.toFixed(2))));
  assert.deepEqual(rooms([0.4]), [0.6]);
  assert.deepEqual(rooms([0.4, 0.5]), [0, 0.5]);
  assert.deepEqual(rooms([0.2, 0.5]), [0.3, 0.5]);
  assert.deepEqual(rooms([0.2, 0.7, 0.9]), [0.4, 0, "before"]);
});

test("the picture of a changed run keeps its scales, unless it would be too full by far", () => {
  const plain = madeRecord();
  const twice = { charge_C: [0, 3, 12], "0:amount_mol:H2": [0, 1e-5, 4e-5], "1:amount_mol:O2": [0, 0.5e-5, 2e-5], "0:bubbles_cm3:H2": [0, 0.2, 0.8], "0:collected_cm3:H2": [0, 0.2, 0.8] };
  const changed = { ...madeRecord(0, { ...twice, time_s: [0, 60, 600] }), unchanged: plain };
  assert.equal(forScales(plain), plain);
  assert.equal(forScales(changed), plain);
  for (const scale of [amountOfOneEvent, gasOfOneBubble, fastestDriftM_S, paceOf]) assert.equal(scale(changed), scale(plain), scale.name);
  assert.equal(electronPath(changed, 60), electronPath(plain, 60));
  const alone = madeRecord(0, { ...twice, time_s: [0, 60, 600] });
  assert.notEqual(paceOf(alone), paceOf(plain));
  assert.deepEqual([scaleKept(2, 1, 5), scaleKept(6, 1, 5), scaleKept(6, 0, 5)], [1, 6, 6]);
});

test("water that is added spreads the ions out and takes none away", () => {
  const volumes = [60, 60, 90];
  const thinned = [500, 500, 500, 500, 500, 500, 500, 500, 500, 500, ...Array(5).fill(1000 / 3)];
  const record = madeRecord(0, { volume_cm3: volumes, "c:Na+": thinned, "c:Cl-": thinned });
  const numberOf = (now, sample) => {
    const layout = layOut(1000, 560, "beaker", false, { now, most: 1.5 });
    const crowd = makeDistribution(record, layout, false, Math.random, now);
    const when = { before: sample, after: sample, part: 0 };
    return crowd.wanted(record.header.species[0], when).reduce((sum, each) => sum + each, 0);
  };
  assert.ok(Math.abs(numberOf(1.5, 2) / numberOf(1, 0) - 1) < 0.02);
});

test("no ion is on its way to an electrode before the wires are swapped that make it one", () => {
  const times = Array.from({ length: 31 }, (_, k) => 4 * k);
  const many = (value) => Array(5 * times.length).fill(value);
  const made = times.map((each) => each * 2e-6);
  const nothing = times.map(() => 0);
  const record = madeRecord(0, {
    time_s: times, charge_C: times.map((each) => each / 10), current_A: times.map(() => 0.1), lamp_V: nothing, supply_V: times.map(() => 6),
    swapped: times.map((each) => (each > 60 ? 1 : 0)), "c:Na+": many(500), "c:Cl-": many(500), "c:H+": many(1e-4), pH: many(7), "v:Na+": many(-5e-6), "v:Cl-": many(8e-6),
    "0:amount_mol:H2": nothing, "0:collected_cm3:H2": nothing, "0:bubbles_cm3:H2": nothing,
    "1:amount_mol:O2": made, "1:collected_cm3:O2": nothing, "1:bubbles_cm3:O2": nothing,
  });
  const layout = layOut(1000, 560, "beaker");
  const visits = makeVisits(record, layout, false, []);
  const turnS = 62; // halfway between the samples at 60 and 64 s
  const chargeOf = { "Na+": 1, "Cl-": -1 };
  let seen = 0;
  for (let timeS = 0; timeS <= 120; timeS += 0.5) {
    for (const { side, formula, inS } of visits.calls(timeS)) {
      if (inS <= 0) continue;
      seen += 1;
      assert.equal(chargeOf[formula], (side === 0) !== (timeS > turnS) ? 1 : -1, `${timeS} s`);
    }
  }
  assert.ok(seen > 20);
});
