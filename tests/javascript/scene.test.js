// What the scene computes, without a browser: decoding, proportions, directions, repeatability.

import assert from "node:assert/strict";
import { mock, test } from "node:test";

import { loader } from "./loader.js";
import { asked, plainTheme, rememberingPen } from "./pen.js";
import { FROM_WATER, gas, madeRecord, PLACES, SAMPLES } from "./record.js";

const use = loader("scene/");
const { gasOfOneBubble, makeBubbles, releasedCm3 } = await use("motion/bubbles.js");
const { electronPath, lampLight, switchClosed } = await use("circuit.js");
const { createClock, defaultTimeLapse } = await use("motion/clock.js");
const { layerEnlarged, layersPx } = await use("deposit.js");
const { drawEvents } = await use("motion/event_drawing.js");
const { amountOfOneEvent, EVENT_S, EXCHANGE_S, makeEvents, onOneScale } = await use("motion/events.js");
const { drawHaze, drawSettled, hazeOpacity, makeFlakes } = await use("liquid/haze.js");
const { acidityAt, indicatorColour } = await use("liquid/indicator.js");
const { makeCrowd } = await use("motion/ions.js");
const { notesBeside, paleIons } = await use("labels.js");
const { layOut } = await use("vessels/layout.js");
const { letThrough, sunk } = await use("liquid/liquid.js");
const { drawMolten, poolShare } = await use("liquid/molten.js");
const { seededRandom, streamOf } = await use("motion/random.js");
const { sampleAt, timesOfPassing } = await use("record.js");
const { particlesOf } = await use("particles.js");
const { closeUpSteps } = await use("motion/steps.js");
const { nearestIon } = await use("motion/spacing.js");
const { makeVisits } = await use("motion/visits.js");
const { electronsPassed } = await use("motion/tally.js");
const { makeWater } = await use("motion/water.js");

test("a record is decoded wherever its bytes begin", () => {
  for (const shift of [0, 4, 3]) {
    const record = madeRecord(shift);
    assert.deepEqual([...record.timeS], [0, 60, 120]);
    assert.ok(Math.abs(sampleAt(record.chargeC, record, 30) - 1.5) < 1e-6);
    assert.equal(record.electrode(0).amountMol("H2").length, SAMPLES);
  }
});

test("every computer draws the same picture: the generator's numbers are those of mulberry32 as published", () => {
  const numbers = (seed, many) => {
    const random = seededRandom(seed);
    return Array.from({ length: many }, () => random() * 2 ** 32);
  };
  assert.deepEqual(numbers(0, 4), [1144304738, 1416247, 958946056, 627933444]);
  assert.deepEqual(numbers(1985, 2), [3527837133, 3112574143]);
  const first = [0, 1, 2, 3].flatMap((seed) => [0, 1, 2, 3].map((which) => streamOf(seed, which)()));
  assert.equal(new Set(first).size, 16, "each of many things has a stream of its own");
});

const VESSELS = ["beaker", "U-tube", "dish", "paper strip"];
const placesOf = (crowd) => crowd.ions.map((ion) => [ion.formula, ...Object.values(crowd.placeOf(ion))]);

test("ions are drawn in proportion to their concentrations, at most a dozen of either sign, and water's own are always there", () => {
  const counts = makeCrowd(madeRecord(), layOut(1249, 713, "beaker")).counts();
  assert.deepEqual([counts["Na+"], counts["Cl-"]], [12, 12]);
  assert.deepEqual([counts["H+"], counts["OH-"]], [1, 1]);
  const twice = makeCrowd(madeRecord(0, { "c:Na+": Array(SAMPLES * PLACES).fill(1000) }), layOut(1249, 713, "beaker")).counts();
  assert.deepEqual([twice["Na+"], twice["Cl-"]], [12, 6]);
  const phone = makeCrowd(madeRecord(), layOut(360, 350, "beaker")).counts();
  assert.ok(phone["Na+"] >= 4 && phone["Na+"] <= 8 && phone["Cl-"] === phone["Na+"], "fewer");
});

test("a time of the run has one crowd, whatever was looked at before, and a later one another", () => {
  const record = madeRecord();
  for (const vessel of VESSELS) {
    const layout = layOut(1000, 560, vessel);
    const straight = makeCrowd(record, layout);
    straight.moveTo(13.37);
    const visited = makeCrowd(record, layout);
    for (const pictureS of [19, 3.01, 13.2, 0, 13.36, 13.37]) visited.moveTo(pictureS);
    assert.deepEqual(placesOf(visited), placesOf(straight), vessel);
    const played = makeCrowd(record, layout);
    for (let frame = 0; frame <= 802; frame += 1) played.moveTo(frame / 60);
    played.moveTo(13.37);
    assert.deepEqual(placesOf(played), placesOf(straight), vessel);
    const before = placesOf(straight);
    straight.moveTo(13.4);
    const moved = placesOf(straight).map(([, x, y], k) => Math.hypot(x - before[k][1], y - before[k][2]));
    assert.ok(Math.max(...moved) > 0 && Math.max(...moved) < 0.6 * layout.ionRadius, `${Math.max(...moved)}`);
  }
});

