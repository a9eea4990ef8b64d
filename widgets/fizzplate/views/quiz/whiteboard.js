// Live in class: a question in large letters, its answer hidden until the presenter reveals it.

import { make, makeButton } from "../kit/elements.js";
import { marksText, modelGraph, partLabel, questionParts } from "./card.js";
import { isMarkedByWriter } from "./mark.js";
import { watchControls } from "./watching.js";

/** @typedef {{position: number, isRevealed: boolean}} WhiteboardState */

/** Forwards to the answer and then to the next question; back the same way. @param {WhiteboardState} state @param {number} by @param {number} count of questions @returns {boolean} whether anything changes */
export function stepWhiteboard(state, by, count) {
  if (by > 0 && !state.isRevealed) state.isRevealed = true;
  else if (by > 0 && state.position < count - 1) Object.assign(state, { position: state.position + 1, isRevealed: false });
  else if (by < 0 && state.isRevealed) state.isRevealed = false;
  else if (by < 0 && state.position > 0) Object.assign(state, { position: state.position - 1, isRevealed: true });
  else return false;
  return true;
}

const isInParts = (question) => question.kind === "number" && question.parts.length > 1;

function bulletList(texts) {
  const list = make("ul");
  list.append(...texts.map((text) => make("li", text)));
  return list;
}

function answerBox(question) {
  const box = make("div", "", "fp-answer");
  box.append(make("h3", "Answer"));
  const isNumber = question.kind === "number";
  if (isNumber) {
    question.parts.forEach((part, k) => box.append(make("p", `${isInParts(question) ? partLabel(k) : ""}${part.answer}`, "fp-full-answer")));
  } else if (!isMarkedByWriter(question)) box.append(make("p", question.shown, "fp-full-answer"));
  if (question.sections?.length) {
    box.append(...question.sections.map(({ why }, k) => make("p", `${partLabel(k)}${why}`)));
    return box;
  }
  const steps = isNumber ? question.parts.flatMap((part) => part.steps) : question.points.map(({ statement }) => statement);
  box.append(steps.length ? bulletList(steps) : make("p", question.why));
  if (question.model) box.append(...modelGraph(question.model));
  return box;
}

function optionList(options, isRevealed) {
  const list = make("ol", "", "fp-choices");
  for (const { text, right } of options) {
    const item = make("li", text);
    if (isRevealed && right) item.append(make("strong", " ✓ right"));
    list.append(item);
  }
  return list;
}

function buttonRow({ position, isRevealed }, count, question, { onStep, onWatch }) {
  const row = make("div", "", "fp-options");
  const back = makeButton("Back", () => onStep(-1));
  back.disabled = position === 0 && !isRevealed;
  const next = makeButton(isRevealed ? "Next question" : "Reveal the answer", () => onStep(1));
  next.classList.add("fp-next", "fp-main-action");
  next.disabled = isRevealed && position === count - 1;
  row.append(back, next);
  if (isRevealed) row.append(...watchControls(question, undefined, onWatch));
  return row;
}

/** @param {any[]} questions @param {WhiteboardState} state @param {{onStep: (by: number) => void, onWatch: (cells: string) => void}} actions */
export function whiteboardCard(questions, state, actions) {
  const question = questions[state.position];
  const card = make("div", "", "fp-question-card fp-whiteboard-question fp-projected");
  const heading = make("h2", `Question ${state.position + 1} of ${questions.length}`);
  heading.tabIndex = -1;
  card.append(heading, make("p", marksText(question.marks), "fp-note"), ...questionParts(question));
  if (isInParts(question)) card.append(bulletList(question.parts.map(({ prompt }, k) => partLabel(k) + prompt)));
  (question.sections ?? []).forEach((section, k) => {
    card.append(make("p", `${partLabel(k)}${section.text}`));
    if (section.options.length) card.append(optionList(section.options, state.isRevealed));
  });
  if (question.options.length) card.append(optionList(question.options, state.isRevealed));
  const answer = make("div");
  answer.setAttribute("role", "status");
  if (state.isRevealed) answer.append(answerBox(question));
  card.append(answer, buttonRow(state, questions.length, question, actions));
  return card;
}
