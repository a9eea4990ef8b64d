// A lesson with two cells side by side: each has its own steps in its own cards and picture. One step is open in both; the
// explanation goes through the first cell, then through the second.

import { make, write } from "../../kit/elements.js";
import { mayTell } from "../lesson/path.js";
import { sideOf } from "../lesson/run_stages.js";
import { mountSteps } from "../lesson/steps.js";
import { reserveRoom } from "../cards/words_room.js";

const NO_TABLE = { only() {}, lock() {} }; // the first cell's steps open and lock the table for both

const FOR_TEACHER = "cautions for the teacher, which name what may form";

/** Words that each cell has for itself: its cautions, and what one hears who does not see. @param layout of the page @param {string[]} labels */
function ownWords(layout, labels) {
  layout.notes.replaceChildren();
  layout.sentence.replaceChildren();
  layout.sentence.classList.add("fp-spoken");
  return labels.map((label) => {
    const line = make("span", "", "fp-cell-seen");
    const sentence = make("span");
    line.append(make("span", `${label}: `), sentence, make("span", " "));
    layout.sentence.append(line);
    const box = make("div", "", "fp-cell-notes");
    const notes = make("div", "", "fp-notes");
    box.append(notes);
    layout.notes.append(box);
    return { line, sentence, notes, box };
  });
}

class PairOfSteps {
  constructor(layout, lesson, record, scene, slots, shared, { step, press, passed, scale, onTell }, second) {
    Object.assign(this, { layout, table: shared.table, step, onCell: second.parts.show });
    this.lessons = [lesson, second.lesson];
    this.scenes = [scene, second.scene];
    this.cards = [layout.sideCards, second.parts.sideCards];
    this.words = ownWords(layout, this.lessons.map(({ label }) => label));
    const mount = (which, table, own) => mountSteps(
      { ...layout, sideCards: this.cards[which], sentence: this.words[which].sentence, notes: this.words[which].notes },
      this.lessons[which], which ? second.record : record, this.scenes[which], slots, { ...shared, table }, own,
    );
    const length = (which) => which.all.length;
    const first = mount(0, shared.table, { step, press, passed, scale, onTell });
    this.active = press >= length(first) && length(first) > 0 ? 1 : 0; // whose explanation goes on
    const other = mount(1, NO_TABLE, { step, press: this.active ? press - length(first) : 0, passed: second.passed, scale: second.scale, onTell() {} });
    this.both = [first, other];
    this.timeS = 0;
    this.show(step);
  }

  /** Open a step in both. @param {import("../lesson/path.js").StepName} step */
  show(step) {
    this.step = step;
    // whoever speaks last is read
    for (const which of [1 - this.active, this.active]) this.both[which].show(step);
    if (step === "record") this.table.only(...this.lessons.map(({ key }) => key));
    this.arrange();
    reserveRoom(this.layout.commentary, step === "explain" ? this.both.flatMap((each, cell) => each.talks().map((talk) => ({ ...talk, cell }))) : []);
    this.update(this.timeS);
  }

  /** Another stage is reached, in both: the open step goes on with it. @param lesson of the first cell @param second of the second */
  enter(lesson, second) {
    this.lessons = [lesson, second];
    this.active = 0;
    for (const which of [1, 0]) this.both[which].enter(this.lessons[which]); // the first speaks last, and is read
    this.arrange();
    this.update(this.timeS);
  }

  /** Let both cells' parts say whose they are, and only the cell that is explained stand out. */
  arrange() {
    const { layout, step, active } = this;
    const isExplaining = step === "explain";
    const [first, second] = this.words;
    if (isExplaining) {
      write(layout.heading, `${this.lessons[active].label}: ${layout.heading.textContent}`);
      this.scenes[1 - active].setFocus([], -1);
      this.onCell(active);
    }
    this.words.forEach(({ box, notes }, which) => {
      box.hidden = isExplaining && which !== active;
      const fold = notes.querySelector("summary");
      if (fold) write(fold, isExplaining ? "All cautions" : `${this.lessons[which].label}: ${mayTell(step) ? "all cautions" : FOR_TEACHER}`);
    });
    const [caution, same] = [first, second].map(({ notes }) => notes.querySelector(".fp-caution"));
    if (!isExplaining && same) same.hidden = same.textContent === caution?.textContent;
    this.cards.forEach((cards, which) => cards.forEach((card, side) => {
      card.setAttribute("aria-label", `${this.lessons[which].electrodes[sideOf(this.lessons[which], side)].title}, ${this.lessons[which].label}`);
      if (card.scrollHeight > card.clientHeight + 1) card.tabIndex = 0; // the keyboard scrolls it
      else card.removeAttribute("tabindex");
    }));
  }

  /** Go on within the explanations; tell whether there was somewhere to go. @param {number} by */
  advance(by) {
    if (this.step !== "explain") return false;
    const isDone = this.both[this.active].advance(by) || this.turnTo(by > 0 ? 1 : 0);
    if (isDone) this.arrange();
    return isDone;
  }

  /** Explain the other cell, if it is not explained already. @param {number} which */
  turnTo(which) {
    if (which === this.active) return false;
    this.active = which;
    this.both[which].explain();
    return true;
  }

  get isAtEnd() { return this.active === 1 && this.both[1].isAtEnd; }

  /** @param {number} timeS */
  update(timeS) {
    this.timeS = timeS;
    for (const each of this.both) each.update(timeS);
    for (const { line, sentence } of this.words) line.hidden = !sentence.textContent;
  }

  shownStep() { return this.active ? this.both[0].all.length + this.both[1].shownStep() : this.both[0].shownStep(); }
  opened() {} // the tabs of the other view are not shown
}

/**
 * @param layout parts of the page @param lesson of the first cell @param record of its run @param scene its picture
 * @param {import("../../kit/say.js").Slots} slots the board's names for the electrodes
 * @param shared what outlasts a run: store and results table @param own step, press, passed, scale and onTell, as `mountSteps` takes them
 * @param second of the second cell: lesson, record, scene, passed, scale, and parts with its side cards
 */
export const mountPairOfSteps = (layout, lesson, record, scene, slots, shared, own, second) => new PairOfSteps(layout, lesson, record, scene, slots, shared, own, second);
