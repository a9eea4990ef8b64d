// What is counted in the picture is held against the run: electrons, tallies, events, surfaces.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { FROM_WATER, gas, madeRecord } from "./record.js";

const use = loader("scene/");
const { amountOfOneEvent, eventScale, FARADAY_C_MOL, makeEvents } = await use("motion/events.js");
const { electronScaleText, electronsPassed, unusualScaleText } = await use("motion/tally.js");
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
  const one = amountOfOneEvent(record);
  assert.equal(electronScaleText(record), `one electron drawn stands for ${one * 1e6} µmol of electrons`);
  const counts = [0, 100, 200, 300, 400].map((timeS) => electronsPassed(record, timeS));
  counts.forEach(({ passed: count, swapped }, k) => {
    assert.ok(Number.isInteger(count) && swapped === 0);
    const passed = [0, charge[1] / 2, charge[1], (charge[1] + charge[2]) / 2, charge[2]][k];
    assert.ok(Math.abs(count * one - passed / 96485) <= one, "within one electron of the charge");
  });
  assert.ok(counts.at(-1).passed >= 16, "enough to be compared");
  const gained = counts.slice(1).map(({ passed }, k) => passed - counts[k].passed);
  assert.ok(gained[0] > 2 * gained[3], "slower when less current flows");
});

test("the electrons of the events drawn by any time are what the tallies say", () => {
  const { record } = fadingRun();
  const events = makeEvents(record, layOut(1000, 560, "beaker"));
  for (let timeS = 0; timeS <= 400; timeS += 15) {
    const { passed } = electronsPassed(record, timeS);
    const drawn = [0, 1].map((side) => events.begunBy(side, timeS).reduce((sum, { electrons }) => sum + electrons, 0));
    assert.ok(passed - drawn[0] >= 0 && passed - drawn[0] < 2, `${timeS} s: ${passed}, ${drawn[0]}`);
    assert.ok(passed - drawn[1] >= 0 && passed - drawn[1] < 2 + 4, `${timeS} s: ${passed}, ${drawn[1]}`);
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
  assert.deepEqual(electronsPassed(record, 120), { passed: 0, swapped: 0 });
  assert.equal(electronScaleText(record), "");
});

test("electrons are given and taken at water's events too", () => {
  const record = madeRecord();
  record.header.electrodes.forEach((electrode, side) => (electrode.products = [FROM_WATER[side]]));
  const events = makeEvents(record, layOut(1000, 560, "beaker"));
  assert.deepEqual([0, 1].map((side) => events.begunBy(side, 400)[0].electrons), [2, 4]);
});

/** Brine through which so much charge (C) has passed at each sample of ten minutes, its wires swapped or not. */
function changedRun(charge, swapped, unchanged = null) {
  const made = charge.map((each) => each / FARADAY_C_MOL / 2);
  const times = charge.map((_, k) => (600 * k) / (charge.length - 1));
  const places = 5 * charge.length;
  const field = (value) => Array(places).fill(value);
  const none = charge.map(() => 0);
  const record = madeRecord(0, {
    time_s: times, charge_C: charge, swapped, current_A: charge.map(() => 0.04), lamp_V: none, supply_V: charge.map(() => 6),
    "c:Na+": field(500), "c:Cl-": field(500), "c:H+": field(1e-4), pH: field(7), "v:Na+": field(-5e-6), "v:Cl-": field(8e-6),
    "0:amount_mol:H2": made, "0:collected_cm3:H2": none, "0:bubbles_cm3:H2": none,
    "1:amount_mol:O2": made.map((each) => each / 2), "1:collected_cm3:O2": none, "1:bubbles_cm3:O2": none,
  });
  return { ...record, unchanged };
}

test("no change during a run takes an electron back from the tallies, however much more or less flows after it", () => {
  const plain = changedRun([0, 4, 8, 12], [0, 0, 0, 0]);
  const before = [0, 200, 400].map((timeS) => electronsPassed(plain, timeS).passed);
  assert.ok(before[2] > before[1] && before[1] > 0);
  for (const later of [8, 9, 20, 80, 800]) {
    const changed = changedRun([0, 4, 8, later], [0, 0, 0, 1], plain);
    assert.equal(amountOfOneEvent(changed), amountOfOneEvent(plain), `${later} C`);
    assert.deepEqual([0, 200, 400].map((timeS) => electronsPassed(changed, timeS).passed), before);
    let last = 0;
    for (let timeS = 0; timeS <= 600; timeS += 7) {
      const { passed } = electronsPassed(changed, timeS);
      assert.ok(passed >= last, `${later} C, ${timeS} s`);
      last = passed;
    }
    const { oneMol, drawnOf } = eventScale(changed);
    assert.ok(later / FARADAY_C_MOL / 2 / (oneMol * drawnOf) < 100, "never too many events to be followed");
  }
});

test("after the wires are swapped, those that passed the other way are told apart", () => {
  const run = changedRun([0, 10, 20, 30, 40, 50], [0, 0, 1, 1, 0, 0]);
  const tally = (timeS) => electronsPassed(run, timeS);
  assert.equal(tally(100).swapped, 0);
  const turned = 180; // halfway between the samples at 120 and 240 s
  assert.equal(tally(turned - 1).swapped, 0);
  assert.equal(tally(300).swapped, tally(300).passed - tally(turned).passed);
  assert.ok(tally(300).swapped > 0);
  assert.equal(tally(600).swapped, tally(420).passed - tally(turned).passed, "and no more, once they are turned back");
});

test("one electron stands for the same in all usual runs, and a run that needs another scale says so", () => {
  const usual = [6, 12, 25, 60].map((charge) => changedRun([0, charge], [0, 0]));
  assert.equal(new Set(usual.map(amountOfOneEvent)).size, 1);
  usual.forEach((run) => assert.equal(unusualScaleText(run), ""));
  const [little, much] = [0.5, 2000].map((charge) => changedRun([0, charge], [0, 0]));
  for (const run of [little, much]) {
    const { passed } = electronsPassed(run, 600);
    assert.ok(passed >= 10 && passed <= 200, String(passed));
  }
  assert.match(unusualScaleText(little), /Here one electron stands for 500 nmol, one tenth of what it stands for in most runs/);
  assert.match(unusualScaleText(much), /stands for 500 µmol, 100 times as much as in most runs/);
});

test("where more happens than can be followed one event in so many is drawn, and its electrons are those of so many", () => {
  const run = changedRun([0, 30, 60], [0, 0, 0]);
  const events = makeEvents(run, layOut(1000, 560, "beaker"));
  assert.ok(events.drawnOf > 1);
  for (let timeS = 0; timeS <= 600; timeS += 20) {
    const drawn = events.begunBy(0, timeS).reduce((sum, { electrons }) => sum + electrons, 0);
    const left = electronsPassed(run, timeS).passed - drawn * events.drawnOf;
    assert.ok(left >= 0 && left <= 2 * events.drawnOf, `${timeS} s`);
  }
});
