// A lesson with one solution in five steps: what each shows in the cards, in the picture and below it. Only what the open
// step may tell is in the page.

import { beginRow } from "./classroom.js";
import { drawOrder, shortPresses } from "./explain.js";
import { mayTell } from "./path.js";
import { mountPredictions } from "./predictions.js";
import { explainParts, fillStepCard, liquidParts, madeOf, tallyOf, testParts, watchParts } from "./step_cards.js";
import { cautionNow, mountStepWords } from "./step_words.js";
import { testedText } from "./testing.js";
import { mountTube } from "../cards/tube.js";
import { reserveRoom } from "../cards/words_room.js";
import { entryOf, liquidKey, sideOf, sinceText } from "./run_stages.js";

/** @typedef {import("./path.js").StepName} StepName */

/** From which press an electrode's product may be named: from the rule on, or else from its half-equation. */
function firstToTell(all, side) {
  const own = (wanted) => all.map((press) => press.step.side === side && wanted(press));
  const rule = own((press) => press.step.order.length > 0).lastIndexOf(true); // its last sentence concludes
  const moves = own((press) => press.moves > 0).indexOf(true);
  return rule >= 0 ? rule : moves >= 0 ? moves : 0;
}

class Steps {
  constructor(layout, lesson, record, scene, slots, { store, table }, { step, press, passed, scale = "", onTell }) {
    Object.assign(this, { layout, record, scene, slots, store, table, passed, onTell });
    this.step = /** @type {StepName} */ (step);
    this.key = lesson.key;
    this.take(lesson);
    this.at = Math.min(press, this.all.length - 1); // press of the explanation
    this.timeS = 0;
    this.tallies = [0, 1].map((index) => tallyOf(index, scale));
    this.made = lesson.isMelt ? [0, 1].map((index) => madeOf(lesson, record, index)) : [];
    this.words = mountStepWords(layout, lesson, record);
    this.hasRow = Boolean(this.key && lesson.classroom.row?.cathode);
    if (this.hasRow) beginRow(store, lesson);
    for (const part of [layout.charts, layout.explain, layout.testing, layout.lockedNotice]) part.replaceChildren();
    layout.lockedNotice.hidden = true;
    this.show(this.step);
  }

  /** @param lesson of the run, or of one of its stages */
  take(lesson) {
    this.lesson = lesson;
    this.all = shortPresses(lesson.classroom.steps);
    this.told = [0, 1].map((side) => firstToTell(this.all, side));
    this.at = 0;
  }

  /** Another stage of the run is reached: the open step goes on with it. @param lesson of the stage */
  enter(lesson) {
    this.take(lesson);
    this.words.enter(lesson);
    if (this.step !== "record") this.show(this.step);
  }

  /** The card of an electrode, where it stands now. @param {number} index */
  cardOf(index) { return this.layout.sideCards[sideOf(this.lesson, index)]; }

  /** Open a step. @param {StepName} step */
  show(step) {
    const { layout, scene } = this;
    this.step = step;
    layout.root.dataset.step = step;
    scene.setSurface(step === "explain" ? "explained" : "seen"); // first: all others draw
    scene.setFocus([], -1);
    layout.order.replaceChildren();
    this.table.only(step === "record" && this.hasRow ? this.key : "");
    this.onTell(mayTell(step));
    if (mayTell(step) && this.hasRow) this.keepShown();
    this.table.lock(step !== "record");
    this.words.show(step);
    this.reserve(step === "explain" ? this.talks() : []);
    if (step === "explain") this.explain();
    else this.fill();
    this.update(this.timeS);
  }

  /** What has been told of both electrodes need not be asked again: of a later stage, of that alone. */
  keepShown() {
    const { ask } = this.lesson.classroom;
    const shown = this.step === "record" ? ["cathode", "anode"] : ask.map((each) => entryOf(each, each.role));
    this.store.change(this.key, { revealsProducts: true, ...Object.fromEntries(shown.map((each) => [`${each}:shown`, true])) });
  }

  /** Fill the cards with what the step needs. */
  fill() {
    const { lesson, layout, step, store, key, slots } = this;
    const { ask } = lesson.classroom;
    const keep = (changes) => store.change(key, changes);
    if (step === "predict") {
      layout.sideCards.forEach((node, index) => fillStepCard(node, lesson.electrodes[index], []));
      mountPredictions(layout.sideCards, lesson, store, slots, { enabled: true, reveal: () => {} });
      return;
    }
    [0, 1].forEach((index) => {
      const parts = this.partsOf(index, store.of(key), keep);
      const withTally = step === "watch" || step === "explain";
      fillStepCard(this.cardOf(index), lesson.electrodes[index], [...parts, withTally ? this.tallies[index].box : null, this.orderAt(index)]);
    });
    if (!ask[0].points && step === "watch") this.words.update(this.timeS);
    if (step === "watch" && this.asksLiquid) layout.order.replaceChildren(liquidParts(liquidKey(lesson), store.of(key), keep));
  }

