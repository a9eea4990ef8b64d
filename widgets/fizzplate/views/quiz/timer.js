// A clock that runs down; it can be given more time, and at its end what was written is handed in.

import { make, pressable } from "../kit/elements.js";

const MORE_MS = 5 * 60_000;

/** @param {number} ms */
export function leftText(ms) {
  const seconds = Math.max(0, Math.ceil(ms / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")} left`;
}

/** @param {number} ends @param {{over: () => void, moved: (ends: number) => void}} acts */
export function mountTimer(ends, { over, moved }) {
  const box = make("div", "", "fp-options fp-timer");
  const shown = make("strong", leftText(ends - Date.now()));
  shown.setAttribute("role", "timer");
  const tick = () => {
    shown.textContent = leftText(ends - Date.now());
    if (ends > Date.now()) return;
    clearInterval(ticking);
    over();
  };
  const ticking = setInterval(tick, 1000);
  box.append(shown, pressable("5 more minutes", () => {
    ends += MORE_MS;
    moved(ends);
    tick();
  }));
  return { node: box, destroy: () => clearInterval(ticking) };
}
