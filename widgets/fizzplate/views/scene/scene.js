// The scene: everything that is drawn of one run on one canvas, by one clock. The canvas takes its size from the page.
//
// Options, each with a method that changes it while the run is shown:
//   surface       "seen": at an electrode only what the eye sees (bubbles, deposit, colour); nothing that forms is named.
//                 "explained": what happens there is drawn (who arrives, electrons that cross, what forms).  setSurface
//   indicator     its name, or nothing                                                                     setIndicator
//   added         indicators that are added during the run, each with its time; the last of them counts if none is chosen
//   particles     "few" large ions, "many" smaller ones, or "water": with molecules of water               setParticles
//   isOneOfTwo    two pictures share the page's width: ions are drawn larger, and fewer of them
//   reducedMotion stills instead of motion
// Besides: setFocus (which ions and which electrode stand out), showTest (of a gas), still (a picture to save), summary
// (scales in words and figures). Electrons passed at both electrodes so far: motion/tally.js.

import { drawFrame } from "./frame.js";
import { paceOf } from "./motion/clock.js";
import { PROBE_S } from "./probe.js";
import { fillingAt } from "./record.js";
import { buildStage, glyphsOf } from "./stage.js";
import { summaryOf } from "./summary.js";
import { readTheme } from "./theme.js";
import { clamp } from "./vessels/vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./stage.js").Particles} Particles */
/** @typedef {import("./stage.js").Surface} Surface */
/** @typedef {ReturnType<typeof import("./motion/clock.js").createClock>} Clock */
/** @typedef {{reducedMotion?: boolean, indicator?: string, added?: [number, string][], particles?: Particles, surface?: Surface, isOneOfTwo?: boolean}} Options */

const RESTING_FRAME_MS = 30; // ions that only jostle need no more pictures, and a phone keeps its battery
const STILL_S = 1; // with reduced motion, a run that plays is shown in stills so far apart
const MAX_FRAME_S = 0.1;
const STILL_PX = 1920; // width of a saved picture at least
const CAPTION = 0.03; // height of the strip below it, as a share of its width; of each of two twice that, as they are shown half as wide
const CAPTION_LETTERS = 0.62; // and of that strip

class Scene {
  /** @param {HTMLCanvasElement} canvas @param {RunRecord} record @param {Clock} clock @param {Options} options */
  constructor(canvas, record, clock, { reducedMotion = false, indicator = "", added = [], particles = "few", surface = "explained", isOneOfTwo = false }) {
    this.canvas = canvas;
    this.record = record;
    this.clock = clock;
    this.reducedMotion = reducedMotion;
    this.indicator = indicator;
    this.added = added;
    this.isOneOfTwo = isOneOfTwo;
    this.builtWith = ""; // of indicators: their signs take room
    this.particles = /** @type {Particles} */ (particles);
    this.surface = /** @type {Surface} */ (surface);
    this.isAtRest = !(record.chargeC[record.chargeC.length - 1] > 0);
    this.paceS = paceOf(record); // of the run, in a second of the picture
    this.pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    this.theme = readTheme(canvas);
    this.shownS = clock.timeS; // time in the run that the picture shows
    this.restedS = 0; // how long a cell at rest has been shown
    this.focus = { species: /** @type {string[]} */ ([]), side: -1 };
    this.probe = /** @type {import("./probe.js").Probe|null} */ (null);
    this.stage = /** @type {import("./stage.js").Stage|null} */ (null);
    this.frame = 0;
    this.lastFrameMs = 0;
    this.stopListening = this.listen();
    this.rebuild();
  }

  listen() {
    const resize = new ResizeObserver(() => {
      const { width = 0, height = 0 } = this.stage ?? {};
      // colours too: a canvas that was not on the page yet had none
      if (this.canvas.clientWidth !== width || this.canvas.clientHeight !== height) this.refreshTheme();
    });
    resize.observe(this.canvas);
    const wake = () => this.wake();
    document.addEventListener("visibilitychange", wake);
    const unsubscribe = this.clock.subscribe((timeS, wasSought) => this.follow(timeS, wasSought));
    return () => {
      unsubscribe();
      resize.disconnect();
      document.removeEventListener("visibilitychange", wake);
    };
  }

  // time

  /** The indicator that is chosen, or the last one that has been added by now. */
  get shownIndicator() { return this.indicator || (this.added.filter(([fromS]) => fromS <= this.shownS).at(-1)?.[1] ?? ""); }

  get isProbing() { return this.probe !== null && this.probe.age < PROBE_S; }
  get isMoving() { return !this.reducedMotion && (this.clock.playing || this.isAtRest || this.isProbing); }
  /** Time of the picture: a cell at rest has only that since it is shown. */
  get pictureS() { return this.isAtRest ? this.restedS : this.shownS / this.paceS; }

  /** Show another time of the run. @type {import("./motion/clock.js").Follower} */
  follow(timeS, wasSought) {
    if (!this.stage) return;
    const isSoon = Math.abs(timeS - this.shownS) < STILL_S * this.clock.timeLapse;
    if (this.reducedMotion && this.clock.playing && !wasSought && isSoon) return;
    this.shownS = timeS;
    if (fillingAt(this.record, timeS).now !== this.stage.filling.now || this.shownIndicator !== this.builtWith) this.rebuild();
    else if (!this.isMoving || !this.frame) this.draw(); // else the next frame does
    this.wake();
  }

  wake() {
    if (this.frame || !this.isMoving || document.hidden) return;
    this.lastFrameMs = 0;
    this.requestFrame();
  }

