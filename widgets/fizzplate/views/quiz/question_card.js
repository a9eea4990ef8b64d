// The question at hand: its answer, its buttons, its marks, and below it the summary of the set.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton } from "../kit/elements.js";
import { answerControls, marksText, questionParts, showRightOption, verdict } from "./card.js";
import { confirmHandIn } from "./clock/hand_in.js";
import { ASK_SURE, confidenceFieldset, exampleButtons, isBeforeReason, isRead, practiceParts, practiceSummary } from "./practice.js";
import { setSummary } from "./set_summary.js";
import { isMarkedByWriter, unreadReasons } from "./mark.js";

const MAIN = "fp-main-action";

/**
 * What happens beyond the card; `onList`: the list to tick is wanted, `onResult`: an answer was marked.
 * @typedef {{onMove: (by: number) => void, onHandIn: () => void, onList: () => void, onResult: () => void,
 *   onRetry: () => void, onWatch: (cells: string) => void, onNextItem: () => void, onStep: () => void,
 *   onAnother: ((question: any) => void)|null}} Actions `onNextItem`: what practice asks next, `onStep`: the reason is wanted
 */

/** A field that could not be read is wrong until something else is written there. @param {string} message id of what says so @param {string[]} reasons */
function markUnread(card, message, reasons) {
  const fields = card.querySelectorAll(".fp-task input, .fp-task textarea");
  reasons.forEach((reason, k) => {
    setWrong(fields[k], reason ? message : "");
    fields[k].addEventListener("input", () => setWrong(fields[k], ""), { once: true });
  });
}

/** What cannot be read is not marked: it can be written again. @param {string[]} reasons @param {() => void} onMarkAnyway */
function unreadNote(reasons, onMarkAnyway) {
  const said = [...new Set(reasons.filter(Boolean))].join(" ");
  const row = make("div", "", "fp-options");
  row.append(makeButton("See the marks anyway", onMarkAnyway));
  return [make("p", `I cannot read this. ${said} Nothing is marked yet: write it in another way and try again.`), row];
}

/** A button that leads on: the one filled action of the card. @param {string} text @param {() => void} act */
function mainButton(text, act) {
  const button = makeButton(text, act);
  button.classList.add(MAIN);
  return button;
}

/** The buttons below a question of a practice. @param {import("./session.js").Session} session @param {() => void} mark @param {Actions} actions */
function practiceRow(session, mark, { onMove, onNextItem }) {
  const { question, answer } = session.entries()[session.position];
  const row = make("div", "", "fp-options");
  const next = mainButton("Next question", session.isLast ? onNextItem : () => onMove(1));
  next.classList.add("fp-next-item");
  next.setAttribute("aria-describedby", "fp-quiz-marks"); // the marks are read with it, since it takes the focus
  if (isRead(question)) row.append(...(session.isLast ? exampleButtons(answer, onNextItem) : [next]));
  else if (answer.done) row.append(next);
  else row.append(mainButton(isBeforeReason(question, answer) ? "Go on to the reason" : "Mark it", mark));
  if (session.position) row.append(makeButton("Back", () => onMove(-1)));
  return row;
}

/** What leads on: first the marks, once they are shown the next question, and on the clock, at its last question, the end. @param {import("./session.js").Session} session @param {boolean} isTimed @param {() => void} mark @param {Actions} actions */
function buttonRow(session, isTimed, mark, actions) {
  if (session.isPractice) return practiceRow(session, mark, actions);
  const { onMove, onHandIn } = actions;
  const row = make("div", "", "fp-options");
  const back = makeButton("Back", () => onMove(-1));
  back.disabled = session.position === 0;
  const next = makeButton("Next question", () => onMove(1));
  next.classList.add("fp-next-question");
  next.disabled = session.position === session.entries().length - 1;
  const handIn = makeButton("Hand in", () => confirmHandIn(row, handIn, session.entries(), onHandIn));
  const ask = makeButton("Mark it", mark);
  (isTimed ? (next.disabled ? handIn : next) : ask).classList.add(MAIN);
  ask.classList.add("fp-mark-it");
  row.append(...(isTimed ? [back, next, handIn] : [ask, back, next]));
  return row;
}

/** Once the answer is marked, the next question is what leads on. @param {HTMLElement} card */
function leadOn(card) {
  const asked = card.querySelector(`.${MAIN}.fp-mark-it`);
  asked?.classList.remove(MAIN);
  if (asked) card.querySelector(".fp-next-question")?.classList.add(MAIN);
}

/** Once a practice has marked the answer, its marks are read before going on. @param {HTMLElement} row @param {HTMLElement} marks @param {boolean} isMarked */
const inOrder = (row, marks, isMarked) => (isMarked ? [marks, row] : [row, marks]);

/** @param {import("./session.js").Session} session */
function emptyCard({ number, isPractice, questions, kept }) {
  const heading = make("h2", `Question ${number}${isPractice ? "" : ` of ${questions.length + kept.extra.length}`}`);
  heading.tabIndex = -1;
  const feedback = make("div");
  feedback.setAttribute("role", "status");
  feedback.id = "fp-quiz-marks";
  return { card: make("div", "", "fp-question-card"), heading, feedback, summary: make("div") };
}

