// One ruler for the time of the run: play, pause, step, drag. Every chart's cursor follows it.

import { make, write } from "../kit/elements.js";
import { SPEEDS } from "../scene/motion/clock.js";
import { clockText, shortClock } from "../kit/format.js";

/** @type {[string, string][]} */
const PARTICLES = [
  ["few", "ions"],
  ["many", "more ions, smaller"],
  ["water", "ions and water"],
];

const MARKUP = `
  <button type="button" class="fp-button fp-play">Play</button>
  <button type="button" class="fp-button fp-step">Step</button>
  <span class="fp-scrubber-place">
    <input type="range" class="fp-scrubber" min="0" step="any" aria-label="Time in the run">
    <ol class="fp-run-marks" aria-label="Changes in this run"></ol>
  </span>
  <output class="fp-clock" aria-label="Clock"></output>
  <label class="fp-speed"><span>Speed</span> <select></select></label>
  <button type="button" class="fp-button fp-alter" data-fp-key="change" aria-expanded="false">Change something</button>
  <span class="fp-row-end"></span>
  <button type="button" class="fp-button fp-restart">Restart</button>
  <label class="fp-speed fp-indicator"><span>Indicator</span> <select></select></label>
  <label class="fp-speed fp-particles"><span>Particles</span> <select></select></label>
  <button type="button" class="fp-button fp-close-up-button" aria-expanded="false">Close-up</button>
  <button type="button" class="fp-button fp-lift" aria-expanded="false">Lift electrodes</button>
  <button type="button" class="fp-button fp-save-picture">Save picture</button>
  <details class="fp-scales" open><summary>Not to scale</summary><span class="fp-scale"></span></details>`;

/** @param {HTMLSelectElement} select @param {[string, string][]} options value and text of each @param {string} value */
function fillMenu(select, options, value) {
  for (const [each, text] of options) select.add(new Option(text, each));
  select.value = value;
}

// of the ruler
const LEAST_LABEL = 0.13; // a label needs so much
const LATE = 0.7; // beyond, there is not room enough after the last mark: its label stands before it
const LATE_LABEL = 0.3; // and takes so much

/**
 * Where each label has room: after its mark, as far as the next label; the last one always has some.
 * @param {number[]} shares of the ruler at which marks stand @returns {{room: number, isLate: boolean}[]}
 */
export function labelRooms(shares) {
  let end = 1;
  return shares.map((share, k) => ({ share, isLast: k + 1 === shares.length })).reverse().map(({ share, isLast }) => {
    const isLate = isLast && share > LATE;
    const room = isLate ? LATE_LABEL : end - share;
    if (isLate) end = share - LATE_LABEL;
    else if (room >= LEAST_LABEL) end = share;
    return { room: room >= LEAST_LABEL ? room : 0, isLate };
  }).reverse();
}

/** A tick with a short label at each time at which something was changed. @param {HTMLElement} list @param {{atS: number, text: string}[]} marks @param {number} durationS */
function fillMarks(list, marks, durationS) {
  const shares = marks.map(({ atS }) => Math.min(atS / durationS, 1));
  const rooms = labelRooms(shares);
  list.hidden = !marks.length;
  list.replaceChildren(...marks.map(({ atS, text }, k) => {
    const mark = make("li", "", "fp-mark");
    const { room, isLate } = rooms[k];
    mark.style.setProperty("--fp-at", String(shares[k]));
    mark.style.setProperty("--fp-room", String(room));
    mark.title = `${clockText(atS)}: ${text}`;
    mark.toggleAttribute("data-late", isLate);
    mark.append(make("span", `${shortClock(atS)} ${text}`, room ? "fp-mark-label" : "fp-spoken"));
    return mark;
  }));
}

class Ruler {
  constructor(node, clock, durationS, { isOn, scale, isScaleFolded, indicators, settings, onSetting, onSave, lifted, marks = [], change = null }) {
    node.innerHTML = MARKUP;
    node.querySelector(".fp-scales").open = !isScaleFolded && innerWidth > 759; // a phone has room for one line
    this.clock = clock;
    this.durationS = durationS;
    this.isOn = isOn;
    this.scale = scale;
    const part = (name) => node.querySelector(name);
    this.play = part(".fp-play");
    this.step = part(".fp-step");
    this.restart = part(".fp-restart");
    this.scrubber = part(".fp-scrubber");
    this.display = part(".fp-clock");
    this.speed = part("select");
    this.indicator = part(".fp-indicator select");
    this.particles = part(".fp-particles select");
    this.closeUpButton = part(".fp-close-up-button");
    this.liftButton = part(".fp-lift");
    this.scaleText = part(".fp-scale");
    this.changeButton = part(".fp-alter");
    this.changeButton.hidden = !change;
    this.lenses = [[this.liftButton, lifted], ...(change ? [[this.changeButton, change]] : [])]; // views that a button lays over the picture, one at a time
    fillMarks(part(".fp-run-marks"), marks, durationS);
    this.fill(indicators, settings);
    this.listeners = new AbortController();
    this.listen(onSetting, part(".fp-save-picture"), onSave);
  }