test("the same time shows the same ions at the same places in a picture of another size", () => {
  const record = madeRecord();
  const share = (layout, [, x, y]) => [(x - layout.bounds.x) / layout.bounds.width, (y - layout.bounds.y) / layout.bounds.height];
  const [first, second] = [layOut(1249, 713, "beaker"), layOut(1000, 571, "beaker")];
  const crowds = [first, second].map((layout) => makeCrowd(record, layout));
  for (const crowd of crowds) crowd.moveTo(4);
  const [here, there] = crowds.map(placesOf);
  assert.equal(here.length, there.length);
  const near = here.filter((each, k) => {
    const [a, b] = [share(first, each), share(second, there[k])];
    return Math.hypot(a[0] - b[0], a[1] - b[1]) < 0.1;
  });
  assert.ok(near.length >= 0.7 * here.length, `${near.length} of ${here.length}`);
});

test("no ion lies on another, and all stay in the liquid", () => {
  for (const vessel of VESSELS) {
    for (const [width, height] of [[1500, 700], [1022, 574], [360, 350]]) {
      const layout = layOut(width, height, vessel);
      const crowd = makeCrowd(madeRecord(), layout);
      let [close, pairs] = [0, 0];
      for (let pictureS = 1; pictureS <= 20; pictureS += 1) {
        crowd.moveTo(pictureS);
        for (const { x, y } of crowd.ions) assert.ok(layout.inside(x, y), `${vessel} ${width}`);
        crowd.ions.forEach((a, i) => crowd.ions.slice(i + 1).forEach((b) => {
          pairs += 1;
          if (Math.hypot(a.x - b.x, a.y - b.y) < 1.75 * layout.ionRadius) close += 1;
        }));
      }
      assert.ok(close < 0.001 * pairs, `${close} of ${pairs} in ${vessel} ${width}`);
    }
  }
});

test("a dozen ions are spread as their concentration is: both halves of an even liquid hold about as many", () => {
  for (const vessel of VESSELS) {
    const layout = layOut(1249, 713, vessel);
    const crowd = makeCrowd(madeRecord(), layout);
    for (const formula of ["Na+", "Cl-"]) {
      const shares = [];
      for (let pictureS = 2; pictureS <= 20; pictureS += 0.5) {
        crowd.moveTo(pictureS);
        const places = crowd.ions.filter((ion) => ion.formula === formula).map(({ x, y }) => layout.along(x, y));
        shares.push(places.filter((along) => along < 0.5).length / places.length);
      }
      const mean = shares.reduce((total, each) => total + each, 0) / shares.length;
      const said = `${formula} in ${vessel}: mean ${mean.toFixed(2)}, ${Math.min(...shares).toFixed(2)} to ${Math.max(...shares).toFixed(2)}`;
      assert.ok(Math.abs(mean - 0.5) < 0.08 && Math.min(...shares) >= 0.3 && Math.max(...shares) <= 0.7, said);
    }
  }
});

test("ions that are not discharged never become fewer or more", () => {
  const crowd = makeCrowd(madeRecord(), layOut(1000, 560, "beaker"));
  const before = crowd.counts()["Na+"];
  for (let pictureS = 0; pictureS < 20; pictureS += 0.5) {
    crowd.moveTo(pictureS);
    assert.equal(crowd.counts()["Na+"], before);
  }
});

test("an ion that is not discharged comes up to its electrode and turns back; until it is explained every kind does", () => {
  const record = madeRecord();
  record.header.electrodes[1].products = [gas("Cl2", "Cl₂", 2, "Cl-", 2)];
  const layout = layOut(1249, 713, "beaker");
  const kinds = (explained) => new Set(makeVisits(record, layout, explained, []).all.map(({ side, formula }) => `${side} ${formula}`));
  assert.deepEqual([...kinds(true)], ["0 Na+"], "sodium at the cathode; chloride is discharged at the anode");
  assert.deepEqual([...kinds(false)].sort(), ["0 Na+", "1 Cl-"]);
  const visits = makeVisits(record, layout, true, []);
  const crowd = makeCrowd(record, layout, { calls: visits.calls });
  let came = 0;
  for (const { startS, x, y } of visits.all) {
    crowd.moveTo(startS / defaultTimeLapse(120) + 0.02);
    const guest = crowd.ions.find(({ call }) => call?.turns && call.inS <= 0);
    if (!guest) continue;
    came += 1;
    assert.ok(guest.formula === "Na+" && Math.hypot(guest.x - x, guest.y - y) < 0.3 * layout.ionRadius, "it is at the face");
    crowd.moveTo(startS / defaultTimeLapse(120) + 1.6);
    assert.ok(crowd.ions.includes(guest) && Math.hypot(guest.x - x, guest.y - y) > 1.5 * layout.ionRadius, "and has gone back");
  }
  assert.ok(came >= 2, `${came}`);
  record.currentA.fill(0);
  assert.deepEqual(makeVisits(record, layout, false, []).all, [], "none without a current");
});

