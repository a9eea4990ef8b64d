// The one clock of a run: time in the run goes by the time-lapse as fast as the page's own.

export const SHOW_S = 20; // about how long a run takes to watch at its usual speed
const STEP_FRACTION = 1 / 60; // of the run, for one press of Step
const LONGEST_FRAME_S = 0.1; // a frame that comes late does not make the run jump

/**
 * @param {{durationS: number, timeLapse: number}} options
 */
export function createClock({ durationS, timeLapse }) {
  /** @type {Set<(timeS: number) => void>} */
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
      last = 0;
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
      tell();
    },
    restart() {
      clock.seek(0);
    },
    /** @param {(timeS: number) => void} follower */
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

  function tell() {
    for (const follower of followers) follower(clock.timeS);
  }

  function ask() {
    frame = document.hidden ? 0 : requestAnimationFrame(tick);
  }

  /** @param {number} now */
  function tick(now) {
    if (!clock.playing) return;
    const passedS = last ? Math.min((now - last) / 1000, LONGEST_FRAME_S) : 0;
    last = now;
    clock.timeS = Math.min(clock.timeS + passedS * clock.timeLapse, durationS);
    if (clock.timeS >= durationS) clock.playing = false;
    tell();
    if (clock.playing) ask();
  }

  function seen() {
    if (document.hidden || !clock.playing) return;
    last = 0;
    if (!frame) ask();
  }

  document.addEventListener("visibilitychange", seen);
  return clock;
}
