// The scene: everything that is drawn of one run on one canvas, by one clock.

import { roundAmountText } from "../kit/format.js";
import { releasedCm3 } from "./motion/bubbles.js";
import { electronPathPx, lampLight, switchClosed } from "./circuit.js";
import { layerEnlarged } from "./deposit.js";
import { drawFrame } from "./frame.js";
import { makeGlyphs } from "./glyphs.js";
import { notesBeside } from "./labels.js";
import { PROBE_S } from "./probe.js";
import { placeInTime, sampleAt } from "./record.js";
import { buildStage } from "./stage.js";
import { readTheme } from "./theme.js";
import { clamp } from "./vessels/vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./stage.js").Particles} Particles */

const RESTING_FRAME_MS = 30; // ions that only jostle need no more pictures, and a phone keeps its battery
const STILL_S = 1; // where nothing is to move, a run that plays is shown in stills so far apart

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
  /** @type {import("./stage.js").Stage|null} */
  let stage = null;
  /** @type {import("./stage.js").Wanderers|null} */
  let stood = null;

  const atRest = () => !(record.chargeC[record.chargeC.length - 1] > 0);

  /** Draw at another size, or in another look, what is drawn now. */
  function rebuild() {
    if (stage) {
      const { crowd, water, layout } = stage;
      stood ??= { ions: [...crowd.ions.values()].flat(), molecules: water?.molecules ?? [], layout };
    }
    stage = buildStage(canvas, record, { particles, unnamed, theme, timeS: shownS, stood });
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
    if (stage) drawFrame(pen, record, stage, theme, { timeS: shownS, indicator, focus, probe, withArrows: reducedMotion && !atRest() });
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
