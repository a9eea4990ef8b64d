// The one clock of a run. Its time passes faster than the page's by the time-lapse, however slowly frames come, and stands
// while nobody can see it.

import { forScales } from "../record.js";

export const SHOW_S = 20; // about how long a run takes to watch at its usual speed
export const SPEEDS = [1, 5, 20, 60, 200];
const STEP_FRACTION = 1 / 60; // of the run, for one press of Step

/** The time-lapse that a run is shown at first. @param {number} durationS */
export function defaultTimeLapse(durationS) {
  return SPEEDS.find((speed) => durationS / speed <= SHOW_S) ?? SPEEDS[SPEEDS.length - 1];
}

/** How many seconds of a run pass in one of its picture, at its usual speed. @param {import("../record.js").RunRecord} record */
export function paceOf(record) {
  const { timeS } = forScales(record);
  return defaultTimeLapse(timeS[timeS.length - 1]);
}

/** @typedef {(timeS: number, wasSought: boolean) => void} Follower wasSought: the time was chosen, not played to */

class Clock {
  /** @param {{durationS: number, timeLapse: number}} options */
  constructor({ durationS, timeLapse }) {
    this.timeS = 0;
    this.playing = false;
    this.timeLapse = timeLapse;
    this.durationS = durationS;
    /** @type {Set<Follower>} */
    this.followers = new Set();
    this.frame = 0;
    this.lastMs = 0; // the page's time at the last frame
    this.onVisibility = () => this.resume();
    document.addEventListener("visibilitychange", this.onVisibility);
  }

  play() {
    if (this.playing || this.durationS <= 0) return;
    this.playing = true;
    this.lastMs = performance.now();
    this.notify();
    this.requestFrame();
  }

  pause() {
    this.playing = false;
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.notify();
  }

  step() {
    this.pause();
    this.seek(this.timeS + this.durationS * STEP_FRACTION);
  }

  /** @param {number} timeS */
  seek(timeS) {
    this.timeS = Math.min(Math.max(timeS, 0), this.durationS);
    this.notify(true);
  }

  restart() { this.seek(0); }

  /** @param {Follower} follower */
  subscribe(follower) {
    this.followers.add(follower);
    return () => this.followers.delete(follower);
  }

  notify(wasSought = false) {
    for (const follower of this.followers) follower(this.timeS, wasSought);
  }

  requestFrame() {
    this.frame = document.hidden ? 0 : requestAnimationFrame((nowMs) => this.tick(nowMs));
  }

  /** @param {number} nowMs */
  tick(nowMs) {
    if (!this.playing) return;
    const passedS = Math.max(nowMs - this.lastMs, 0) / 1000; // a frame may have begun before the press that it follows
    this.lastMs = Math.max(nowMs, this.lastMs);
    this.timeS = Math.min(this.timeS + passedS * this.timeLapse, this.durationS);
    if (this.timeS >= this.durationS) this.playing = false;
    this.notify();
    if (this.playing) this.requestFrame();
  }

  /** Go on when the page is seen again. */
  resume() {
    if (document.hidden || !this.playing) return;
    this.lastMs = performance.now();
    if (!this.frame) this.requestFrame();
  }

  destroy() {
    this.playing = false;
    cancelAnimationFrame(this.frame);
    document.removeEventListener("visibilitychange", this.onVisibility);
    this.followers.clear();
  }
}

/** @param {{durationS: number, timeLapse: number}} options */
export const createClock = (options) => new Clock(options);