  requestFrame() { this.frame = requestAnimationFrame((nowMs) => this.animate(nowMs)); }

  /** @param {number} nowMs */
  animate(nowMs) {
    this.frame = 0;
    if (!this.stage || !this.isMoving || document.hidden) return;
    const isResting = !this.clock.playing && !this.isProbing;
    if (!isResting || nowMs - this.lastFrameMs >= RESTING_FRAME_MS) {
      const passedS = this.lastFrameMs ? clamp((nowMs - this.lastFrameMs) / 1000, 0, MAX_FRAME_S) : 0;
      this.lastFrameMs = nowMs;
      if (this.probe) this.probe.age += passedS;
      if (this.isAtRest) this.restedS += passedS;
      this.draw();
    }
    this.requestFrame();
  }

  // drawing

  /** Make the picture at another size, at another level, or in another look. */
  rebuild() {
    this.builtWith = this.shownIndicator;
    this.stage = this.stageFor(this.canvas);
    this.draw();
    this.wake();
  }

  /** @param {import("./stage.js").Place} place */
  stageFor(place) {
    const { particles, surface, theme, isOneOfTwo, shownIndicator: indicator, shownS: timeS } = this;
    const testSide = this.probe?.side ?? -1;
    return buildStage(place, this.record, { particles, surface, theme, timeS, indicator, testSide, isOneOfTwo });
  }

  draw() {
    if (!this.stage) return;
    this.stage.crowd.moveTo(this.pictureS, this.isAtRest);
    this.drawOn(this.pen, this.stage);
  }

  /** @param {CanvasRenderingContext2D} pen @param {import("./stage.js").Stage} stage */
  drawOn(pen, stage) {
    const { shownS: timeS, pictureS, focus, probe, surface } = this;
    const indicator = this.shownIndicator;
    drawFrame(pen, this.record, stage, this.theme, { timeS, pictureS, indicator, surface, focus, probe });
  }

  /** Whether the page has room for it now. */
  get isSeen() { return this.canvas.clientWidth > 0; }

  get size() {
    const { width, height } = /** @type {import("./stage.js").Stage} */ (this.stage);
    return { width, height };
  }

  /**
   * What is drawn now, on the page's ground, in a projector's dots or more.
   * @param {string} caption stands below it @param {{width: number, height: number}} size that it is drawn for @returns {HTMLCanvasElement}
   */
  still(caption, { width, height } = this.size) {
    const { record, theme, surface } = this;
    const own = /** @type {import("./stage.js").Stage} */ (this.stage);
    const isOwn = width === own.width && height === own.height;
    const stage = isOwn ? own : this.stageFor({ clientWidth: width, clientHeight: height, width, height });
    if (!isOwn) stage.crowd.moveTo(this.pictureS, this.isAtRest);
    const { ionRadius } = stage.layout;
    const density = Math.max(stage.density, STILL_PX / width);
    const canvas = document.createElement("canvas");
    const strip = Math.round(width * density * CAPTION * (this.isOneOfTwo ? 2 : 1));
    [canvas.width, canvas.height] = [Math.round(width * density), Math.round(height * density) + strip];
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    this.drawOn(pen, { ...stage, density, glyphs: glyphsOf(record, ionRadius, { surface, density, theme }) });
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.fillStyle = theme.colour("--fp-ink");
    pen.font = `600 ${CAPTION_LETTERS * strip}px ${theme.font}`;
    [pen.textAlign, pen.textBaseline] = ["center", "middle"];
    pen.fillText(caption, canvas.width / 2, canvas.height - strip / 2, canvas.width);
    pen.globalCompositeOperation = "destination-over"; // behind all that is drawn
    pen.fillStyle = theme.colour("--fp-panel");
    pen.fillRect(0, 0, canvas.width, canvas.height);
    return canvas;
  }

  refreshTheme() {
    this.theme = readTheme(this.canvas);
    this.rebuild();
  }

  // what is shown

  /** @param {string} name of an indicator in the run's header, or nothing */
  setIndicator(name) {
    if (name === this.indicator) return;
    this.indicator = name;
    this.rebuild(); // ions leave room to the pH
  }

  /** @param {Particles} name */
  setParticles(name) {
    this.particles = name;
    this.rebuild();
  }

  /** @param {Surface} surface */
  setSurface(surface) {
    if (surface === this.surface) return;
    this.surface = surface;
    this.rebuild();
  }

  /** Let some ions stand out, and one electrode. @param {string[]} species none: all @param {number} side -1: neither */
  setFocus(species, side) {
    this.focus = { species, side };
    this.draw();
  }

  /** Do a test on gas that was collected at an electrode. @param {number} side -1: take it away @param {string} test @param {string} picture */
  showTest(side, test, picture) {
    this.probe = side < 0 ? null : { side, test, picture, age: this.reducedMotion ? PROBE_S : 0 };
    if (this.stage?.testSide === Math.max(side, -1)) this.draw();
    else this.rebuild(); // the vessel leaves room beside it
    this.wake();
  }

  summary() {
    const { record, shownS, isAtRest, surface, paceS, clock } = this;
    const stage = /** @type {import("./stage.js").Stage} */ (this.stage);
    return summaryOf(record, stage, { timeS: shownS, isAtRest, surface, faster: clock.timeLapse / paceS });
  }

  destroy() {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.stage = null;
    this.stopListening();
  }
}

/** @param {HTMLCanvasElement} canvas @param {RunRecord} record @param {Clock} clock @param {Options} [options] */
export const mountScene = (canvas, record, clock, options = {}) => new Scene(canvas, record, clock, options);
