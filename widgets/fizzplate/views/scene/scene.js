// The scene: everything that is drawn of one run on one canvas, by one clock.

import { roundAmountText } from "../kit/format.js";
import { drawBubbles, makeBubbles, releasedCm3 } from "./motion/bubbles.js";
import { arrowAlong, drawCircuit, electronPathPx, lampLight, switchClosed } from "./circuit.js";
import { drawElectrodes, layerEnlarged } from "./deposit.js";
import { drawEvents, makeEvents } from "./motion/events.js";
import { makeGlyphs } from "./glyphs.js";
import { makeSpecks } from "./haze.js";
import { writePH } from "./indicator.js";
import { makeCrowd } from "./motion/ions.js";
import { drawLabels, notesBeside } from "./labels.js";
import { layOut } from "./vessels/layout.js";
import { drawLiquid } from "./liquid.js";
import { drawProbe, PROBE_S } from "./probe.js";
import { fieldAt, placeInTime, sampleAt } from "./record.js";
import { particlesOf } from "./particles.js";
import { readTheme } from "./theme.js";
import { seededRandom } from "./motion/random.js";
import { clamp } from "./vessels/vessel.js";
import { makeWater } from "./motion/water.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {"few"|"many"|"water"} Particles large ions, smaller ones up to 400, or with molecules of water */

const SEED = 20;
const RESTING_FRAME_MS = 30; // ions that only jostle need no more pictures, and a phone keeps its battery
const STILL_S = 1; // where nothing is to move, a run that plays is shown in stills so far apart
const DENSEST = 3;
const SET_BACK = 0.22; // opacity of ions that are not spoken of

/**
 * @param {HTMLCanvasElement} canvas @param {RunRecord} record
 * @param {ReturnType<typeof import("./motion/clock.js").createClock>} clock
 * @param {{reducedMotion?: boolean, indicator?: string, particles?: Particles, unnamed?: boolean}} [options]
 *   unnamed: what forms bears no formula yet
 */