test("hydrogen ions stay where the pH is low, however fast they drift", () => {
  const acidAtTheAnode = Array.from({ length: SAMPLES }, () => [13, 11, 7, 3, 2]).flat();
  const record = madeRecord(0, {
    pH: acidAtTheAnode,
    "v:H+": Array(SAMPLES * PLACES).fill(-4e-5),
  });
  for (const vessel of VESSELS) {
    const layout = layOut(1000, 560, vessel);
    const crowd = makeCrowd(record, layout);
    crowd.moveTo(10);
    const ions = crowd.ions.filter(({ formula, left }) => formula === "H+" && left === Infinity);
    assert.ok(ions.length >= 1, vessel);
    const nearCathode = ions.filter((ion) => layout.along(ion.x, ion.y) < 0.4).length;
    assert.ok(nearCathode <= ions.length * 0.2, `${nearCathode} of ${ions.length} in ${vessel}`);
  }
});

test("events and bubbles come in the proportions of the run", () => {
  const record = madeRecord(0, { time_s: [0, 200, 400], "0:amount_mol:H2": [0, 3.1e-5, 6.2e-5], "1:amount_mol:O2": [0, 1.55e-5, 3.1e-5] });
  const one = amountOfOneEvent(record);
  const number = (side, formula) => timesOfPassing(record.electrode(side).amountMol(formula), record, one).length;
  const [hydrogen, oxygen] = [number(0, "H2"), number(1, "O2")];
  assert.ok(oxygen >= 4);
  assert.ok(Math.abs(hydrogen - 2 * oxygen) <= 1);
  assert.ok(Math.abs(releasedCm3(record, 0, 400) / releasedCm3(record, 1, 400) - 2) < 1e-6);
  assert.ok(gasOfOneBubble(record) > 0);
});

test("an event shows the electrons of its half-equation: two for hydrogen, four for oxygen", () => {
  const record = madeRecord();
  const layout = layOut(1000, 560, "beaker");
  for (const [side, product, electrons, ions] of [[0, "H2", 2, 2], [1, "O2", 4, 4]]) {
    const own = makeEvents(record, layout).begunBy(side, 120).find((event) => event.product === product);
    assert.equal(own.side, side);
    assert.equal(own.oxidation, side === 1);
    assert.equal(own.ions.length, ions);
    /** Where the electrons are after some time. @param {number} age */
    const drawn = (age) => {
      const pen = rememberingPen();
      drawEvents(pen, [{ ...own, age, endAge: EVENT_S }], { draw() {} }, layout, plainTheme);
      return asked(pen, "arc").map(([x, y]) => ({ x, y }));
    };
    assert.equal(drawn(0.1).length, 0); // the ions are still on their way
    const [early, late] = [drawn(EXCHANGE_S - 0.3), drawn(EXCHANGE_S - 0.05)];
    assert.equal(early.length, electrons);
    assert.equal(new Set(early.map(({ y }) => y.toFixed(3))).size, electrons); // each can be seen
    const rod = layout.electrodes[side];
    const depth = ({ x }) => Math.abs(x - (rod.x + rod.width / 2));
    // at the cathode they leave the rod, at the anode they enter it
    assert.equal(depth(late[0]) > depth(early[0]), side === 0);
    const isOwn = (event) => event.startS === own.startS && event.side === side;
    const after = (timeS) => makeEvents(record, layout).at(timeS).some(isOwn);
    assert.equal(after(own.endS - 0.1), true);
    assert.equal(after(own.endS + 0.1), false);
    const lastsS = (own.endS - own.startS) / defaultTimeLapse(120);
    assert.ok(lastsS > EXCHANGE_S + 0.4 && lastsS <= EVENT_S + 1e-6, "its product is seen, at most for the usual time");
  }
});

test("electrons move as the charge does, and the lamp glows by its voltage", () => {
  const record = madeRecord();
  const whole = electronPath(record, 120);
  assert.ok(Math.abs(electronPath(record, 60) - whole / 2) < 1e-6);
  assert.ok(Math.abs(lampLight(record, 60) - 0.5 ** 3.4) < 1e-6);
});

test("a clock plays by its time-lapse, stops at the end, and lets go of everything", () => {
  const frames = [];
  const listeners = new Set();
  const time = mock.method(performance, "now", () => 1000);
  globalThis.requestAnimationFrame = (call) => frames.push(call);
  globalThis.cancelAnimationFrame = (id) => delete frames[id - 1];
  globalThis.document = {
    hidden: false,
    addEventListener: (_, listener) => listeners.add(listener),
    removeEventListener: (_, listener) => listeners.delete(listener),
  };
  const clock = createClock({ durationS: 10, timeLapse: 20 });
  const told = [];
  clock.subscribe((timeS) => told.push(timeS));
  clock.play();
  for (let now = 1000; clock.playing && now < 3000; now += 50) frames.pop()?.(now);
  assert.equal(clock.timeS, 10);
  assert.equal(clock.playing, false);
  assert.ok(told.length > 5);
  clock.destroy();
  assert.equal(listeners.size, 0);
  time.mock.restore();
});

