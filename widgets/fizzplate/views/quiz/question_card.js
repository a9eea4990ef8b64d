// The question at hand: its answer, its buttons, its marks, and below it the summary of the set.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton } from "../kit/elements.js";
import { answerControls, marksText, questionParts, verdict } from "./card.js";
import { confirmHandIn } from "./hand_in.js";
import { setSummary } from "./set_summary.js";
import { isMarkedByWriter, unreadReasons } from "./mark.js";

/**
 * What happens beyond the card; `onList`: the list to tick is wanted, `onResult`: an answer was marked.
 * @typedef {{onMove: (by: number) => void, onHandIn: () => void, onList: () => void, onResult: () => void,
 *   onRetry: () => void, onWatch: (cells: string) => void, onAnother: ((question: any) => void)|null}} Actions
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

/** @param {import("./session.js").Session} session @param {boolean} isTimed @param {() => void} mark @param {Actions} actions */
function buttonRow(session, isTimed, mark, { onMove, onHandIn }) {
  const row = make("div", "", "fp-options");
  const back = makeButton("Back", () => onMove(-1));
  back.disabled = session.position === 0;
  const next = makeButton("Next question", () => onMove(1));
  next.disabled = session.position === session.entries().length - 1;
  const handIn = makeButton("Hand in", () => confirmHandIn(row, handIn, session.entries(), onHandIn));
  row.append(...(isTimed ? [back, next, handIn] : [makeButton("Mark it", mark), back, next]));
  return row;
}

/**
 * @param {HTMLElement} frame @param {import("./session.js").Session} session
 * @param {{ideas: Record<string, any>, timer: {node: HTMLElement}|null}} options with a timer, marks wait until the end
 * @param {Actions} actions @returns {HTMLElement} the heading
 */
export function drawQuestion(frame, session, { ideas, timer }, actions) {
  const entries = session.entries();
  const entry = entries[session.position];
  const { question, answer } = entry;
  const card = make("div", "", "fp-question-card");
  const heading = make("h2", `Question ${session.position + 1} of ${entries.length}`);
  heading.tabIndex = -1;
  const feedback = make("div");
  feedback.setAttribute("role", "status");
  feedback.id = "fp-quiz-marks";
  const summary = make("div");

  function showSummary() {
    if (!timer) summary.replaceChildren(setSummary(entries, (each) => (each.answer.done ? session.marksOf(each) : null), ideas, actions.onRetry));
  }
  function showMarks() {
    const another = actions.onAnother && (() => actions.onAnother(question));
    feedback.replaceChildren(verdict(question, session.marksOf(entry), answer, { ideas, onClaim: claim, onWatch: actions.onWatch, onAnother: another }));
    markUnread(card, feedback.id, unreadReasons(question, answer.given, session.species));
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
    const others = answer.own.filter((each) => !lines.includes(each));
    answer.own = isClaimed ? [...others, ...lines] : others;
    settle();
  }
  function markIfRead() {
    const reasons = unreadReasons(question, answer.given, session.species);
    const isEmpty = !answer.given.replace(/[; ]/g, ""); // who writes nothing wants to see the answer
    if (isEmpty || !reasons.some(Boolean)) return mark();
    Object.assign(answer, { done: false, own: [] });
    session.save();
    feedback.replaceChildren(...unreadNote(reasons, mark));
    markUnread(card, feedback.id, reasons);
    return showSummary();
  }
  function mark() {
    Object.assign(answer, { done: true, own: [] });
    settle();
    if (isMarkedByWriter(question)) actions.onList();
  }
  const marksEachTick = isMarkedByWriter(question) && answer.done;
  const controls = answerControls(question, session.position, answer, marksEachTick ? settle : () => session.save());
  const about = make("p", `${question.topic}, ${marksText(question.marks)}`, "fp-note");
  card.append(heading, about, ...questionParts(question), ...controls, buttonRow(session, timer !== null, markIfRead, actions), feedback);
  frame.replaceChildren(...(timer ? [timer.node] : []), card, summary);
  if (answer.done) showMarks();
  else showSummary();
  return heading;
}