/** What is asked, and below it or, where there is room, beside it where it is answered and marked. @param {HTMLElement} card @param {HTMLElement} heading @param {ReturnType<typeof questionBody>} body @param {HTMLElement[]} end */
function inTwoParts(card, heading, { asked, answering }, end) {
  const [first, second] = [make("div", "", "fp-asked"), make("div", "", "fp-answering")];
  first.append(heading, ...asked);
  second.append(...answering, ...end);
  card.append(first, second);
}

/** What is asked, and where that is answered. @param {import("./session.js").Session} session @param {import("./session.js").Entry} entry @param {() => void} onChange */
function questionBody({ isPractice, position }, { question, answer }, onChange) {
  const about = make("p", `${question.topic}, ${marksText(question.marks)}`, "fp-note");
  const asked = [about, ...questionParts(question)];
  if (!isPractice) return { asked, answering: answerControls(question, position, answer, onChange) };
  if (isRead(question)) return { asked, answering: practiceParts(question) };
  const controls = answerControls(question, position, answer, onChange);
  if (answer.done && !isMarkedByWriter(question)) lock(controls);
  const sure = confidenceFieldset(answer, position, answer.done || Boolean(answer.stepped), onChange);
  return { asked, answering: [...practiceParts(question), ...controls, sure] };
}

/** Bring the marks into sight where they stand below a long question, at once: nothing moves. @param {HTMLElement} marks */
const bringIntoSight = (marks) => marks.scrollIntoView({ block: "nearest" });

/** Say in sight what cannot be read. @param {HTMLElement} card @param {HTMLElement} feedback @param {ReturnType<typeof unreadReasons>} reasons @param {() => void} mark it anyway */
function showUnread(card, feedback, reasons, mark) {
  feedback.replaceChildren(...unreadNote(reasons, mark));
  markUnread(card, feedback.id, reasons);
  bringIntoSight(feedback);
}

/** The lines that a writer claims, with these or without them. @param {number[]} own @param {number[]} lines @param {boolean} isClaimed */
const ownWith = (own, lines, isClaimed) => [...own.filter((each) => !lines.includes(each)), ...(isClaimed ? lines : [])];

/**
 * @param {HTMLElement} frame @param {import("./session.js").Session} session
 * @param {{ideas: Record<string, any>, timer: {node: HTMLElement}|null}} options with a timer, marks wait until the end
 * @param {Actions} actions @returns {HTMLElement} the heading
 */
export function drawQuestion(frame, session, { ideas, timer }, actions) {
  const entries = session.entries();
  const entry = entries[session.position];
  const [{ question, answer }, { isPractice }] = [entry, session];
  const { card, heading, feedback, summary } = emptyCard(session);

  function showSummary() {
    if (isPractice) summary.replaceChildren(practiceSummary(session.record, question.practice.waiting, ideas));
    else if (!timer) summary.replaceChildren(setSummary(entries, (each) => (each.answer.done ? session.marksOf(each) : null), ideas, actions.onRetry));
  }
  function showMarks() {
    const onAnother = actions.onAnother && (() => actions.onAnother(question));
    feedback.replaceChildren(verdict(question, session.marksOf(entry), answer, { ideas, onClaim: claim, onWatch: actions.onWatch, onAnother }));
    leadOn(card);
    markUnread(card, feedback.id, unreadReasons(question, answer.given, session.species));
    showRightOption(card, question, answer.given);
    showSummary();
  }
  function settle() {
    session.save();
    session.noteResult(entry);
    actions.onResult();
    showMarks();
  }
  /** @param {number[]} lines @param {boolean} isClaimed */
  function claim(lines, isClaimed) {
    answer.own = ownWith(answer.own, lines, isClaimed);
    settle();
  }
  function markIfRead() {
    const reasons = unreadReasons(question, answer.given, session.species);
    const isEmpty = !answer.given.replace(/[; ]/g, ""); // who writes nothing wants to see the answer
    if (isEmpty || !reasons.some(Boolean)) return mark();
    Object.assign(answer, { done: false, own: [] });
    session.save();
    showUnread(card, feedback, reasons, mark);
    showSummary();
  }
  function mark() {
    Object.assign(answer, { done: true, own: [] });
    settle();
    if (isMarkedByWriter(question) || isPractice) actions.onList();
    else bringIntoSight(feedback);
  }
  /** In a practice, how sure one is comes first, then the answer, then its reason. */
  function goOn() {
    if (isPractice && !answer.sure) feedback.replaceChildren(make("p", ASK_SURE));
    else if (isBeforeReason(question, answer)) {
      answer.stepped = true;
      session.save();
      actions.onStep();
    } else markIfRead();
  }
  const onChange = isMarkedByWriter(question) && answer.done ? settle : () => session.save();
  inTwoParts(card, heading, questionBody(session, entry, onChange), inOrder(buttonRow(session, timer !== null, goOn, actions), feedback, isPractice && answer.done));
  frame.replaceChildren(...(timer ? [timer.node] : []), card, summary);
  if (answer.done && !isRead(question)) showMarks();
  else showSummary();
  return heading;
}

/** Nothing is answered again once the answer is known. @param {HTMLElement[]} controls */
function lock(controls) {
  for (const box of controls) {
    for (const field of box.querySelectorAll("input, textarea, button")) /** @type {HTMLInputElement} */ (field).disabled = true;
  }
}
