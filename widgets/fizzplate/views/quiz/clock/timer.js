// A clock that counts down; the learner can add time.

import { make, makeButton } from "../../kit/elements.js";

const EXTENSION_MS = 5 * 60_000;

/** @param {number} ms */
export function leftText(ms) {
  const seconds = Math.max(0, Math.ceil(ms / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")} left`;
}

/** @param {number} ends @param {{onEnd: () => void, onExtend: (ends: number) => void}} handlers */
export function mountTimer(ends, { onEnd, onExtend }) {
  const box = make("div", "", "fp-options fp-timer");
  const display = make("strong", leftText(ends - Date.now()));
  display.setAttribute("role", "timer");
  const tick = () => {
    display.textContent = leftText(ends - Date.now());
    if (ends > Date.now()) return;
    clearInterval(timer);
    onEnd();
  };
  const timer = setInterval(tick, 1000);
  box.append(display, makeButton("5 more minutes", () => {
    ends += EXTENSION_MS;
    onExtend(ends);
    tick();
  }));
  return { node: box, destroy: () => clearInterval(timer) };
}