test("ten seconds of play are ten seconds of the clock, however slowly the frames come", () => {
  let now = 5000;
  const time = mock.method(performance, "now", () => now);
  let frame = null;
  let seen = () => {};
  globalThis.requestAnimationFrame = (call) => {
    frame = call;
    return 1;
  };
  globalThis.cancelAnimationFrame = () => {
    frame = null;
  };
  globalThis.document = { hidden: false, addEventListener: (_, act) => (seen = act), removeEventListener() {} };
  for (const frameMs of [16, 250, 1000]) {
    const clock = createClock({ durationS: 1000, timeLapse: 20 });
    clock.play();
    const startMs = now;
    while (now - startMs < 10_000) frame((now += frameMs));
    assert.ok(Math.abs(clock.timeS - ((now - startMs) / 1000) * 20) < 1e-9, `${clock.timeS} at ${frameMs} ms a frame`);
    const before = clock.timeS;
    document.hidden = true;
    now += 60_000; // nobody looks
    document.hidden = false;
    seen();
    frame((now += frameMs));
    assert.ok(Math.abs(clock.timeS - before - (frameMs / 1000) * 20) < 1e-9);
    clock.destroy();
  }
  time.mock.restore();
});

test("Play pressed twice plays no faster, and a step stops the run a sixtieth further on, never beyond its end", () => {
  let asks = 0;
  globalThis.requestAnimationFrame = () => (asks += 1);
  globalThis.cancelAnimationFrame = () => {};
  globalThis.document = { hidden: false, addEventListener() {}, removeEventListener() {} };
  const clock = createClock({ durationS: 120, timeLapse: 20 });
  clock.play();
  clock.play();
  assert.equal(asks, 1);
  clock.step();
  assert.deepEqual([clock.timeS, clock.playing], [2, false]);
  clock.seek(500);
  clock.step();
  assert.equal(clock.timeS, 120);
  clock.seek(-1);
  assert.equal(clock.timeS, 0);
  clock.destroy();
});

const SIZES = [[1000, 560], [360, 350], [1860, 1000], [1280, 400]];

test("bubbles and events at a time are the same at every size, and the same each time it is shown", () => {
  const record = madeRecord();
  for (const vessel of ["beaker", "U-tube", "dish", "paper strip"]) {
    const drawings = SIZES.map(([width, height]) => {
      const layout = layOut(width, height, vessel);
      return { layout, bubbles: makeBubbles(record, layout), events: makeEvents(record, layout) };
    });
    let most = 0;
    for (const timeS of [7, 31.3, 64, 31.3, 120]) {
      const seen = drawings.map(({ layout, bubbles, events }) => ({
        bubbles: bubbles.at(timeS).map(({ side, y }) => {
          const rod = layout.electrodes[side];
          return [side, ((y - layout.liquidTop) / (rod.y + rod.height - layout.liquidTop)).toFixed(1)];
        }),
        // where there is less room for them they end sooner
        events: [0, 1].flatMap((side) => events.begunBy(side, timeS).map(({ startS, product, electrons }) => [side, startS, product, electrons])),
        now: events.at(timeS).map(({ startS, age }) => [startS, age]),
      }));
      for (const each of seen) {
        assert.equal(each.bubbles.length, seen[0].bubbles.length);
        each.bubbles.forEach(([side, depth], k) => {
          assert.equal(side, seen[0].bubbles[k][0]);
          assert.ok(Math.abs(depth - seen[0].bubbles[k][1]) < 0.25, `${depth} ${seen[0].bubbles[k]}`);
        });
        assert.deepEqual(each.events, seen[0].events);
        for (const [startS, age] of each.now) assert.ok(age >= (timeS - startS) / defaultTimeLapse(120) - 1e-9 && age < EVENT_S + 1e-9);
      }
      most = Math.max(most, seen[0].bubbles.length);
      assert.ok(timeS < 30 || seen[0].events.length > 0);
    }
    assert.ok(most > 10, `${most} in ${vessel}`);
  }
});

test("a bubble grows, rises and goes, and all that came are what the run released", () => {
  const record = madeRecord();
  const layout = layOut(1000, 560, "beaker");
  const bubbles = makeBubbles(record, layout);
  const paceS = defaultTimeLapse(120);
  for (const timeS of [30, 60, 90]) {
    const [now, later] = [bubbles.at(timeS), bubbles.at(timeS + paceS / 60)];
    const rod = layout.electrodes[0];
    for (const { side, x, y, size } of now) {
      assert.ok(y > layout.liquidTop + size * 0.99 && y <= rod.y + rod.height);
      assert.ok(Math.abs(x - layout.electrodes[side].x) < 5 * layout.ionRadius);
    }
    const mean = (list) => list.reduce((total, { y }) => total + y, 0) / list.length;
    const still = now.filter((each) => later.some(({ x, y }) => x === each.x && y === each.y)).length;
    assert.ok(later.length && mean(now) !== mean(later));
    assert.ok(still < now.length); // some have grown and rise
    for (const side of [0, 1]) {
      const due = releasedCm3(record, side, timeS) / bubbles.oneCm3;
      assert.ok(Math.abs(bubbles.numberBy(side, timeS) - due) <= 1);
    }
  }
});

test("bubbles that dissolve on their way are gone before the surface", () => {
  const layout = layOut(1000, 560, "beaker");
  const risers = (collected) => {
    const bubbles = makeBubbles(madeRecord(0, { "0:collected_cm3:H2": collected }), layout);
    const times = Array.from({ length: 100 }, (_, k) => 20 + k);
    return times.flatMap((timeS) => bubbles.at(timeS)).filter(({ side, y, size }) => side === 0 && y - layout.liquidTop < 6 * size);
  };
  assert.ok(risers([0, 0.2, 0.4]).length > 2 * risers([0, 0, 0]).length);
});

