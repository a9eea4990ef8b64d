// A set of questions: one at a time, against the clock, or on the whiteboard for a class. The page marks the answers and this
// browser keeps them; Python is asked only for other questions, files, and a cell to watch.

import { stateOf } from "../web/address/links.js";
import { make } from "../kit/elements.js";
import { mountOpener } from "../room/opener.js";
import { mountRemote } from "../kit/remote.js";
import { mountScreenSwitches, screenSwitchGroup } from "../kit/screen.js";
import { subscribe } from "../kit/subscription.js";
import { whiteboardCard, stepWhiteboard } from "./whiteboard.js";
import { mountExchange } from "./exchange.js";
import { startCard } from "./clock/hand_in.js";
import { drawQuestion } from "./question_card.js";
import { drawReminders } from "./reminders.js";
import { OPENED_SET, Session } from "./session.js";
import { clearStorage, keyOf, newRound, readOpenedSet, saveOpenedSet, unfinishedRound } from "./storage.js";
import { mountTimer } from "./clock/timer.js";

const FIXED_HERE = "This file holds a fixed set. Practice that follows your answers needs Fizz & Plate itself.";
const ALL_ASKED = "Every question on these topics has been asked. Choose more topics, or another set number.";
const MAKING = "Making the new set … This question is still from the old one.";

function buildLayout() {
  const root = make("section", "", "fp-quiz");
  root.setAttribute("aria-label", "Questions");
  const status = make("p", "", "fp-status");
  status.setAttribute("role", "status");
  status.id = "fp-quiz-status";
  const reminders = make("div", "", "fp-options fp-reminders");
  const frame = make("div", "", "fp-quiz-frame");
  const asking = make("div", "", "fp-options fp-ask-place");
  const room = make("section", "", "fp-room");
  room.setAttribute("aria-label", "The class's answers");
  room.hidden = true;
  root.append(status, reminders, frame, asking, room);
  return { root, status, reminders, frame, asking, room, switches: screenSwitchGroup() };
}

class Quiz {
  constructor(model, el) {
    this.model = model;
    this.el = el;
    this.layout = buildLayout();
    this.session = new Session(model.get("species"));
    this.whiteboard = { position: 0, isRevealed: false };
    this.missed = /** @type {any[]} */ ([]);
    this.timer = /** @type {ReturnType<typeof mountTimer>|null} */ (null);
    el.append(this.layout.root, this.layout.switches);
    this.exchange = mountExchange(model, (text, about) => this.announce(text, about));
    if (!model.get("alone")) this.layout.root.append(this.exchange.node); // a program makes and reads files: one file alone has none
    this.screenSwitches = mountScreenSwitches(this.layout.switches, null, () => {}, ["Dim room", "Projector size", "Remote keys"]);
    this.remote = mountRemote(this.layout.root, (by) => this.step(by));
    this.room = model.get("alone") ? null : mountOpener(this.layout.asking, {
      hasRoom: model.get("has_room"),
      address: "/room/set.js",
      mount: ({ mountSetRoom }, opener) => mountSetRoom(opener, { panel: this.layout.room, root: this.layout.root }, this),
    });
    this.unsubscribe = subscribe(model, {
      "change:busy": () => this.showBusy(),
      "change:turn": () => this.beginSet(),
      "change:watch_count": () => this.showCell(),
      "msg:custom": (message) => this.receive(message),
    });
  }

  get isOnWhiteboard() { return this.model.get("quiz_style") === "board"; }
  get isTimed() { return this.model.get("quiz_style") === "clock" && !this.session.isFromFile; }

  /** Begin with the set of the link, the file or the page. */
  start() {
    const { model } = this;
    const ownsPage = document.body.dataset.voila !== undefined;
    const state = ownsPage ? stateOf(location.search) : "";
    const isFileLink = new URLSearchParams(state).get("set") === OPENED_SET;
    const stored = isFileLink ? readOpenedSet() : null;
    if (stored) {
      this.open(stored.name, stored.questions);
      this.exchange.reopen();
    } else if (isFileLink) model.send({ missing: true });
    else if (state && !model.get("link_is_open") && state !== `?${model.get("name")}`) this.announce("Making the set of the link …");
    else this.openSet();
  }

