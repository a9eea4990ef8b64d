// The stage: which step of its lesson each solution is at, and what the bar, the large button and a remote's keys do.

import { isStep, mountPath, stepAfter, STEPS, stepsOf } from "./path.js";

/** @typedef {import("./path.js").StepName} StepName */
/** @typedef {{step: StepName, press: number, done: StepName[]}} Place of one solution press: of its explanation */

const TITLES = Object.fromEntries(STEPS);
const AT_REST = /** @type {Place} */ ({ step: "predict", press: 0, done: [] });

export class Stage {
  /**
   * @param layout parts of the page @param model the widget's @param {() => any} steps of the run that is shown
   * @param {Record<string, Place>} kept where each solution was before a reload @param {() => void} onEnd of the last solution
   */
  constructor(layout, model, steps, kept, onEnd) {
    this.onEnd = onEnd;
    this.layout = layout;
    this.model = model;
    this.steps = steps;
    this.places = new Map(Object.entries(kept).filter(([, place]) => isStep(place?.step)));
    this.wanted = /** @type {StepName|null} */ (null); // once the switch is closed or opened
    this.isWaiting = false; // for the program
    this.takesFocus = false; // whoever pressed goes on reading at the next heading
    this.onStep = () => {}; // another step is open
    this.onGoing = () => {}; // the lesson goes on, or back
    this.path = mountPath(layout.path, layout.next, layout.back, {
      onStep: (name) => this.go(name),
      onward: (by) => this.onward(by),
    });
  }

  get lesson() { return this.model.get("lesson"); }
  get names() { return stepsOf(this.lesson); }
  get place() { return this.places.get(this.lesson.key) ?? AT_REST; }

  get isRecordedOnce() { return [...this.places.values()].some(({ done }) => done.includes("record")); }

  /** The step that is open: with the switch open, the first one. @returns {StepName} */
  get step() { return this.lesson.on ? this.place.step : "predict"; }

  /** The step to open as a run or a cell at rest is shown. @param {boolean} isKnown whether the run was shown before */
  arrive(isKnown) {
    if (this.lesson.on) {
      const { step, press, done } = this.place;
      const kept = isKnown && step !== "predict" ? step : /** @type {StepName} */ (stepAfter("predict", 1, this.names));
      const isFresh = !isKnown && !this.wanted;
      this.keep({ step: this.wanted ?? kept, press: isFresh ? 0 : press, done: [.../** @type {Set<StepName>} */ (new Set([...done, "predict"]))] });
    }
    this.wanted = null;
    this.isWaiting = false;
    return { name: this.step, press: this.place.press };
  }

  /** Something has been changed in the run: first the class looks. */
  watchAgain() { if (this.lesson.on) this.wanted = "watch"; }

  /** @param {Partial<Place>} changes */
  keep(changes) { this.places.set(this.lesson.key, { ...this.place, ...changes }); }

  /** What comes next, as the large button says it. */
  get label() {
    const { step } = this;
    if (step === "explain" && !this.steps()?.isAtEnd) return "Next";
    const following = stepAfter(step, 1, this.names);
    if (following) return `Next: ${TITLES[following]}`;
    const solution = this.model.get("next_label");
    return solution ? `Next: ${solution}` : "All results";
  }

  show() {
    const { step } = this;
    const { done } = this.place;
    this.path.show(step, new Set(done), this.label, this.isWaiting, this.names);
    this.onStep();
    if (!this.takesFocus || this.isWaiting) return;
    this.takesFocus = false;
    this.layout.heading.focus({ preventScroll: true });
    this.beginAtHeading();
  }

  /** Where the page was scrolled, what opens is read from its heading on: the bar above that comes to the top. */
  beginAtHeading() {
    const { heading, path } = this.layout;
    const { left, top, bottom } = heading.getBoundingClientRect();
    const isSeen = [top + 2, bottom - 2].every((y) => heading.contains(document.elementFromPoint(left + 2, y)));
    if (!isSeen) path.scrollIntoView({ block: "start" });
  }

  /** Ask the program for something. @param {"on"|"off"|"next"} what @param {StepName|null} wanted */
  ask(what, wanted = null) {
    this.wanted = wanted;
    this.isWaiting = true;
    this.model.set("request", { what, count: (this.model.get("request")?.count ?? 0) + 1 });
    this.model.save_changes();
    this.show();
  }

  /** The program has answered, perhaps that it cannot. */
  answered() {
    this.isWaiting = false;
    this.show();
  }

  /** Open a step: the first one with the switch open, all others with it closed. @param {StepName} name */
  go(name) {
    const { step } = this;
    if (this.isWaiting || name === step) return;
    this.takesFocus = true;
    this.onGoing();
    const isOn = this.lesson.on;
    this.keep({ done: [...new Set([...this.place.done, step])] });
    if (name === "predict") this.ask("off");
    else if (!isOn) this.ask("on", name);
    else {
      this.keep({ step: name });
      this.steps()?.show(name);
      this.show();
    }
  }

  /** Go on, or back, by one press. @param {number} by */
  onward(by) {
    if (this.isWaiting) return;
    const { step } = this;
    if (this.steps()?.advance(by)) {
      this.keep({ press: this.steps().shownStep() });
      this.show();
      this.beginAtHeading();
      return;
    }
    const following = stepAfter(step, by, this.names);
    if (following) this.go(following);
    else if (by > 0 && this.model.get("next_label")) {
      this.keep({ done: [...new Set([...this.place.done, step])] });
      this.takesFocus = true;
      this.onGoing();
      this.ask("next");
    } else if (by > 0) this.onEnd();
  }

  /** A new class begins with nothing done. */
  forget() { this.places.clear(); }

  /** What a reload is to bring back. */
  kept() { return Object.fromEntries(this.places); }
}