test("water with a trace of salt is drawn all but empty, a solution full", () => {
  const drawn = (concentration) => {
    const record = madeRecord(0, {
      "c:Na+": Array(SAMPLES * PLACES).fill(concentration),
      "c:Cl-": Array(SAMPLES * PLACES).fill(concentration),
    });
    return makeCrowd(record, layOut(1000, 560, "beaker")).counts()["Na+"];
  };
  assert.ok(drawn(500) > 9);
  assert.equal(drawn(500), drawn(5));
  assert.ok(drawn(5e-3) <= 1);
});

test("two colours in one liquid take their light one after the other", () => {
  const blue = { absorbance: [0.001, 0.0001, 0], concentration: 500 };
  const brown = { absorbance: [0, 0.03, 0.3], concentration: 2 };
  const [red, green, rest] = letThrough([blue, brown]);
  assert.ok(Math.abs(red - 10 ** -0.5) < 1e-12);
  assert.ok(Math.abs(green - 10 ** -0.11) < 1e-12);
  assert.ok(Math.abs(rest - 10 ** -0.6) < 1e-12);
  assert.deepEqual(letThrough([]), [1, 1, 1]);
});

test("an indicator has the colour of the pH, and chlorine bleaches it", () => {
  const scale = [[4, [200, 0, 0]], [8, [0, 0, 200]]];
  assert.deepEqual(indicatorColour(scale, 1), [200, 0, 0]);
  assert.deepEqual(indicatorColour(scale, 6), [100, 0, 100]);
  assert.deepEqual(indicatorColour(scale, 13), [0, 0, 200]);
  const pH = Array.from({ length: SAMPLES }, () => [12, 10, 7, 5, 3]).flat();
  const when = { before: 0, after: 0, part: 0 };
  const clear = madeRecord(0, { pH });
  assert.ok(Math.abs(acidityAt(clear, when, 1).pH - 3) < 1e-6);
  assert.equal(acidityAt(clear, when, 1).left, 1);
  const chlorine = Array.from({ length: SAMPLES }, () => [0, 0, 0, 1, 50]).flat();
  const bleached = madeRecord(0, { pH, "c:Cl2": chlorine });
  assert.ok(acidityAt(bleached, when, 1).left < 0.02);
  assert.equal(acidityAt(bleached, when, 0).left, 1);
});

/** A run as a board shows it that has hydrogen and oxygen come from water. */
function waterRecord() {
  const record = madeRecord();
  record.header.electrodes.forEach((electrode, side) => (electrode.products = [FROM_WATER[side]]));
  return record;
}

test("with hydrogen and oxygen from water, molecules of water come to both electrodes, and leave OH⁻ and H⁺ behind", () => {
  const record = waterRecord();
  const layout = layOut(1000, 560, "beaker");
  const events = makeEvents(record, layout);
  assert.deepEqual(events.calls(19), [], "no ion is called to an electrode");
  for (const [side, product, molecules, left, ions] of [[0, "H2", 2, "OH-", 2], [1, "O2", 2, "H+", 4]]) {
    const [own] = events.begunBy(side, 120);
    assert.equal(own.product, product);
    /** What is drawn at an age. @param {number} age */
    const drawn = (age) => {
      const found = [];
      drawEvents(rememberingPen(), [{ ...own, age, endAge: EVENT_S }], { draw: (_, formula, x) => found.push({ formula, x }) }, layout, plainTheme);
      return found;
    };
    assert.deepEqual(drawn(0.3).map(({ formula }) => formula), Array(molecules).fill("H2O"));
    const [early, late] = [EXCHANGE_S + 0.5, EXCHANGE_S + 0.9].map(drawn);
    assert.deepEqual(late.map(({ formula }) => formula), [product, ...Array(ions).fill(left)]);
    const rod = layout.electrodes[side];
    const away = ({ x }) => Math.min(Math.abs(x - rod.x), Math.abs(x - rod.x - rod.width));
    assert.ok(away(late.at(-1)) > away(early.at(-1)), "they leave the electrode");
  }
  const known = new Map(particlesOf(record).map((each) => [each.formula, each.label]));
  for (const formula of ["H2O", "OH-", "H+", "O2", "H2"]) assert.ok(known.get(formula), `${formula} has a look of its own`);
  const narrow = layOut(340, 300, "beaker");
  const legend = (of, withWater) => notesBeside(of, narrow, 60, withWater).join("; ");
  assert.match(legend(record, false), /water: only what reacts is drawn/);
  assert.match(legend(record, true), /water: far more than drawn/);
  assert.doesNotMatch(legend(madeRecord(), false), /water/);
});