  /** @param {string} text @param {{ofFile?: boolean}} [about] whether it refuses a file */
  announce(text, { ofFile = false } = {}) {
    this.layout.status.textContent = text;
    this.exchange.markWrong(ofFile ? this.layout.status.id : "");
  }

  open(name, questions) {
    const follows = this.model.get("quiz_style") === "follow" && name === this.model.get("name") && !name.startsWith(OPENED_SET);
    const isAlone = Boolean(this.model.get("alone"));
    this.session.open(name, questions, follows && !isAlone);
    this.whiteboard = { position: 0, isRevealed: false };
    this.drawReminders();
    this.draw();
    if (follows && isAlone) this.announce(FIXED_HERE);
    if (this.session.isPractice && !this.session.questions.length) this.nextItem();
  }

  /** Open the set of the page. */
  openSet() { this.open(this.model.get("name"), this.model.get("questions")); }

  // events of the model

  beginSet() {
    this.announce("");
    const name = this.model.get("name");
    if (name.startsWith(OPENED_SET)) {
      saveOpenedSet(name, this.model.get("questions"));
      this.exchange.keep();
    }
    this.open(name, this.model.get("questions"));
  }

  receive({ said, refused, more, round, item }) {
    if (said) this.announce(said, { ofFile: refused });
    if (round) this.beginRound(round);
    if (item === null) this.announce(ALL_ASKED);
    if (!more && !item) return;
    if (more) this.session.add(more);
    else this.session.addItem(item);
    this.draw(true);
  }

  /** Ask others like these again, never the same where others can be made. @param {{question: any, idea: number}[]} missed */
  askAgain(missed) {
    const asked = this.session.entries().map(({ question }) => question.text);
    this.missed = missed.map(({ question }) => question);
    this.model.send({ again: missed.map(({ question, idea }) => ({ like: question.maker, unlike: [...asked, question.text], idea, seed: question.text })) });
  }

  /** @param {any[]} others like those that were missed; nothing where there is none */
  beginRound(others) {
    const questions = this.missed.map((question, k) => (others[k] ? { ...others[k], of: keyOf(question) } : question));
    const same = this.missed.filter((_, k) => !others[k]).length;
    const { name } = newRound(questions);
    this.open(name, questions);
    this.draw(true);
    this.announce(same ? `${same} of ${questions.length} come again as they are, because no other can be made here.` : "These ask the same things with other numbers or substances.");
  }

  /** Ask Python what practice asks next. */
  nextItem() {
    this.session.recordAnswer();
    this.model.send({ practise: this.session.record });
  }

  showCell() {
    this.announce("");
    requestAnimationFrame(() => this.el.closest(".fp-page")?.querySelector(".fp-watched")?.scrollIntoView({ block: "start" }));
  }

  /** Until another set is there, the old one is marked as old. */
  showBusy() {
    const isBusy = Boolean(this.model.get("busy"));
    this.layout.frame.classList.toggle("fp-outdated", isBusy);
    this.layout.frame.setAttribute("aria-busy", String(isBusy));
    if (isBusy) this.announce(MAKING);
    else if (this.layout.status.textContent === MAKING) this.announce("");
  }

  // what a learner or a presenter does

  /** @param {number} by */
  step(by) {
    if (!this.session.questions.length) return;
    if (!this.isOnWhiteboard) this.session.move(by);
    else if (!stepWhiteboard(this.whiteboard, by, this.session.questions.length)) return;
    this.draw(true);
  }

  /** On the board. @param {number} position of a question */
  turnTo(position) {
    this.whiteboard = { position, isRevealed: false };
    this.draw(true);
  }

