// One run on the bench, or a cell at rest: its picture, side cards, ruler, charts and words, all by one clock.

import { createClock, defaultTimeLapse, paceOf } from "../scene/motion/clock.js";
import { decodeRecord, sampleAt } from "../scene/record.js";
import { mountScene } from "../scene/scene.js";
import { roundVolumeText, timesText } from "../kit/format.js";
import { showWaitsForChange } from "./lesson/locked_notice.js";
import { mountClassroom } from "./lesson/classroom.js";
import { mountSecondCell, noteSecondCell } from "./pair/second_cell.js";
import { mountPairOfSteps } from "./pair/pair_of_steps.js";
import { mountSteps } from "./lesson/steps.js";
import { onOneScale } from "../scene/motion/events.js";
import { electronScaleText, electronsPassed, unusualScaleText } from "../scene/motion/tally.js";
import { mountCloseUp } from "./closeup.js";
import { mountChange } from "./change.js";
import { mountFlows } from "./flows.js";
import { fillSideCard } from "./cards/side_card.js";
import { mountLifted } from "./lifted.js";
import { mountPlots } from "./plots.js";
import { mountRuler } from "./ruler.js";
import { savePicture } from "./saved_picture.js";
import { entryOf, lessonOf, sideOf, stageAt } from "./lesson/run_stages.js";
import { mountWords } from "./words.js";

function scaleText(clock, scene) {
  const { driftScale, eventStandsFor, layerEnlarged, bubbleCm3, notesBeside } = scene.summary();
  return [
    `time ×${clock.timeLapse}`,
    driftScale && `drift drawn ${timesText(driftScale)} in all`,
    eventStandsFor,
    electronScaleText(scene.record),
    layerEnlarged && `layer drawn ${timesText(layerEnlarged)}`,
    bubbleCm3 && `one bubble ${roundVolumeText(bubbleCm3)}`,
    ...notesBeside,
  ].filter(Boolean).join(" · ");
}

class Run {
  /** Build the picture and all that follows the clock; what names a product waits until it may be revealed. */
  constructor(layout, model, options) {
    const { reducedMotion, isNarrow, settings, playheads, shared, last, step, requestChange } = options;
    const sent = model.get("lesson");
    const resumed = sent.on && last?.key === sent.key ? last : null; // the run that was shown before
    this.layout = layout;
    this.model = model;
    this.settings = settings;
    this.playheads = playheads;
    this.whole = resumed ? { ...sent, again: true, step: resumed.step } : sent;
    this.lesson = this.whole; // of the stage at the time on the ruler
    this.stageNumber = 0;
    this.cellNow = 0; // of two, whose close-up there is
    this.shared = shared;
    this.isNarrow = isNarrow;
    this.requestChange = requestChange;
    this.record = decodeRecord(model.get("header"), model.get("array_bytes"));
    this.second = step ? this.openSecond() : null; // beside the first, in a lesson's steps
    this.durationS = Math.max(this.record.timeS.at(-1), this.second?.record.timeS.at(-1) ?? 0);
    this.clock = createClock({ durationS: this.durationS, timeLapse: resumed?.timeLapse ?? (this.second ? defaultTimeLapse(this.durationS) : paceOf(this.record)) });
    layout.canvas.setAttribute("aria-label", this.lesson.picture);
    this.scene = mountScene(layout.canvas, this.record, this.clock, { reducedMotion, surface: "seen", added: sent.indicatorsAdded, isOneOfTwo: Boolean(this.second), ...settings });
    if (this.second) {
      const { canvas } = this.second.parts;
      canvas.setAttribute("aria-label", this.second.lesson.picture);
      this.second.scene = mountScene(canvas, this.second.record, this.clock, { reducedMotion, surface: "seen", isOneOfTwo: true, added: this.second.lesson.indicatorsAdded, ...settings });
    }
    this.plots = /** @type {ReturnType<typeof mountPlots>|null} */ (null); // until they may be revealed
    this.closeUp = /** @type {ReturnType<typeof mountCloseUp>|null} */ (null);
    this.sideCards = []; // in steps, the cards are the step's own
    this.secondNote = step || !model.get("second")?.header ? null : noteSecondCell(layout, model.get("second").lesson.label);
    this.mountParts(!step);
    if (step) this.mountSteps(shared, step);
    else this.mountWords();
    this.sayHowSure();
    this.unsubscribe = this.clock.subscribe(() => this.update());
    this.start(resumed, reducedMotion);
    this.update();
  }