test("in the close-up both electrodes pass the same number of electrons", () => {
  const product = (electrons, count) => ({ electrons, consumed: { formula: "X", count } });
  for (const [n, m] of [[2, 4], [2, 2], [1, 4], [1, 1], [2, 1]]) {
    const steps = closeUpSteps([product(n, 2), product(m, 4)]);
    const events = [0, 1].map((side) => steps.filter((step) => step.sides[side].formed).length);
    assert.equal(events[0] * n, events[1] * m);
    const last = steps.at(-1);
    assert.equal(last.passed, events[0] * n);
    assert.ok(last.sides.every((side) => side.formed));
    for (const step of steps) {
      const across = [0, 1].map((side) => step.sides[side].crossing);
      assert.equal(across[0], across[1]);
    }
  }
});

test("four hundred ions find room where they are drawn smaller", () => {
  const record = madeRecord();
  for (const vessel of ["beaker", "U-tube", "dish", "paper strip"]) {
    const total = (many) => {
      const layout = layOut(1020, 570, vessel, many);
      const crowd = makeCrowd(record, layout, { many });
      for (const ion of crowd.ions) assert.ok(layout.inside(ion.x, ion.y));
      return Object.values(crowd.counts()).reduce((a, b) => a + b);
    };
    assert.ok(total(true) >= 4 * total(false), `${vessel} ${total(true)}`);
    assert.ok(total(true) <= 403);
  }
});

test("molecules of water stay in the liquid and wander about their places", () => {
  const layout = layOut(1020, 570, "U-tube");
  const water = makeWater(layout);
  const [first, later] = [0, 7.3].map((pictureS) => water.at(pictureS));
  assert.ok(first.length > 5 && later.length === first.length);
  for (const { x, y } of [...first, ...later]) assert.ok(layout.inside(x, y));
  const moved = first.map(({ x, y }, k) => Math.hypot(later[k].x - x, later[k].y - y));
  assert.ok(Math.max(...moved) > 0 && Math.max(...moved) < 1.5 * layout.ionRadius);
  assert.deepEqual(water.at(7.3), later);
});

test("in a U-tube ions and colours go down one limb, round the bend and up the other", () => {
  const layout = layOut(1000, 560, "U-tube");
  const { x, y, width, height } = layout.bounds;
  let bends = 0;
  for (let k = 0; k < 4000; k += 1) {
    const [px, py] = [x + ((k * 7) % 100) * (width / 100), y + (k / 4000) * height];
    if (!layout.inside(px, py)) continue;
    const way = layout.direction(px, py);
    assert.ok(Math.abs(Math.hypot(way.x, way.y) - 1) < 1e-9);
    const [before, after] = [-1, 1].map((by) => layout.along(px + by * way.x, py + by * way.y));
    assert.ok(after > before, `${px}, ${py}`);
    if (way.x > 0.99) bends += 1;
  }
  assert.ok(bends > 5);
  const turns = [];
  const pen = rememberingPen();
  pen.createConicGradient = (_, atX, atY) => ({ addColorStop: (part, colour) => turns.push([atX, atY, part, Number(colour)]) });
  layout.fill(pen, String);
  for (const [atX, atY, part, along] of turns) {
    const angle = 2 * Math.PI * part; // clockwise from the right
    const below = [atX + 100 * Math.cos(angle), atY + 100 * Math.sin(angle) + 1e-6];
    assert.ok(Math.abs(layout.along(...below) - along) < 1e-3, "the bend has the colour of its place");
  }
  assert.ok(turns.length > 20 && new Set(turns.map(([atX]) => atX)).size === 2);
});

test("what has settled covers the bottom the more the more has settled, and nothing does before", () => {
  const record = madeRecord(0, { "settled_mol_m3:Mg(OH)2": [0, 0.05, 0.4] });
  record.header.hazes = [{ formula: "Mg(OH)2", tint: "--fp-haze-white" }, { formula: "CuCl", tint: "--fp-haze-grey" }];
  const layer = (timeS) => {
    const pen = rememberingPen();
    drawSettled(pen, record, { stroke: 1, bounds: { x: 10, y: 20, width: 300, height: 200 } }, plainTheme, timeS);
    return pen.calls.map(({ given: [x, y, width, height], fill, alpha }) => ({ x, width, bottom: y + height, fill, alpha }));
  };
  const [[before], [some], [most, none]] = [0, 60, 120].map(layer);
  assert.equal(before.alpha, 0);
  assert.ok(some.alpha > 0.1 && most.alpha > some.alpha && most.alpha <= 0.8);
  assert.deepEqual([most.x, most.width, most.bottom, most.fill], [10, 300, 220, "--fp-haze-white"]);
  assert.equal(none.alpha, 0, "of a solid of which nothing has settled");
});

test("a haze hides the more the more there is of it, and never all", () => {
  assert.equal(hazeOpacity(0), 0);
  assert.equal(hazeOpacity(-1e-9), 0);
  assert.ok(hazeOpacity(2) > hazeOpacity(1));
  assert.ok(hazeOpacity(1e6) <= 0.8);
});