  watch(cells) {
    this.announce("The cell is being calculated. It will appear below the questions.");
    this.model.set("watch", cells);
    this.model.save_changes();
  }

  /** @param {boolean} hasFocus whether somebody pressed for it */
  handIn(hasFocus) {
    this.session.finish();
    this.drawReminders();
    this.draw(hasFocus);
  }

  clear() {
    clearStorage();
    this.announce("Answers and questions kept in this browser are forgotten.");
    if (this.session.isRound) this.openSet();
    else this.open(this.session.name, this.session.questions);
  }

  // drawing

  /** @param {boolean} [hasFocus] whether the keyboard goes to the question */
  draw(hasFocus = false) {
    this.timer?.destroy();
    this.timer = null;
    this.layout.asking.hidden = !this.isOnWhiteboard; // a presenter's
    this.room?.follow(false);
    if (!this.session.questions.length) this.layout.frame.replaceChildren();
    else if (this.isOnWhiteboard) this.drawWhiteboard(hasFocus);
    else if (this.isTimed && !this.session.kept.begun) this.drawStart();
    else this.drawCard(hasFocus);
  }

  drawReminders() {
    drawReminders(this.layout.reminders, {
      hasAnswers: this.session.hasAnswers,
      onRepeat: (due) => {
        const round = unfinishedRound();
        if (round) this.open(round.name, round.questions);
        else this.askAgain(due.map((question) => ({ question, idea: 0 })));
      },
      onBack: this.session.isRound ? () => this.openSet() : null,
      onClear: () => this.clear(),
    });
  }

  drawStart() {
    const minutes = this.model.get("minutes");
    this.layout.frame.replaceChildren(startCard(this.session.questions, minutes, () => {
      this.session.startClock(minutes);
      this.draw();
    }));
  }

  drawWhiteboard(hasFocus) {
    const { layout: { frame }, whiteboard } = this;
    frame.replaceChildren(whiteboardCard(this.session.questions, whiteboard, {
      onStep: (by) => this.step(by),
      onWatch: (cells) => this.watch(cells),
    }));
    if (hasFocus) frame.querySelector("h2")?.focus({ preventScroll: whiteboard.isRevealed });
    if (whiteboard.isRevealed) frame.querySelector(".fp-answer")?.scrollIntoView({ block: "nearest" });
  }

  drawCard(hasFocus) {
    const { session, isTimed, model } = this;
    if (isTimed && !session.kept.over) {
      this.timer = mountTimer(session.kept.ends ?? 0, { onEnd: () => this.handIn(false), onExtend: (ends) => session.moveEnd(ends) });
    }
    const texts = session.entries().map(({ question }) => question.text);
    const ask = ({ maker, text }) => model.send({ like: maker, unlike: texts, seed: `${text} ${texts.length}` });
    const heading = drawQuestion(this.layout.frame, session, { ideas: model.get("ideas"), timer: this.timer }, {
      onMove: (by) => this.step(by),
      onHandIn: () => this.handIn(true),
      onResult: () => this.drawReminders(),
      onList: () => {
        this.draw();
        if (session.isPractice) this.layout.frame.querySelector(".fp-next-item")?.focus();
      },
      onRetry: () => this.askAgain(session.missed()),
      onNextItem: () => this.nextItem(),
      onStep: () => {
        this.draw();
        this.layout.frame.querySelector(".fp-section ~ .fp-section input")?.focus();
      },
      onWatch: (cells) => this.watch(cells),
      onAnother: isTimed || session.isFromFile || session.isPractice ? null : ask,
    });
    if (hasFocus) heading.focus();
  }

  destroy() {
    this.unsubscribe();
    this.timer?.destroy();
    this.room?.destroy();
    for (const part of [this.exchange, this.remote, this.screenSwitches]) part.destroy();
    this.layout.root.remove();
    this.layout.switches.remove();
  }
}

export function renderQuiz({ model, el }) {
  const quiz = new Quiz(model, el);
  quiz.start();
  return () => quiz.destroy();
}
