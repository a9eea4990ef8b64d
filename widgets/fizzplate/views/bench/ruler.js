// One ruler for time: play, pause, step, drag; its place is the place of every chart's cursor.

import { SPEEDS } from "../scene/motion/clock.js";
import { clockText } from "../kit/format.js";
import { write } from "./layout.js";

/** @type {[string, string][]} */
const PARTICLES = [
  ["few", "ions"],
  ["many", "more ions, smaller"],
  ["water", "ions and water"],
];

/**
 * @param node where it stands @param clock @param {number} durationS of the run
 * @param parts whether the cell is on; the text of its scales; names of the indicators; what is chosen to
 *   be drawn, and what to do when that changes; the electrodes lifted out. The close-up, which names what forms,
 *   comes with what may be shown.
 */
export function mountRuler(node, clock, durationS, { on, scale, indicators, chosen, choose, lifted }) {
  node.innerHTML = `
    <button type="button" class="fp-button fp-play">Play</button>
    <button type="button" class="fp-button fp-step">Step</button>
    <input type="range" class="fp-scrubber" min="0" step="any" aria-label="Time in the run">
    <output class="fp-clock" aria-label="Clock"></output>
    <label class="fp-speed"><span>Speed</span> <select></select></label>
    <span class="fp-row-end"></span>
    <button type="button" class="fp-button fp-restart">Restart</button>
    <label class="fp-speed fp-indicator"><span>Indicator</span> <select></select></label>
    <label class="fp-speed fp-particles"><span>Particles</span> <select></select></label>
    <button type="button" class="fp-button fp-look" aria-expanded="false">Close-up</button>
    <button type="button" class="fp-button fp-lift" aria-expanded="false">Lift electrodes</button>
    <span class="fp-scale"></span>`;
  const part = (name) => node.querySelector(name);
  const [restart, play, step] = [part(".fp-restart"), part(".fp-play"), part(".fp-step")];
  const scrubber = part(".fp-scrubber");
  const [shown, speed, scaleText] = [part(".fp-clock"), part("select"), part(".fp-scale")];
  const added = part(".fp-indicator select");
  added.add(new Option("no indicator", ""));
  for (const name of indicators) added.add(new Option(name, name));
  added.value = chosen.indicator;
  const particles = part(".fp-particles select");
  for (const [name, label] of PARTICLES) particles.add(new Option(label, name));
  particles.value = chosen.particles;
  scrubber.max = String(durationS);
  scrubber.step = String(durationS / 600);
  scrubber.style.setProperty("--fp-ticks", String(Math.max(1, Math.min(10, Math.round(durationS / 60)))));
  for (const each of SPEEDS) speed.add(new Option(`×${each}`, String(each)));
  speed.value = String(clock.timeLapse);
  for (const control of [restart, play, step, scrubber, speed]) control.disabled = !on;

  const dismiss = new AbortController();
  const listen = (target, type, act) => target.addEventListener(type, act, { signal: dismiss.signal });
  listen(play, "click", () => {
    if (clock.playing) clock.pause();
    else {
      unfold(null); // the run is not to pass unseen behind the lens
      if (clock.timeS >= durationS * 0.999) clock.restart();
      clock.play();
    }
    update(clock.timeS);
  });
  listen(restart, "click", () => {
    unfold(null);
    clock.restart();
    clock.play();
  });
  listen(step, "click", () => clock.step());
  listen(scrubber, "input", () => clock.seek(Number(scrubber.value)));
  const [look, lift] = [part(".fp-look"), part(".fp-lift")];
  look.disabled = true;
  lift.disabled = !on;
  const lenses = [[lift, lifted]];
  /** Open one of the two lenses over the picture, or neither. */
  function unfold(chosenButton) {
    for (const [button, view] of lenses) {
      const open = button === chosenButton;
      const wasOpen = button.getAttribute("aria-expanded") === "true";
      button.setAttribute("aria-expanded", String(open));
      if (open !== wasOpen) view.toggle(open);
    }
  }
  for (const button of [look, lift]) {
    listen(button, "click", () => {
      const open = button.getAttribute("aria-expanded") !== "true";
      if (open) clock.pause();
      unfold(open ? button : null);
      update(clock.timeS);
    });
  }
  listen(added, "change", () => choose("indicator", added.value));
  listen(particles, "change", () => {
    choose("particles", particles.value);
    update(clock.timeS);
  });
  listen(speed, "change", () => {
    clock.timeLapse = Number(speed.value);
    update(clock.timeS);
  });

  function update(timeS) {
    write(play, clock.playing ? "Pause" : "Play");
    const now = clockText(timeS);
    write(shown, now);
    if (document.activeElement !== scrubber || clock.playing) scrubber.value = String(timeS);
    scrubber.setAttribute("aria-valuetext", now);
    write(scaleText, on ? scale() : "switched off");
  }

  return {
    update,
    uncover: () => unfold(null),
    /** @param closeUp one event at a time */
    reveal(closeUp) {
      lenses.push([look, closeUp]);
      look.disabled = !closeUp.possible;
    },
    destroy: () => dismiss.abort(),
  };
}