  /** The second cell, if there is one: its record, its words, and its parts of the page. */
  openSecond() {
    const sent = this.model.get("second");
    if (!sent?.header) return null;
    const record = decodeRecord(sent.header, sent.array_bytes);
    onOneScale([this.record, record]);
    const parts = mountSecondCell(this.layout, [this.lesson.label, sent.lesson.label], (/** @type {number} */ index) => this.turnToCell(index));
    return { record, lesson: { ...sent.lesson, again: this.lesson.again }, parts, scene: /** @type {ReturnType<typeof mountScene>|null} */ (null) };
  }

  /** Scales of the picture in words; of two pictures of each. */
  scaleText() {
    const { second } = this;
    const text = scaleText(this.clock, this.scene);
    return second?.scene ? `${this.lesson.label}: ${text} · ${second.lesson.label}: ${scaleText(this.clock, second.scene)}` : text;
  }

  /** @param {boolean} hasCards */
  mountParts(hasCards) {
    const { layout, lesson, record } = this;
    this.lifted = mountLifted(layout.lifted, record, lesson);
    this.change = lesson.on && lesson.change ? this.mountChange() : null;
    layout.change.hidden = true;
    this.ruler = mountRuler(layout.ruler, this.clock, this.durationS, {
      isOn: lesson.on,
      scale: () => this.scaleText(),
      isScaleFolded: !hasCards,
      indicators: Object.keys(record.header.indicators),
      settings: this.settings,
      onSetting: (name, value) => this.set(name, value),
      onSave: () => this.savePicture(),
      lifted: this.lifted,
      marks: (lesson.on && lesson.marks) || [],
      change: this.change,
    });
    this.parts = [this.ruler, this.lifted, this.mountFlows()];
    if (this.change) this.parts.push(this.change);
    layout.charts.replaceChildren();
    layout.closeUp.replaceChildren();
    layout.closeUp.hidden = true;
  }

  mountFlows() {
    const { layout, lesson, record, second, clock } = this;
    const cells = [{ lesson, record }, ...(second ? [second] : [])].map((each) => ({ label: each.lesson.label, record: each.record }));
    return mountFlows(layout.flows, cells, lesson.on, { isPlaying: () => clock.playing, stageAt: (timeS) => stageAt(this.whole, timeS) });
  }

  mountChange() {
    const { layout, record, lesson } = this;
    return mountChange(layout.change, {
      offers: lesson.change,
      indicators: Object.keys(record.header.indicators),
      now: () => this.clock.timeS,
      isOff: () => !(sampleAt(record.supplyV, record, this.clock.timeS) > 0),
      ask: this.requestChange,
      where: this.second ? " in both cells" : "",
      close: () => {
        this.ruler.closeLenses();
        this.ruler.changeButton.focus();
      },
    });
  }

  /** Cards, words and classroom, of the stage at the time on the ruler. */
  mountWords() {
    const { layout, lesson, record } = this;
    const untilS = this.whole.stages?.[this.stageNumber]?.fromS; // what comes after tells nothing here
    this.sideCards = lesson.electrodes.map((words, index) => {
      const side = sideOf(lesson, index);
      return fillSideCard(layout.sideCards[side], words, side, record, { folded: this.isNarrow(), place: this.model.get("place"), untilS });
    });
    this.words = mountWords(layout, lesson);
    this.mountClassroom(this.shared);
  }

