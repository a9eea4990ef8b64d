// A set of questions: one at a time, against the clock, or on the board for a class. Answers are marked in the
// page and kept in this browser; Python is asked only for other questions, files, and a cell to watch.

import { stateOf } from "../web/address/links.js";
import { setWrong } from "../kit/refusal.js";
import { make, pressable } from "../kit/elements.js";
import { mountRemote } from "../kit/remote.js";
import { mountRoom } from "../kit/screen.js";
import { answering, earnedOf, marksText, questionParts, verdict } from "./card.js";
import { mountExchange } from "./exchange.js";
import { comingBack, forgetAll, keepOpened, keepSet, noAnswer, noteResult, openedSet, readSet, roundOf } from "./kept.js";
import { confirmHandIn, startCard } from "./hand_in.js";
import { setSummary } from "./set_summary.js";
import { markAnswer, unreadFields } from "./mark.js";
import { projected } from "./projected.js";
import { mountTimer } from "./timer.js";

const MAKING = "Making the new set … This question is still from the old one.";
const OPENED_SET = "opened"; // begins the name of a set from a file, whose questions the browser keeps

export function renderQuiz({ model, el }) {
  const root = make("section", "", "fp-quiz");
  root.setAttribute("aria-label", "Questions");
  const switches = make("div", "", "fp-room");
  switches.setAttribute("role", "group");
  switches.setAttribute("aria-label", "Room");
  el.append(root, switches);
  const room = mountRoom(switches, null, () => {}, ["Dim room", "Projector size", "Remote keys"]);
  const status = make("p", "", "fp-status");
  status.setAttribute("role", "status");
  status.id = "fp-quiz-status";
  const later = make("div", "", "fp-options fp-later");
  const frame = make("div", "", "fp-quiz-frame");
  /** @param {string} text @param {{ofFile?: boolean}} [about] whether it refuses a file */
  function announce(text, { ofFile = false } = {}) {
    status.textContent = text;
    exchange.mark(ofFile ? status.id : "");
  }
  const exchange = mountExchange(model, announce);
  root.append(status, later, frame);
  if (!model.get("alone")) root.append(exchange.node); // files are made and read by a program: one file alone has none
  const ownsPage = document.body.dataset.voila !== undefined;

  let name = "";
  let questions = /** @type {any[]} */ ([]);
  let kept = readSet("");
  let at = 0;
  let timer = /** @type {ReturnType<typeof mountTimer>|null} */ (null);
  const shown = { at: 0, revealed: false };
  let step = /** @param {number} _by */ (_by) => {};
  const remote = mountRemote(root, (by) => step(by));

  /** The set with what was added to it: every question with its answer. */
  function entries() {
    return questions.flatMap((asked, k) => [
      { asked, answer: (kept.answers[k] ??= noAnswer()) },
      ...kept.extra.filter(({ after }) => after === k).map(({ asked: more, answer }) => ({ asked: more, answer })),
    ]);
  }
  const species = model.get("species");
  const markedOf = ({ asked, answer }) => (answer.done ? markAnswer(asked, answer.given, species) : null);
  const keep = () => keepSet(name, kept);
  const timed = () => model.get("manner") === "clock" && !name.startsWith(OPENED_SET);
  function watch(cells) {
    announce("The cell is being calculated. It will appear below the questions.");
    model.set("watch", cells);
    model.save_changes();
  }
  function note({ asked, answer }) {
    const marked = markAnswer(asked, answer.given, species);
    noteResult(asked, earnedOf(marked, answer.own) === asked.marks);
    drawLater();
  }

  function drawLater() {
    const { waiting, due } = comingBack();
    later.replaceChildren();
    if (due.length) {
      const words = due.length === 1 ? "1 question from earlier is due again" : `${due.length} questions from earlier are due again`;
      later.append(pressable(`Ask again: ${words}`, () => {
        const round = roundOf(due);
        ask(round.name, round.questions);
      }));
    }
    if (waiting) later.append(make("span", `${waiting} ${waiting === 1 ? "question comes" : "questions come"} back, kept in this browser only.`, "fp-note"));
    if (waiting || kept.answers.some(({ given }) => given)) {
      later.append(pressable("Forget all that is kept here", () => {
        forgetAll();
        announce("Answers and questions kept in this browser are forgotten.");
        ask(name, questions);
      }));
    }
  }

  /** @param {boolean} [focus] whether somebody pressed for it */
  function handIn(focus = false) {
    timer?.destroy();
    timer = null;
    kept.over = true;
    for (const entry of entries()) {
      entry.answer.done = true;
      note(entry);
    }
    keep();
    at = 0;
    draw(focus);
  }
  function begin() {
    kept.begun = Date.now();
    kept.ends = kept.begun + 60_000 * model.get("minutes");
    keep();
    draw();
  }

  function drawBoard(focus) {
    const { node, step: turn } = projected(questions, shown, () => drawBoard(true), watch);
    step = turn;
    frame.replaceChildren(node);
    if (focus) frame.querySelector("h2")?.focus({ preventScroll: shown.revealed });
    if (shown.revealed) frame.querySelector(".fp-revealed")?.scrollIntoView({ block: "nearest" });
  }

  function drawCard(focus) {
    const all = entries();
    at = Math.min(at, all.length - 1);
    const { asked, answer } = all[at];
    const waiting = timed() && !kept.over; // what is written now is marked at the end
    const card = make("div", "", "fp-question-card");
    const head = make("h2", `Question ${at + 1} of ${all.length}`);
    head.tabIndex = -1;
    card.append(head, make("p", `${asked.topic}, ${marksText(asked.marks)}`, "fp-note"), ...questionParts(asked));
    const ticking = asked.kind === "list" && answer.done; // each tick is a mark
    card.append(...answering(asked, at, answer, () => {
      keep();
      if (ticking) settle();
    }));
    const said = make("div");
    said.setAttribute("role", "status");
    said.id = "fp-quiz-marks";
    const back = make("div");
    const result = () => back.replaceChildren(waiting ? "" : setSummary(all, markedOf, model.get("ideas"), again));
    function showMarks() {
      said.replaceChildren(verdict(asked, markAnswer(asked, answer.given, species), answer, {
        ideas: model.get("ideas"),
        claimed(line, on) {
          answer.own = on ? [...answer.own, line] : answer.own.filter((each) => each !== line);
          keep();
          note(all[at]);
          showMarks();
        },
        watch,
        like: timed() || name.startsWith(OPENED_SET) ? null : () => model.send({ like: asked.maker, unlike: asked.text, seed: Math.floor(Math.random() * 1e6) }),
      }));
      markUnread();
      result();
    }
    /** What could not be read is wrong in its own field, until something else is written there. */
    function markUnread() {
      const fields = card.querySelectorAll(".fp-ask input");
      unreadFields(asked, answer.given, species).forEach((unread, k) => {
        setWrong(fields[k], unread ? said.id : "");
        fields[k].addEventListener("input", () => setWrong(fields[k], ""), { once: true });
      });
    }
    const row = make("div", "", "fp-options");
    const before = pressable("Back", () => move(-1));
    before.disabled = at === 0;
    const next = pressable("Next question", () => move(1));
    next.disabled = at === all.length - 1;
    function settle() {
      keep();
      note(all[at]);
      showMarks();
    }
    const mark = pressable("Mark it", () => {
      Object.assign(answer, { done: true, own: [] });
      settle();
      if (asked.kind === "list") draw();
    });
    const handInButton = pressable("Hand in", () => confirmHandIn(row, handInButton, entries(), () => handIn(true)));
    row.append(...(waiting ? [] : [mark]), before, next, ...(waiting ? [handInButton] : []));
    card.append(row, said);
    timer?.destroy();
    timer = waiting ? mountTimer(kept.ends ?? 0, { over: handIn, moved(ends) {
      kept.ends = ends;
      keep();
    } }) : null;
    frame.replaceChildren(...(timer ? [timer.node] : []), card, back);
    if (answer.done) showMarks();
    else result();
    if (focus) head.focus();
  }
  function move(by) {
    at = Math.min(Math.max(at + by, 0), entries().length - 1);
    draw(true);
  }
  function again() {
    const all = entries();
    const short = all.flatMap((entry, k) => {
      const marked = markedOf(entry);
      return marked && earnedOf(marked, entry.answer.own) < entry.asked.marks ? [k] : [];
    });
    for (const k of short) Object.assign(all[k].answer, noAnswer());
    at = short[0] ?? 0;
    keep();
    draw(true);
  }
  function draw(focus = false) {
    step = move;
    if (!questions.length) frame.replaceChildren();
    else if (model.get("manner") === "board") drawBoard(focus);
    else if (timed() && !kept.begun) frame.replaceChildren(startCard(questions, model.get("minutes"), begin));
    else drawCard(focus);
  }

  /** Begin a set, where it was left. */
  function ask(which, set) {
    timer?.destroy();
    timer = null;
    name = which;
    questions = set;
    kept = readSet(name);
    Object.assign(shown, { at: 0, revealed: false });
    at = Math.max(0, entries().findIndex(({ answer }) => !answer.done));
    drawLater();
    draw();
  }
  function changedSet() {
    announce("");
    const which = model.get("name");
    if (which.startsWith(OPENED_SET)) {
      keepOpened(which, model.get("questions"));
      exchange.keep();
    }
    ask(which, model.get("questions"));
  }
  function received(message) {
    if (message.said) announce(message.said, { ofFile: message.refused });
    if (!message.more) return;
    const asked = entries().slice(0, at + 1).filter((entry) => questions.includes(entry.asked));
    kept.extra.push({ after: asked.length - 1, asked: message.more, answer: noAnswer() });
    keep();
    at = entries().findIndex((entry) => entry.asked === message.more);
    draw(true);
  }
  function watched() {
    announce("");
    requestAnimationFrame(() => el.closest(".fp-page")?.querySelector(".fp-watched")?.scrollIntoView({ block: "start" }));
  }

  /** Until another set is there, the old one is marked as old. */
  function showBusy() {
    const busy = Boolean(model.get("busy"));
    frame.classList.toggle("fp-outdated", busy);
    frame.setAttribute("aria-busy", String(busy));
    if (busy) announce(MAKING);
    else if (status.textContent === MAKING) announce("");
  }
  model.on("change:busy", showBusy);
  model.on("change:turn", changedSet);
  model.on("change:watch_count", watched);
  model.on("msg:custom", received);
  const state = stateOf(location.search);
  const reopens = ownsPage && new URLSearchParams(state).get("set") === OPENED_SET;
  const opened = reopens ? openedSet() : null;
  const awaited = ownsPage && state && !model.get("link_is_open") && state !== `?${model.get("name")}`;
  if (opened) {
    ask(opened.name, opened.questions);
    exchange.reopen();
  } else if (reopens) model.send({ missing: true });
  else if (awaited) announce("The set of the link is being made.");
  else ask(model.get("name"), model.get("questions"));
  return () => {
    model.off("change:busy", showBusy);
    model.off("change:turn", changedSet);
    model.off("change:watch_count", watched);
    model.off("msg:custom", received);
    timer?.destroy();
    for (const part of [exchange, remote, room]) part.destroy();
    root.remove();
    switches.remove();
  };
}