test("a precipitate is seen in the liquid from afar: outlined flakes, the more the more there is, as many in any wide picture", () => {
  const when = { before: 0, after: 0, part: 0 };
  const numberOf = (amount, [width, height]) => {
    const record = madeRecord(0, { "h:AgCl": Array(SAMPLES * PLACES).fill(amount) });
    record.header.hazes = [{ formula: "AgCl", tint: "--fp-haze-white" }];
    const layout = layOut(width, height, "beaker");
    const pen = rememberingPen();
    drawHaze(pen, record, layout, { ...plainTheme, colour: (name) => (name === "--fp-haze-white" ? "#ffffff" : name) }, when, makeFlakes(layout));
    const [rim] = pen.calls.filter(({ name }) => name === "stroke");
    if (rim) assert.ok(rim.stroke === "--fp-ion-ink" && rim.alpha > 0.4, "told from pale water by its outline");
    return asked(pen, "closePath").length;
  };
  const projected = [1249, 713];
  const [none, thin, some, much] = [0, 0.1, 1, 8].map((amount) => numberOf(amount, projected));
  assert.equal(none, 0);
  assert.ok(thin > 40, `${thin}: a thin haze is seen too`);
  assert.ok(some > 2 * thin && much > some);
  assert.equal(numberOf(1, [800, 500]), some);
  const onPhone = numberOf(8, [360, 250]);
  assert.ok(onPhone > 100 && onPhone < much);
  const flake = makeFlakes(layOut(...projected, "beaker"))[0].size;
  assert.ok(2 * flake > 7, `${flake}: a flake is at least as wide as the eye tells from eight metres`);
});

test("beside the rods of a U-tube there is room for who is called, and for nobody else", () => {
  const record = madeRecord();
  for (const [width, height] of [[1500, 700], [360, 350]]) {
    const layout = layOut(width, height, "U-tube");
    const visits = makeVisits(record, layout, false, []);
    const crowd = makeCrowd(record, layout, { calls: visits.calls });
    const [rod] = layout.electrodes;
    let guests = 0;
    for (let pictureS = 1; pictureS < 20; pictureS += 0.1) {
      crowd.moveTo(pictureS);
      const beside = crowd.ions.filter(({ y }) => y < rod.y + rod.height - 0.5 * layout.ionRadius);
      guests += beside.filter(({ call }) => call).length;
      assert.ok(beside.every(({ call }) => call), `${width} px`);
    }
    assert.ok(guests > 0, `${width} px`);
  }
});

test("no ion is called to an electrode through a rod or through glass, and it comes in time", () => {
  for (const vessel of VESSELS) {
    const layout = layOut(1000, 560, vessel);
    const [rod, other] = layout.electrodes;
    const [x, y] = [rod.x + rod.width + 1.15 * layout.ionRadius, (layout.liquidTop + rod.y + rod.height) / 2];
    const call = { name: "1", formula: "Na+", x, y };
    const ion = (atX, atY) => ({ formula: "Na+", x: atX, y: atY, left: Infinity, call: null });
    // behind the rod, and in the other limb
    const far = [ion(rod.x - 1.5 * layout.ionRadius, y), ion(other.x + 1.5 * layout.ionRadius + other.width, y)];
    assert.equal(nearestIon(layout, far, call), null, vessel);
    const near = ion(x + 4, y + 6);
    assert.equal(nearestIon(layout, [...far, near], call), near, vessel);
  }
  const layout = layOut(1249, 713, "beaker");
  const [rod] = layout.electrodes;
  const place = { x: rod.x + rod.width + 3 * layout.ionRadius, y: layout.liquidTop + 3 * layout.ionRadius };
  const due = 2;
  const calls = (timeS) => (timeS / defaultTimeLapse(120) < due ? [{ name: "1", formula: "Na+", ...place, inS: due - timeS / defaultTimeLapse(120), turns: false, awayX: 0, awayY: 0 }] : []);
  const crowd = makeCrowd(madeRecord(), layout, { calls });
  crowd.moveTo(due - 0.034);
  const coming = crowd.ions.find((each) => each.call);
  assert.ok(Math.hypot(coming.x - place.x, coming.y - place.y) < 0.3 * layout.ionRadius);
  crowd.moveTo(due + 0.1);
  assert.ok(!crowd.ions.includes(coming), "its event has begun");
  assert.equal(crowd.counts()["Na+"], 12, "and another has come into the picture");
});

test("a layer is drawn as thick as its mass, density and surface say, times the factor that is said", () => {
  const layout = layOut(1000, 560, "beaker");
  const plated = (grams) =>
    madeRecord(0, { "0:layer_g": [0, grams / 2, grams], "1:layer_g": [0, -grams / 2, -grams] });
  for (const grams of [1e-3, 0.02, 0.7]) {
    const record = plated(grams);
    const factor = layerEnlarged(record);
    const metres = (grams / 2.25 / 10) * 1e-2;
    const [grown, worn] = layersPx(record, layout, 120);
    assert.ok(Math.abs(grown / ((metres * factor * layout.gapPx) / 0.03) - 1) < 1e-5);
    assert.ok(Math.abs(worn + grown) < 1e-6);
    assert.ok(grown > 0 && grown <= 0.3 * layout.electrodes[0].width + 1e-6);
    assert.match(String(factor), /^[125]0*$/);
  }
  assert.ok(layersPx(plated(2e-5), layout, 120)[0] < layersPx(plated(2e-4), layout, 120)[0] / 4);
  assert.equal(layerEnlarged(plated(0)), 0);
  assert.equal(layerEnlarged(plated(1e-7)), 0, "what cannot be seen is not enlarged");
});

