// A set against the clock: the card that starts it, and the question before handing in.

import { make, makeButton } from "../../kit/elements.js";
import { countText } from "../../kit/say.js";
import { marksText } from "../card.js";

/** @param {{marks: number}[]} questions @param {number} minutes @param {() => void} onBegin */
export function startCard(questions, minutes, onBegin) {
  const card = make("div", "", "fp-question-card");
  const marks = questions.reduce((sum, { marks: of }) => sum + of, 0);
  card.append(
    make("h2", "Against the clock"),
    make("p", `${countText(questions.length, "question")}, ${marksText(marks)}, ${countText(minutes, "minute")}. The clock starts when you begin; you can give yourself more time. Nothing is marked before you hand in.`),
    makeButton("Begin", onBegin),
  );
  return card;
}

/**
 * Ask whether to hand in before the time is up, and say how many answers are empty.
 * @param {HTMLElement} row of buttons, which the question replaces @param {HTMLElement} opener the button that was pressed
 * @param {{answer: {given: string, text?: string}}[]} entries @param {() => void} onHandIn
 */
export function confirmHandIn(row, opener, entries, onHandIn) {
  const empty = entries.filter(({ answer }) => !answer.given.trim() && !answer.text?.trim()).length;
  const box = make("div", "", "fp-hand-in");
  box.setAttribute("role", "alertdialog");
  const left = empty ? `${empty} of ${countText(entries.length, "question")} ${empty === 1 ? "has" : "have"} no answer yet.` : "Every question has an answer.";
  const warning = make("p", `${left} If you hand in now, the clock stops and your answers are marked.`);
  warning.id = "fp-hand-in-warning";
  box.setAttribute("aria-label", "Hand in now?");
  box.setAttribute("aria-describedby", warning.id);
  const goOn = makeButton("Go on answering", () => {
    box.replaceWith(row);
    opener.focus();
  });
  const buttons = make("div", "", "fp-options");
  buttons.append(makeButton("Hand in now", onHandIn), goOn);
  box.append(warning, buttons);
  box.addEventListener("keydown", ({ key }) => key === "Escape" && goOn.click());
  row.replaceWith(box);
  goOn.focus();
}
