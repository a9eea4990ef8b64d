// The one clock of a run: time in the run goes by the time-lapse as fast as the page's own, however slowly
// the frames come. It stands while nobody can see it.

export const SHOW_S = 20; // about how long a run takes to watch at its usual speed
export const SPEEDS = [1, 5, 20, 60, 200];
const STEP_FRACTION = 1 / 60; // of the run, for one press of Step

/** The time-lapse that a run is shown at first. @param {number} durationS */
export function usualTimeLapse(durationS) {
  return SPEEDS.find((speed) => durationS / speed <= SHOW_S) ?? SPEEDS[SPEEDS.length - 1];
}

/** @typedef {(timeS: number, sought: boolean) => void} Follower sought: the time was chosen, not played to */

/** @param {{durationS: number, timeLapse: number}} options */
export function createClock({ durationS, timeLapse }) {
  /** @type {Set<Follower>} */
  const followers = new Set();
  let frame = 0;
  let last = 0;

  const clock = {
    timeS: 0,
    playing: false,
    timeLapse,
    durationS,
    play() {
      if (clock.playing || durationS <= 0) return;
      clock.playing = true;
      last = performance.now();
      tell();
      ask();
    },
    pause() {
      clock.playing = false;
      cancelAnimationFrame(frame);
      frame = 0;
      tell();
    },
    step() {
      clock.pause();
      clock.seek(clock.timeS + durationS * STEP_FRACTION);
    },
    /** @param {number} timeS */
    seek(timeS) {
      clock.timeS = Math.min(Math.max(timeS, 0), durationS);
      tell(true);
    },
    restart() {
      clock.seek(0);
    },
    /** @param {Follower} follower */
    subscribe(follower) {
      followers.add(follower);
      return () => followers.delete(follower);
    },
    destroy() {
      clock.playing = false;
      cancelAnimationFrame(frame);
      document.removeEventListener("visibilitychange", seen);
      followers.clear();
    },
  };

  function tell(sought = false) {
    for (const follower of followers) follower(clock.timeS, sought);
  }

  function ask() {
    frame = document.hidden ? 0 : requestAnimationFrame(tick);
  }

  /** @param {number} now */
  function tick(now) {
    if (!clock.playing) return;
    const passedS = Math.max(now - last, 0) / 1000; // a frame may have begun before the press that it follows
    last = Math.max(now, last);
    clock.timeS = Math.min(clock.timeS + passedS * clock.timeLapse, durationS);
    if (clock.timeS >= durationS) clock.playing = false;
    tell();
    if (clock.playing) ask();
  }

  function seen() {
    if (document.hidden || !clock.playing) return;
    last = performance.now();
    if (!frame) ask();
  }

  document.addEventListener("visibilitychange", seen);
  return clock;
}
