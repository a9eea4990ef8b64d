// What is counted in the picture is held against the run: electrons, tallies, events, surfaces.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { FROM_WATER, gas, madeRecord } from "./record.js";

const use = loader("scene/");
const { makeEvents } = await use("motion/events.js");
const { electronAmountMol, electronScaleText, electronsPassed, FARADAY_C_MOL } = await use("motion/tally.js");
const { layOut } = await use("vessels/layout.js");

/** Brine whose current falls to a third halfway, with as much made at each electrode as the charge says. */
function fadingRun() {
  const charge = [0, 6, 8];
  const made = (electrons, share = 1) => charge.map((each) => (share * each) / FARADAY_C_MOL / electrons);
  const record = madeRecord(0, {
    time_s: [0, 200, 400],
    charge_C: charge,
    "0:amount_mol:H2": made(2),
    "1:amount_mol:Cl2": made(2, 0.75),
    "1:amount_mol:O2": made(4, 0.25),
  });
  record.header.electrodes[1].products = [gas("Cl2", "Cl₂", 2, "Cl-", 2), gas("O2", "O₂", 4, "OH-", 4)];
  return { record, charge };
}

test("both tallies are whole, equal, and follow the charge on the scale that is said", () => {
  const { record, charge } = fadingRun();
  const one = electronAmountMol(record);
  assert.equal(electronScaleText(record), `one electron drawn stands for ${one * 1e6} µmol of electrons`);
  const counts = [0, 100, 200, 300, 400].map((timeS) => electronsPassed(record, timeS));
  counts.forEach(({ taken, given }, k) => {
    assert.ok(Number.isInteger(taken) && taken === given);
    const passed = [0, charge[1] / 2, charge[1], (charge[1] + charge[2]) / 2, charge[2]][k];
    assert.ok(Math.abs(taken * one - passed / 96485) <= one, "within one electron of the charge");
  });
  assert.ok(counts.at(-1).taken >= 16, "enough to be compared");
  const gained = counts.slice(1).map(({ taken }, k) => taken - counts[k].taken);
  assert.ok(gained[0] > 2 * gained[3], "slower when less current flows");
});

test("the electrons of the events drawn by any time are what the tallies say", () => {
  const { record } = fadingRun();
  const events = makeEvents(record, layOut(1000, 560, "beaker"));
  for (let timeS = 0; timeS <= 400; timeS += 15) {
    const { taken, given } = electronsPassed(record, timeS);
    const drawn = [0, 1].map((side) => events.begunBy(side, timeS).reduce((sum, { electrons }) => sum + electrons, 0));
    assert.ok(taken - drawn[0] >= 0 && taken - drawn[0] < 2, `${timeS} s: ${taken}, ${drawn[0]}`);
    assert.ok(given - drawn[1] >= 0 && given - drawn[1] < 2 + 4, `${timeS} s: ${given}, ${drawn[1]}`);
  }
});

test("an event passes as many electrons as the charge of what is discharged, and comes as often as its share says", () => {
  const { record } = fadingRun();
  const events = makeEvents(record, layOut(1000, 560, "beaker"));
  const charges = { "H+": 1, "Cl-": -1, "OH-": -1 };
  const all = [0, 1].flatMap((side) => events.begunBy(side, 400));
  assert.ok(all.length > 12);
  for (const { electrons, ions } of all) {
    assert.equal(electrons, Math.abs(ions.reduce((sum, { formula }) => sum + charges[formula], 0)));
  }
  const electronsOf = (product) => all.filter((each) => each.product === product).reduce((sum, each) => sum + each.electrons, 0);
  assert.ok(Math.abs(electronsOf("Cl2") / (electronsOf("Cl2") + electronsOf("O2")) - 0.75) < 0.1);
  const [early, late] = [events.begunBy(0, 200).length, events.begunBy(0, 400).length];
  assert.ok(Math.abs(early / late - 0.75) < 0.1, "events a second follow the current");
});

test("a cell through which almost nothing flows has no tally and no scale", () => {
  const record = madeRecord();
  record.header.idle = true;
  assert.deepEqual(electronsPassed(record, 120), { taken: 0, given: 0 });
  assert.equal(electronScaleText(record), "");
});

test("electrons are given and taken at water's events too", () => {
  const record = madeRecord();
  record.header.electrodes.forEach((electrode, side) => (electrode.products = [FROM_WATER[side]]));
  const events = makeEvents(record, layOut(1000, 560, "beaker"));
  assert.deepEqual([0, 1].map((side) => events.begunBy(side, 400)[0].electrons), [2, 4]);
});