test("what sinks is more below, and over the depth as much as the model says", () => {
  for (const away of [0, 0.1, 0.6]) {
    let sum = 0;
    for (let band = 0; band < 1000; band += 1) sum += sunk((band + 0.5) / 1000, away) / 1000;
    assert.ok(Math.abs(sum - 1) < 0.005, `${sum}`);
    assert.ok(sunk(0.9, away) > sunk(0.3, away));
  }
  assert.ok(sunk(0.2, 0.6) < sunk(0.2, 0) / 2);
});

test("an open switch stops the electrons, and no way is pointed where none flow", () => {
  const record = madeRecord(0, {
    supply_V: [6, 0, 0],
    current_A: [0.05, 0, 0],
    charge_C: [0, 3, 3],
  });
  assert.equal(switchClosed(record, 10), true);
  assert.equal(switchClosed(record, 90), false);
  assert.equal(electronPath(record, 90), electronPath(record, 120));
});

test("a phone is told what a wide picture says itself", () => {
  const words = true; // with water
  const record = madeRecord(0, { voltage_V: [3, 3, 3] });
  const said = notesBeside(record, layOut(360, 350, "beaker"), 60, words).join(" · ");
  for (const part of ["the pH, not real numbers", "far more than drawn", "drawn wider", "3.0 V across", "to the cathode"]) {
    assert.ok(said.includes(part), said);
  }
  const beside = notesBeside(record, layOut(1000, 560, "beaker"), 60, words).join(" · ");
  assert.ok(beside.includes("the pH, not real numbers") && !beside.includes("3.0 V across"), "which stands in a wide picture");
});

const MELT = { melt: { caption: "molten" }, lamp: null, species: [] };

test("in a melt there are its own ions and none of water, and its supply is on by its current", () => {
  const record = madeRecord(0, { supply_V: [0, 0, 0] });
  assert.equal(switchClosed(record, 60), false);
  const { species } = record.header;
  record.header = { ...record.header, ...MELT, vessel: "crucible", species: species.filter(({ formula }) => formula !== "H+") };
  const layout = layOut(1249, 713, "crucible");
  const counts = makeCrowd(record, layout).counts();
  assert.deepEqual(Object.keys(counts), ["Na+", "Cl-"]);
  assert.deepEqual(Object.values(counts), [12, 12]);
  assert.equal(switchClosed(record, 60), true);
  assert.deepEqual(notesBeside(record, layout, 60, false).filter((text) => text.includes("H⁺")), []);
  assert.ok(notesBeside(record, layout, 60, false).some((text) => text.includes("drawn, not calculated")));
});

test("the metal of a melt is as much as the charge says, sinks or floats, and is drawn the same at the same time", () => {
  const record = madeRecord();
  const layout = layOut(1249, 713, "crucible");
  assert.deepEqual([0, 60, 120].map((timeS) => poolShare(record, timeS)), [0, 0.5, 1]);
  const drawn = (pool, timeS) => {
    const [cathode, anode] = record.header.electrodes;
    const pen = rememberingPen();
    drawMolten(pen, { ...record, header: { ...record.header, electrodes: [{ ...cathode, pool, layerTint: "--fp-silver" }, anode] } }, layout, plainTheme, timeS);
    return asked(pen, "ellipse");
  };
  assert.deepEqual(drawn("", 60), []);
  assert.deepEqual(drawn("sinks", 0), []);
  const [[, low, wide]] = drawn("sinks", 60);
  const [[, high]] = drawn("floats", 60);
  assert.ok(low > layout.electrodes[0].y + layout.electrodes[0].height);
  assert.equal(high, layout.liquidTop);
  const [[, , wider]] = drawn("sinks", 120);
  assert.ok(Math.abs((wider / wide) ** 3 - 2) < 1e-6, "twice the charge, twice the volume");
  assert.deepEqual(drawn("sinks", 60), drawn("sinks", 60));
});

test("two runs that are shown side by side are drawn on one scale", () => {
  const less = madeRecord();
  const more = madeRecord(0, { charge_C: [0, 300, 600], "0:amount_mol:H2": [0, 1e-3, 3.1e-3], "1:amount_mol:O2": [0, 0.8e-3, 1.55e-3] });
  const [own, larger] = [less, more].map(amountOfOneEvent);
  assert.ok(larger > own);
  onOneScale([less, more]);
  assert.equal(makeEvents(less, layOut(1000, 560, "beaker")).drawnOf, makeEvents(more, layOut(1000, 560, "beaker")).drawnOf);
  assert.deepEqual([less, more].map(amountOfOneEvent), [larger, larger]);
  const passed = [less, more].map((record) => electronsPassed(record, 120).passed);
  assert.ok(Math.abs(passed[1] / 100 - passed[0]) <= 1, String(passed));
});

test("the words under a picture call pale only the ions that are few: of an acid not H⁺, of an alkali not OH⁻", () => {
  const ofPH = (pH) => paleIons({ pH: Float32Array.of(pH) });
  assert.equal(ofPH(7), "pale H⁺ and OH⁻: from water, very few");
  assert.equal(ofPH(0.3), "pale OH⁻: from water, very few");
  assert.equal(ofPH(13.7), "pale H⁺: from water, very few");
});