  /** Of every run, also where nothing becomes of the liquid: a question asked only sometimes would tell. Two cells have no room for it. */
  get asksLiquid() { return !this.layout.root.classList.contains("fp-pair"); }

  partsOf(index, entry, keep) {
    const { lesson, step, slots } = this;
    const { ask, tests } = lesson.classroom;
    const question = ask[index];
    if (step === "watch") return question.points ? [watchParts(question, entry, keep, slots)] : [];
    if (step === "test") return tests ? [testParts(tests.results[index], tests.names, (test, outcome, picture) => this.test(index, test, outcome, picture))] : [];
    if (step !== "explain") return [];
    const product = this.at >= this.told[index];
    const parts = explainParts(lesson.electrodes[index], question, entry, { product, move: this.moveOf(index), isLast: this.isAtEnd });
    return product && this.made[index] ? [...parts, this.made[index].box] : parts;
  }

  /** The order of discharge, where it is explained: at its electrode. @param {number} index */
  orderAt(index) {
    const { step } = this.all[this.at] ?? {};
    return this.step === "explain" && step.side === index && step.order.length ? drawOrder(step) : null;
  }

  /** The latest move of an electrode's half-equation. */
  moveOf(side) {
    const made = this.all.slice(0, this.at + 1).filter(({ step, moves }) => step.side === side && moves);
    const last = made.at(-1);
    return last ? last.step.balancing[last.moves - 1] : null;
  }

  /** Hold a test on the gas of an electrode: in its card, so that the cell keeps its size. */
  test(index, test, outcome, picture) {
    const { role, title } = this.lesson.classroom.ask[index];
    const question = this.lesson.classroom.ask[index];
    mountTube(picture, { side: sideOf(this.lesson, index), test, picture: outcome.picture }, this.scene.reducedMotion);
    this.words.say(`${title}, ${test}. ${outcome.result}`);
    this.store.change(this.key, { [`${entryOf(question, role)}:tested`]: testedText(test, outcome) });
  }

  /** What is said at a press of the explanation. @param {number} at */
  wordsAt(at) {
    const { step, line } = this.all[at];
    return { heading: `${sinceText(this.lesson)}${at + 1} of ${this.all.length}. ${step.title}`, line, side: step.side };
  }

  /** All that the explanation says, for the room that it needs. */
  talks() {
    return this.all.map(({ step }, at) => {
      const words = this.wordsAt(at);
      return { ...words, caution: cautionNow(this.lesson, "explain", step.side) };
    });
  }

  /** @param {ReturnType<Steps["talks"]>} talks */
  reserve(talks) { reserveRoom(this.layout.commentary, talks); }

  explain() {
    const { step } = this.all[this.at];
    this.words.show("explain", this.wordsAt(this.at));
    this.scene.setFocus(step.species, sideOf(this.lesson, step.side));
    this.fill();
  }

  /** Go on within the explanation; tell whether there was somewhere to go. @param {number} by */
  advance(by) {
    const to = this.at + by;
    if (this.step !== "explain" || to < 0 || to >= this.all.length) return false;
    this.at = to;
    this.explain();
    return true;
  }

  get isAtEnd() { return this.at === this.all.length - 1; }

  /** @param {number} timeS */
  update(timeS) {
    this.timeS = timeS;
    this.words.update(timeS);
    const { passed, swapped } = this.passed(timeS);
    for (const tally of this.tallies) tally.update(passed, this.lesson.swapped ? passed - swapped : swapped);
    for (const each of this.made) each.update(timeS);
  }

  shownStep() { return this.at; }
  opened() {} // the tabs of the other view are not shown
}

/**
 * @param layout parts of the page @param lesson what is shown @param record of the run @param scene
 * @param {import("../../kit/say.js").Slots} slots the board's names for the electrodes
 * @param shared what outlasts a run: store and results table
 * @param {{step: StepName, press: number, passed: (timeS: number) => import("../../scene/motion/tally.js").Tally, scale?: string, onTell: (tells: boolean) => void}} state
 *   press of the explanation to begin with; passed: electrons at both electrodes so far; scale: what is to be said of their worth; onTell: whether what forms is named now
 */
export const mountSteps = (layout, lesson, record, scene, slots, shared, state) => new Steps(layout, lesson, record, scene, slots, shared, state);
