// An electrode's card at each step: it asks in Predict and Watch, tests in Test, and tells in Explain.

import { make, makeButton, note, sayWhenFull, write } from "../../kit/elements.js";
import { within } from "../../kit/store.js";
import { begin } from "../../kit/say.js";
import { equationOf, headOf } from "../cards/card_parts.js";
import { madeText } from "../cards/side_card.js";
import { judgePrediction } from "./feedback.js";
import { observationField } from "./predictions.js";
import { entryOf } from "./run_stages.js";

const WAYS = ["taken from the wire", "given to the wire"]; // at the cathode, at the anode
const MAX_DOTS = 40;

/** What has passed at an electrode, and how much of it the other way, before the wires were swapped. @param {number} index of the electrode @param {number} passed @param {number} before */
function tallyWords(index, passed, before) {
  if (!before) return ` ${passed === 1 ? "electron" : "electrons"} ${WAYS[index]}`;
  return ` electrons have passed here: ${before} ${WAYS[1 - index]} before the swap, ${passed - before} ${WAYS[index]} since`;
}

/** The electrons that have passed, as a number and as so many discs: neither ever becomes less. @param {number} index of the electrode @param {string} scale to be said, or nothing */
export function tallyOf(index, scale) {
  const box = make("div", "", "fp-tally");
  const count = make("strong", "0", "fp-tally-count");
  const dots = make("span", "", "fp-tally-dots");
  dots.setAttribute("aria-hidden", "true");
  const way = make("span");
  const words = make("p");
  words.append(count, way);
  box.append(words, dots);
  if (scale) box.append(make("p", scale, "fp-tally-scale"));
  return {
    box,
    /** @param {number} passed in all @param {number} before of them, the other way */
    update(passed, before) {
      write(count, String(passed));
      write(way, tallyWords(index, passed, before));
      write(dots, "⊖".repeat(Math.min(passed, MAX_DOTS)) + (passed > MAX_DOTS ? ` + ${passed - MAX_DOTS}` : ""));
    },
  };
}

/** How much has formed at an electrode of a melt, by the clock. @param lesson what is shown @param record @param {number} index of the electrode */
export function madeOf(lesson, record, index) {
  const box = make("p", "", "fp-made-so-far");
  const amount = make("strong");
  box.append(make("span", "So far: "), amount);
  const products = record.header.electrodes[index].products.map((product, k) => ({ ...product, name: lesson.electrodes[index].names[k] }));
  return {
    box,
    /** @param {number} timeS */
    update: (timeS) => write(amount, products.map((each) => madeText(each, record.electrode(index), record, timeS)).join("; ")),
  };
}

/** Electrode, sign and what the step needs. @param {HTMLElement} node @param words of the electrode @param {(Node|null)[]} parts */
export function fillStepCard(node, words, parts) {
  node.setAttribute("aria-label", words.title);
  node.replaceChildren(headOf(words), ...parts.filter((each) => each !== null));
}

/** A place to note what is seen. */
export function watchParts(question, entry, keep, slots) {
  return observationField(question, entry, question.role, keep, slots).box;
}

/** A place to note what becomes of the liquid. @param {string} name under which it is kept @param entry of the store @param {(changes: Record<string, string>) => void} keep */
export function liquidParts(name, entry, keep) {
  const box = make("div", "", "fp-task fp-liquid");
  const field = /** @type {HTMLInputElement} */ (make("input"));
  field.type = "text";
  field.maxLength = 500;
  field.value = entry[name] ?? "";
  field.addEventListener("input", () => keep({ [name]: within(field.value) }));
  const label = make("label", "What do you see in the liquid? ");
  label.append(field);
  box.append(label, sayWhenFull(field));
  return box;
}

/**
 * The tests, and what the chosen one shows; what that means, when it is asked for.
 * @param tests of this electrode @param {string[]} names
 * @param {(test: string, outcome: any, picture: HTMLCanvasElement) => void} onTest picture: to draw it in
 */
export function testParts(results, names, onTest) {
  const box = make("div", "", "fp-task fp-step-test");
  const buttons = make("div", "", "fp-options");
  const result = make("div", "", "fp-result");
  result.setAttribute("role", "status");
  for (const test of names) {
    const button = makeButton(begin(test), () => {
      const outcome = results[test];
      for (const each of buttons.children) each.setAttribute("aria-pressed", String(each === button));
      const meaning = makeButton("What does it mean?", () => {
        const told = make("p", outcome.meaning, "fp-meaning");
        told.tabIndex = -1;
        meaning.replaceWith(told);
        told.focus();
      });
      const picture = /** @type {HTMLCanvasElement} */ (make("canvas", "", "fp-tube")); // which the words describe
      picture.setAttribute("aria-hidden", "true");
      result.replaceChildren(make("p", outcome.result, "fp-outcome"), picture, meaning);
      onTest(test, outcome, picture);
    });
    button.setAttribute("aria-pressed", "false");
    buttons.append(button);
  }
  box.append(buttons, result);
  return box;
}

/** What forms and the half-equation, as far as the explanation has come; at its end how the bench differs from the rule. */
export function explainParts(words, question, entry, { product, move, isLast }) {
  if (!product) return [];
  const parts = [make("p", words.product, "fp-product")];
  if (move) parts.push(equationOf({ equation: move.html, spoken: move.speech, waiting: "" }));
  const predicted = entry[`${entryOf(question, question.role)}:predicted`];
  if (predicted) parts.push(make("p", `Predicted: ${predicted} (${judgePrediction(predicted, question)}).`, "fp-judged"));
  return [...parts, ...(isLast ? words.difference : []).map((text) => note(text, "fp-difference"))];
}