  /** What is said of the second cell at the time on the ruler: it is changed together with the first. */
  secondLesson() {
    const whole = this.second?.lesson;
    return whole && lessonOf(whole, stageAt(whole, this.clock.timeS));
  }

  /** Another stage of the run is reached. @param {number} number */
  enterStage(number) {
    this.stageNumber = number;
    this.lesson = lessonOf(this.whole, number);
    this.layout.canvas.setAttribute("aria-label", this.lesson.picture);
    if (this.steps) this.steps.enter(this.lesson, this.secondLesson());
    else this.mountWords();
    this.renewCloseUp();
  }

  /** Whether what the class is asked last in this run has been answered or shown. */
  get isAllShown() {
    const { whole, shared } = this;
    const entry = shared.store.of(whole.key);
    const { ask } = lessonOf(whole, whole.stages?.length ?? 0).classroom;
    return !whole.asking || ask.every((each) => entry[`${entryOf(each, each.role)}:shown`]);
  }

  /** The lesson in steps. @param shared what outlasts a run @param {{name: string, press: number}} step */
  mountSteps(shared, { name, press }) {
    const { layout, lesson, record, scene, second } = this;
    const { slots } = record.header;
    shared.table.nameElectrodes(slots);
    const onTell = (/** @type {boolean} */ tells) => {
      if (!tells) {
        this.takeCloseUpAway();
        return;
      }
      this.addCloseUp();
      this.sayRevealed();
    };
    const tallyOf = (/** @type {any} */ of) => ({ passed: (/** @type {number} */ timeS) => electronsPassed(of, timeS), scale: unusualScaleText(of) });
    const own = { step: name, press, ...tallyOf(record), onTell };
    this.steps = second
      ? mountPairOfSteps(layout, lesson, record, scene, slots, shared, own, { ...second, ...tallyOf(second.record) })
      : mountSteps(layout, lesson, record, scene, slots, shared, own);
    this.classroom = this.steps;
  }

  mountClassroom(shared) {
    const { slots } = this.record.header;
    shared.table.nameElectrodes(slots);
    this.classroom = mountClassroom(this.layout, this.lesson, this.scene, slots, shared, {
      onElectrode: (index) => this.sideCards[index].reveal(),
      onAll: () => this.reveal(),
    }, () => this.ruler.closeLenses());
  }

  /** Go on where the run was left, or play it from its beginning. */
  start(resumed, reducedMotion) {
    const { clock, lesson, durationS } = this;
    if (lesson.again) clock.seek(resumed?.timeS ?? this.playheads.get(lesson.key) ?? durationS);
    else if (lesson.on && reducedMotion) clock.seek(durationS);
    else if (lesson.on) clock.play();
    if (resumed?.playing) clock.play();
  }

  /** Show what names the products. */
  reveal() {
    if (this.isAllShown) this.revealRun();
    else showWaitsForChange(this.layout.lockedNotice);
  }

  addCloseUp() {
    if (this.closeUp) return;
    const { second, clock, layout } = this;
    const [record, lesson] = this.cellNow === 1 && second ? [second.record, this.secondLesson()] : [this.record, this.lesson];
    this.closeUp = mountCloseUp(layout.closeUp, record, lesson, clock.timeS, second ? lesson.label : "");
    this.ruler.addCloseUp(this.closeUp);
  }

  /** The close-up is of the cell that is explained, or looked at on a phone. @param {number} index */
  turnToCell(index) {
    if (index === this.cellNow) return;
    this.cellNow = index;
    this.renewCloseUp();
  }

  /** It is of another cell, or of another stage of the run, and stays open. */
  renewCloseUp() {
    if (!this.closeUp) return;
    const isOpen = !this.layout.closeUp.hidden;
    this.takeCloseUpAway();
    this.addCloseUp();
    if (!isOpen) return;
    const focused = /** @type {HTMLElement|null} */ (document.activeElement);
    this.ruler.openLens(this.ruler.closeUpButton);
    focused?.focus({ preventScroll: true });
  }

