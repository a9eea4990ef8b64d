// Above a set: what is due to be asked again, and how to clear what this browser keeps.

import { make, makeButton } from "../kit/elements.js";
import { repetitions } from "./storage.js";

/**
 * @param {HTMLElement} node
 * @param {{hasAnswers: boolean, onRepeat: (due: any[]) => void, onClear: () => void, onBack: (() => void)|null}} options `onBack`: from a round to the set
 */
export function drawReminders(node, { hasAnswers, onRepeat, onClear, onBack }) {
  const { waiting, due } = repetitions();
  node.replaceChildren();
  if (onBack) node.append(makeButton("Back to the set", onBack));
  if (due.length) {
    const words = due.length === 1 ? "1 question from earlier is due again" : `${due.length} questions from earlier are due again`;
    node.append(makeButton(`Ask again: ${words}`, () => onRepeat(due)));
  }
  if (waiting) node.append(make("span", `${waiting} ${waiting === 1 ? "question comes" : "questions come"} back later, in this browser only.`, "fp-note"));
  if (waiting || hasAnswers) node.append(makeButton("Forget all that is kept here", onClear));
}
