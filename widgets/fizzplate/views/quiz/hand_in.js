// A set against the clock: how it begins, and what is asked before it is handed in.

import { make, pressable } from "../kit/elements.js";
import { counted, marksText } from "./card.js";

/** @param {{marks: number}[]} questions @param {number} minutes @param {() => void} begin */
export function startCard(questions, minutes, begin) {
  const card = make("div", "", "fp-question-card");
  const marks = questions.reduce((sum, { marks: of }) => sum + of, 0);
  card.append(
    make("h2", "Against the clock"),
    make("p", `${counted(questions.length, "question")}, ${marksText(marks)}, ${counted(minutes, "minute")}. The clock starts when you begin; you can give yourself more time. Nothing is marked before you hand in.`),
    pressable("Begin", begin),
  );
  return card;
}

/**
 * Ask before the time is up, and say what is still empty.
 * @param {HTMLElement} row of the buttons, in whose place it is asked @param {HTMLElement} pressed
 * @param {{answer: {given: string, text?: string}}[]} entries @param {() => void} handIn
 */
export function confirmHandIn(row, pressed, entries, handIn) {
  const empty = entries.filter(({ answer }) => !answer.given.trim() && !answer.text?.trim()).length;
  const box = make("div", "", "fp-hand-in");
  box.setAttribute("role", "alertdialog");
  const left = empty ? `${empty} of ${counted(entries.length, "question")} ${empty === 1 ? "has" : "have"} no answer yet.` : "Every question has an answer.";
  const warning = make("p", `${left} If you hand in now, the clock stops and your answers are marked.`);
  warning.id = "fp-hand-in-warning";
  box.setAttribute("aria-label", "Hand in now?");
  box.setAttribute("aria-describedby", warning.id);
  const goOn = pressable("Go on answering", () => {
    box.replaceWith(row);
    pressed.focus();
  });
  const acts = make("div", "", "fp-options");
  acts.append(pressable("Hand in now", handIn), goOn);
  box.append(warning, acts);
  box.addEventListener("keydown", ({ key }) => key === "Escape" && goOn.click());
  row.replaceWith(box);
  goOn.focus();
}