  /** It names what forms: a step that may not tell does not hold it. */
  takeCloseUpAway() {
    if (!this.closeUp) return;
    this.ruler.takeCloseUpAway();
    this.closeUp.destroy();
    this.closeUp = null;
    this.layout.closeUp.replaceChildren();
    this.layout.closeUp.hidden = true;
  }

  /** What tells of the whole run. */
  revealRun() {
    this.addCloseUp();
    for (const part of [this.words, this.lifted]) part.reveal();
    this.scene.setSurface("explained");
    this.plot();
    this.sayRevealed();
  }

  /** The program may now name what forms wherever it speaks of this run. */
  sayRevealed() {
    const { lesson, model } = this;
    if (!lesson.asking || model.get("reveals_products")) return;
    model.set("reveals_products", true);
    model.save_changes();
  }

  set(name, value) {
    this.settings[name] = value;
    for (const scene of [this.scene, this.second?.scene]) {
      if (name === "indicator") scene?.setIndicator(value);
      else scene?.setParticles(value);
    }
  }

  savePicture() {
    const { lesson, second, scene, clock } = this;
    const cells = [{ label: lesson.label, scene }, ...(second?.scene ? [{ label: second.lesson.label, scene: second.scene }] : [])];
    savePicture(cells, lesson.on ? clock.timeS : null);
  }

  update() {
    const { timeS } = this.clock;
    const number = stageAt(this.whole, timeS);
    if (number !== this.stageNumber) this.enterStage(number);
    for (const part of [...this.parts, ...this.sideCards, this.words, this.steps, this.plots, this.closeUp]) part?.update(timeS);
  }

  plot() {
    this.plots = mountPlots(this.layout.charts, this.model.get("charts"), this.record, this.durationS, this.lesson.on, this.layout.number, this.whole.marks);
    this.update();
  }

  /** The charts have come; while the class is asked, they wait. */
  plotAgain() {
    if (this.plots) this.plot();
  }

  /** What is not known exactly comes after the run; the cards hold it back as they do the rest. */
  sayHowSure() {
    const sides = this.model.get("certainty") ?? [];
    sides.forEach((side, index) => this.sideCards[index]?.sayHowSure(side));
    this.update();
  }

  /** Show what was changed last, from its first instant on. @param {boolean} plays */
  showChange(plays) {
    const { clock, whole } = this;
    const at = whole.change?.lastS;
    if (typeof at === "number") clock.seek(whole.stages?.find(({ fromS }) => Math.abs(fromS - at) < 0.01)?.firstS ?? at);
    if (plays) clock.play();
  }

  refreshTheme() {
    this.scene.refreshTheme();
    this.second?.scene?.refreshTheme();
  }
  opened(panel) { this.classroom.opened(panel); }
  step(by) { this.classroom.step(by); }
  fold(isNarrow) { for (const card of this.sideCards) card.fold(isNarrow); }

  /** Where the run is, so that it can go on from there; nothing of a cell at rest. */
  position() {
    const { clock, lesson } = this;
    if (!lesson.on) return null;
    return { key: lesson.key, timeS: clock.timeS, timeLapse: clock.timeLapse, playing: clock.playing, step: this.classroom.shownStep() };
  }

  destroy() {
    if (this.lesson.key) this.playheads.set(this.lesson.key, this.clock.timeS);
    this.unsubscribe();
    this.ruler.destroy();
    this.closeUp?.destroy();
    this.scene.destroy();
    this.second?.scene?.destroy();
    this.second?.parts.destroy();
    this.secondNote?.destroy();
    this.clock.destroy();
  }
}

/**
 * @param layout parts of the page @param model the widget's, which holds what is shown
 * @param options reducedMotion; isNarrow: whether the page is; settings: the reader's; playheads: where each run was left;
 *   shared: store, tabs and results table, which outlast a run; last: the position of the run before a reload; step: of a
 *   lesson in steps, with the press of its explanation
 */
export const mountRun = (layout, model, options) => new Run(layout, model, options);