  fill(indicators, settings) {
    const { scrubber, durationS } = this;
    fillMenu(this.indicator, [["", "no indicator"], ...indicators.map((name) => [name, name])], settings.indicator);
    fillMenu(this.particles, PARTICLES, settings.particles);
    fillMenu(this.speed, SPEEDS.map((speed) => [String(speed), `×${speed}`]), String(this.clock.timeLapse));
    scrubber.max = String(durationS);
    scrubber.step = String(durationS / 600);
    scrubber.style.setProperty("--fp-ticks", String(Math.max(1, Math.min(10, Math.round(durationS / 60)))));
    for (const control of [this.restart, this.play, this.step, scrubber, this.speed, this.liftButton]) control.disabled = !this.isOn;
    this.closeUpButton.disabled = true;
  }

  listen(onSetting, saveButton, onSave) {
    const { clock } = this;
    const on = (target, type, handler) => target.addEventListener(type, handler, { signal: this.listeners.signal });
    on(this.play, "click", () => this.togglePlay());
    on(this.step, "click", () => clock.step());
    on(saveButton, "click", onSave);
    on(this.restart, "click", () => {
      this.closeLenses();
      clock.restart();
      clock.play();
    });
    on(this.scrubber, "input", () => clock.seek(Number(this.scrubber.value)));
    on(this.speed, "change", () => {
      clock.timeLapse = Number(this.speed.value);
      this.update();
    });
    on(this.indicator, "change", () => onSetting("indicator", this.indicator.value));
    on(this.particles, "change", () => {
      onSetting("particles", this.particles.value);
      this.update();
    });
    for (const button of [this.closeUpButton, this.liftButton, this.changeButton]) on(button, "click", () => this.toggleLens(button));
  }

  togglePlay() {
    const { clock } = this;
    if (clock.playing) clock.pause();
    else {
      this.closeLenses(); // the run is not to pass unseen behind one
      if (clock.timeS >= this.durationS * 0.999) clock.restart();
      clock.play();
    }
    this.update();
  }

  toggleLens(button) {
    const opens = button.getAttribute("aria-expanded") !== "true";
    if (opens) this.clock.pause();
    this.openLens(opens ? button : null);
    this.update();
  }

  /** @param openButton of the lens to open, or null to close all */
  openLens(openButton) {
    for (const [button, view] of this.lenses) {
      const isOpen = button === openButton;
      const wasOpen = button.getAttribute("aria-expanded") === "true";
      button.setAttribute("aria-expanded", String(isOpen));
      if (isOpen !== wasOpen) view.toggle(isOpen);
    }
  }

  closeLenses() { this.openLens(null); }

  /** @param closeUp one event at a time: it comes when it may be revealed, since it names what forms */
  addCloseUp(closeUp) {
    this.lenses.push([this.closeUpButton, closeUp]);
    this.closeUpButton.disabled = !closeUp.possible;
  }

  takeCloseUpAway() {
    const { closeUpButton } = this;
    if (closeUpButton.getAttribute("aria-expanded") === "true") this.closeLenses();
    this.lenses = this.lenses.filter(([button]) => button !== closeUpButton);
    closeUpButton.disabled = true;
  }

  update(timeS = this.clock.timeS) {
    const { clock, scrubber } = this;
    const text = clockText(timeS);
    write(this.play, clock.playing ? "Pause" : "Play");
    write(this.display, text);
    if (document.activeElement !== scrubber || clock.playing) scrubber.value = String(timeS);
    scrubber.setAttribute("aria-valuetext", text);
    write(this.scaleText, this.isOn ? this.scale() : "switched off");
  }

  destroy() { this.listeners.abort(); }
}

/**
 * @param node where it stands @param clock @param {number} durationS of the run
 * @param options isOn: whether the cell is; scale: gives the text of its scales, which may be folded; indicators: their names; settings and
 *   onSetting: what is drawn, and what to do when that changes; onSave: saves the picture; lifted: the electrodes lifted out;
 *   marks: what was changed, and when; change: the panel that changes something, or nothing
 */
export const mountRuler = (node, clock, durationS, options) => new Ruler(node, clock, durationS, options);
