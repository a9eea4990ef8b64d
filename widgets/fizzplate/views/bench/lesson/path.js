// The five steps of a lesson with one solution: a bar in which any can be pressed, and one large button to what comes next.

import { make, write } from "../../kit/elements.js";

/** @typedef {"predict"|"watch"|"test"|"explain"|"record"} StepName */

/** @type {[StepName, string][]} */
export const STEPS = [
  ["predict", "Predict"],
  ["watch", "Watch"],
  ["test", "Test"],
  ["explain", "Explain"],
  ["record", "Record"],
];

const NAMES = STEPS.map(([name]) => name);
const TELLING = ["explain", "record"]; // the steps that may name what forms

/** @param {StepName} name */
export const mayTell = (name) => TELLING.includes(name);

const OF_A_MELT = ["predict", "explain", "record"]; // it has no run to watch, and its gas is not tested in class

/** The steps that a lesson has. @param {{isMelt?: boolean}} lesson @returns {StepName[]} */
export const stepsOf = ({ isMelt }) => NAMES.filter((name) => !isMelt || OF_A_MELT.includes(name));

/** The step that comes so many after another; nothing beyond the last. @param {StepName} name @param {number} by @param {StepName[]} names of all @returns {StepName|undefined} */
export const stepAfter = (name, by = 1, names = NAMES) => names[names.indexOf(name) + by];

/** @param {unknown} name @returns {name is StepName} */
export const isStep = (name) => NAMES.includes(/** @type {StepName} */ (name));

/**
 * @param {HTMLElement} bar @param {HTMLButtonElement} next @param {HTMLButtonElement} back
 * @param {{onStep: (name: StepName) => void, onward: (by: number) => void}} act
 */
export function mountPath(bar, next, back, { onStep, onward }) {
  const list = make("ol");
  const buttons = STEPS.map(([name, title], k) => {
    const button = /** @type {HTMLButtonElement} */ (make("button", "", "fp-path-step"));
    button.type = "button";
    const number = make("span", `${k + 1} `, "fp-path-number");
    button.append(number, make("span", title), make("span", "", "fp-path-done"));
    button.addEventListener("click", () => onStep(name));
    const place = make("li");
    place.append(button);
    list.append(place);
    return { button, number, place };
  });
  bar.replaceChildren(list);
  next.addEventListener("click", () => next.getAttribute("aria-disabled") !== "true" && onward(1));
  back.addEventListener("click", () => back.getAttribute("aria-disabled") !== "true" && onward(-1));
  return {
    /** @param {StepName} now @param {Set<StepName>} done @param {string} label of what comes next @param {boolean} isWaiting for the program @param {StepName[]} names of the lesson's steps */
    show(now, done, label, isWaiting, names = NAMES) {
      buttons.forEach(({ button, number, place }, k) => {
        place.hidden = !names.includes(NAMES[k]);
        write(number, `${names.indexOf(NAMES[k]) + 1} `);
        const isDone = done.has(NAMES[k]) && NAMES[k] !== now;
        if (NAMES[k] === now) button.setAttribute("aria-current", "step");
        else button.removeAttribute("aria-current");
        button.toggleAttribute("data-done", isDone);
        button.lastElementChild.replaceChildren(...(isDone ? [make("span", " ✓", "fp-tick"), make("span", ", done", "fp-spoken")] : []));
        button.querySelector(".fp-tick")?.setAttribute("aria-hidden", "true");
      });
      if (next.textContent !== label) next.textContent = label;
      next.setAttribute("aria-disabled", String(isWaiting));
      back.setAttribute("aria-disabled", String(now === "predict"));
    },
  };
}