export function mountScene(canvas, record, clock, options = {}) {
  const { reducedMotion = false } = options;
  let indicator = options.indicator ?? "";
  let particles = options.particles ?? "few";
  let unnamed = options.unnamed ?? false;
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  let theme = readTheme(canvas);
  let shownS = clock.timeS;
  let movedS = clock.timeS; // in the run, to which the crowd has moved
  let focus = { species: /** @type {string[]} */ ([]), side: -1 };
  /** @type {import("./probe.js").Probe|null} */
  let probe = null;
  let frame = 0;
  let lastFrame = 0;
  /** @type {ReturnType<typeof build>|null} */
  let stage = null;
  /**
   * What wandered, as it stood when it last moved: another size of the picture starts from there.
   * @type {{ions: import("./motion/ions.js").Ion[], molecules: import("./motion/water.js").Molecule[], layout: import("./vessels/vessel.js").Layout}|null}
   */
  let stood = null;

  const atRest = () => !(record.chargeC[record.chargeC.length - 1] > 0);

  /** What was not in the solution from the start has no formula on it. @param {import("./record.js").Species} species */
  function withoutName(species) {
    const { formula } = species;
    const places = record.positionM.length;
    const fromTheStart = record.concentration(formula).subarray(0, places).some((c) => c > 0);
    return ["H+", "OH-", "H2O"].includes(formula) || (fromTheStart && species.charge) ? species : { ...species, label: "" };
  }

  function build() {
    const width = canvas.clientWidth || 600;
    const height = canvas.clientHeight || 340;
    const density = Math.min(globalThis.devicePixelRatio || 1, DENSEST);
    canvas.width = Math.round(width * density);
    canvas.height = Math.round(height * density);
    const layout = layOut(width, height, record.header.vessel, particles === "many");
    const crowd = makeCrowd(record, layout, particles === "many");
    const shown = particlesOf(record);
    const when = placeInTime(record, shownS);
    if (stood) crowd.carry(stood.ions, stood.layout, when);
    else crowd.redraw(when);
    return {
      layout,
      density,
      crowd,
      species: shown,
      glyphs: makeGlyphs(unnamed ? shown.map(withoutName) : shown, layout.ionRadius, density, theme),
      events: makeEvents(record, layout),
      bubbles: makeBubbles(record, layout),
      water: particles === "water" ? makeWater(layout, seededRandom(SEED), stood) : null,
      specks: makeSpecks(layout),
    };
  }

  /** Draw at another size, or in another look, what is drawn now. */
  function rebuild() {
    if (stage) {
      const { crowd, water, layout } = stage;
      stood ??= { ions: [...crowd.ions.values()].flat(), molecules: water?.molecules ?? [], layout };
    }
    stage = build();
    draw();
    wake();
  }

  /** @type {import("./motion/clock.js").Follower} */
  function follow(timeS, sought) {
    if (!stage) return;
    const soon = Math.abs(timeS - shownS) < STILL_S * clock.timeLapse;
    if (reducedMotion && clock.playing && !sought && soon) return;
    if ((reducedMotion || sought) && timeS !== shownS) {
      stage.crowd.redraw(placeInTime(record, timeS));
      stood = null;
      movedS = timeS;
    }
    shownS = timeS;
    if (!moving() || !frame) draw(); // else the next frame does
    wake();
  }

  const probing = () => probe !== null && probe.age < PROBE_S;
  const moving = () => !reducedMotion && (clock.playing || atRest() || probing());

  function wake() {
    if (!frame && moving() && !document.hidden) {
      lastFrame = 0;
      frame = requestAnimationFrame(animate);
    }
  }

  /** @param {number} now */
  function animate(now) {
    frame = 0;
    if (!stage || !moving() || document.hidden) return;
    if (!clock.playing && !probing() && now - lastFrame < RESTING_FRAME_MS) {
      frame = requestAnimationFrame(animate);
      return;
    }
    const passedS = lastFrame ? clamp((now - lastFrame) / 1000, 0, 0.1) : 0;
    lastFrame = now;
    if (probe) probe.age += passedS;
    if (clock.playing || atRest()) {
      stood = null;
      stage.crowd.answer(stage.events.calls(shownS), shownS - movedS);
      stage.crowd.move(placeInTime(record, shownS), passedS);
      stage.water?.move(passedS);
      movedS = shownS;
    }
    draw();
    frame = requestAnimationFrame(animate);
  }

  function draw() {
    if (!stage) return;
    const { layout, density, crowd, glyphs, events, bubbles, water, specks } = stage;
    const timeS = shownS;
    pen.setTransform(density, 0, 0, density, 0, 0);
    pen.clearRect(0, 0, layout.width, layout.height);
    drawLiquid(pen, record, layout, theme, timeS, { indicator, specks });
    water?.draw(pen, glyphs);
    drawElectrodes(pen, record, layout, theme, timeS);
    for (const list of crowd.ions.values()) {
      for (const ion of list) {
        const meant = !focus.species.length || focus.species.includes(ion.formula);
        const opacity = crowd.opacity(ion) * (meant ? 1 : SET_BACK);
        if (opacity < 1) pen.globalAlpha = opacity;
        glyphs.draw(pen, ion.formula, ion.x, ion.y);
        if (opacity < 1) pen.globalAlpha = 1;
      }
    }
    if (reducedMotion && !atRest()) drawDriftArrows(timeS);
    drawEvents(pen, events.at(timeS), glyphs, layout, theme, (formula) => formula);
    drawBubbles(pen, bubbles.at(timeS), theme);
    if (record.header.indicators[indicator]) {
      writePH(pen, record, layout, theme, placeInTime(record, timeS));
    }
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.lineWidth = 2.4;
    layout.outline(pen);
    pen.stroke();
    drawCircuit(pen, record, layout, theme, timeS);
    if (focus.side >= 0) pointOut(pen, layout.electrodes[focus.side], theme);
    if (probe) drawProbe(pen, probe, layout, theme);
    drawLabels(pen, record, layout, theme, glyphs, timeS, Boolean(water));
  }

  /** @param {number} timeS */
  function drawDriftArrows(timeS) {
    const { layout, crowd } = /** @type {NonNullable<typeof stage>} */ (stage);
    const when = placeInTime(record, timeS);
    pen.strokeStyle = theme.colour("--fp-ink");
    for (const each of record.header.species) {
      const drift = record.drift(each.formula);
      const real = fieldAt(drift, record, when, record.positionM[record.positionM.length - 1] / 2);
      if (!real) continue;
      for (const ion of crowd.ions.get(each.formula) ?? []) {
        const sign = Math.sign(real);
        const along = layout.direction(ion.x, ion.y);
        const way = { x: sign * along.x, y: sign * along.y };
        const length = layout.ionRadius * 0.9;
        // before the ion, or behind it: never through glass or a rod
        for (const [side, from] of [[1, layout.ionRadius], [-1, -layout.ionRadius - length]]) {
          if (!layout.inside(ion.x + side * length * way.x, ion.y + side * length * way.y)) continue;
          arrowAlong(pen, ion.x + from * way.x, ion.y + from * way.y, way, length);
          break;
        }
      }
    }
  }

  const resized = new ResizeObserver(() => {
    const { width = 0, height = 0 } = stage?.layout ?? {};
    if (canvas.clientWidth !== width || canvas.clientHeight !== height) rebuild();
  });
  resized.observe(canvas);
  document.addEventListener("visibilitychange", wake);
  const unsubscribe = clock.subscribe(follow);
  rebuild();

  return {
    draw,
    /** @param {string} name of an indicator in the run's header, or nothing */
    setIndicator(name) {
      indicator = name;
      draw();
    },
    /** @param {Particles} name */
    setParticles(name) {
      particles = name;
      rebuild();
    },
    /** Write on what forms what it is. */
    reveal() {
      unnamed = false;
      if (!stage) return;
      stage.glyphs = makeGlyphs(stage.species, stage.layout.ionRadius, stage.density, theme);
      draw();
    },
    /** Let some ions stand out, and one electrode. @param {string[]} species none: all @param {number} side -1: neither */
    setFocus(species, side) {
      focus = { species, side };
      draw();
    },
    /** Hold a test at an electrode. @param {number} side -1: take it away @param {string} test @param {string} picture */
    showTest(side, test, picture) {
      probe = side < 0 ? null : { side, test, picture, age: reducedMotion ? PROBE_S : 0 };
      draw();
      wake();
    },
    refreshTheme() {
      theme = readTheme(canvas);
      rebuild();
    },
    summary() {
      const { crowd, events, bubbles, layout, water } = /** @type {NonNullable<typeof stage>} */ (stage);
      const swapped = sampleAt(record.swapped, record, shownS) > 0.5;
      const endS = record.timeS[record.timeS.length - 1];
      const gas = [0, 1].some((side) => releasedCm3(record, side, endS) > 0);
      const off = sampleAt(record.currentA, record, shownS) < 5e-7;
      return {
        counts: crowd.counts(),
        driftScale: atRest() ? 0 : crowd.driftScale,
        eventMol: events.oneMol,
        eventStandsFor: events.oneMol
          ? `each atom or molecule made stands for ${roundAmountText(events.oneMol)}`
          : "",
        bubbleCm3: gas ? bubbles.oneCm3 : 0,
        layerEnlarged: layerEnlarged(record),
        notesBeside: notesBeside(record, layout, shownS, Boolean(water)),
        switchClosed: switchClosed(record, shownS),
        bubblesDrawn: [0, 1].map((side) => bubbles.numberBy(side, shownS)),
        electronDirection: off ? 0 : swapped ? -1 : 1,
        electronPathPx: electronPathPx(record, shownS),
        lampLight: lampLight(record, shownS),
        ionRadius: layout.ionRadius,
        electrodes: layout.electrodes,
      };
    },
    destroy() {
      cancelAnimationFrame(frame);
      frame = 0;
      stage = null;
      unsubscribe();
      resized.disconnect();
      document.removeEventListener("visibilitychange", wake);
    },
  };
}

/**
 * A broken line round an electrode that is spoken of.
 * @param {CanvasRenderingContext2D} pen @param {import("./vessels/vessel.js").Box} rod @param {import("./theme.js").Theme} theme
 */
function pointOut(pen, rod, theme) {
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 2.5;
  pen.setLineDash([9, 6]);
  pen.beginPath();
  pen.roundRect(rod.x - 22, rod.y - 8, rod.width + 44, rod.height + 30, 14);
  pen.stroke();
  pen.setLineDash([]);
}
