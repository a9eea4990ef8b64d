// Practice that goes on: how sure a learner is, worked examples that fade, and what the record holds of an answer. Python
// works out from the record what is asked next.

import { make, makeButton } from "../kit/elements.js";
import { countText } from "../kit/say.js";
import { earnedMarks } from "./mark.js";

/** @typedef {import("./session.js").Entry} Entry */
/** @typedef {import("./storage.js").Attempt} Attempt */

const WHOLE = 0; // steps of a calculation that are left to the learner
/** How sure a learner is. @type {[string, string][]} */
const CONFIDENCE = [["sure", "sure"], ["think", "think so"], ["guess", "guess"]];
export const ASK_SURE = "First say how sure you are: it decides what comes back.";

/** A worked example that is only read. */
export const isRead = (question) => question.practice?.left === WHOLE;
/** Whether the reason is still hidden. @param question @param {import("./storage.js").Answer} answer */
export const isBeforeReason = (question, answer) => Boolean(question.practice?.inSteps && !answer.stepped && !answer.done);

/** What the record holds of an answer. @param {Entry} entry @param {import("./mark.js").MarkedAnswer} marked @returns {Attempt} */
export function attemptOf({ question, answer }, marked) {
  const { key, follows, left, steps } = question.practice;
  const right = isRead(question) || earnedMarks(marked, answer.own) === question.marks;
  return { maker: question.maker, item: key, right, idea: right ? 0 : marked.misconception, sure: answer.sure ?? "think", follows, left, steps };
}

/** Why the question comes, and the steps that are shown. */
export function practiceParts({ practice, shown }) {
  const parts = practice.because ? [make("p", practice.because, "fp-because")] : [];
  if (!practice.shown.length) return parts;
  const list = make("ol", "", "fp-worked");
  list.append(...practice.shown.map((step) => make("li", step)));
  parts.push(make("h3", practice.left === WHOLE ? "Worked example" : "Worked so far"), list);
  if (practice.left === WHOLE) parts.push(make("p", `Answer: ${shown}`, "fp-marks"));
  return parts;
}

/** @param {import("./storage.js").Answer} answer @param {string|number} index @param {boolean} isSettled @param {() => void} onChange */
export function confidenceFieldset(answer, index, isSettled, onChange) {
  const box = /** @type {HTMLFieldSetElement} */ (make("fieldset", "", "fp-sure"));
  box.disabled = isSettled;
  box.append(make("legend", "How sure are you?"));
  for (const [name, text] of CONFIDENCE) {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "radio";
    input.name = `fp-sure-${index}`;
    input.value = name;
    input.checked = answer.sure === name;
    input.addEventListener("change", () => {
      answer.sure = name;
      onChange();
    });
    label.append(input, make("span", text));
    box.append(label);
  }
  return box;
}

/** What to do after a worked example. @param {import("./storage.js").Answer} answer @param {() => void} onNext */
export function exampleButtons(answer, onNext) {
  const go = (sure) => () => {
    Object.assign(answer, { sure, done: true });
    onNext();
  };
  return [makeButton("Go on: the last step of the next one is mine", go("think")), makeButton("I can do the next one alone", go("sure"))];
}

/** What came of a practice so far. @param {Attempt[]} record @param {number} waiting @param {Record<string, {right: string}>} ideas */
export function practiceSummary(record, waiting, ideas) {
  const box = make("section", "", "fp-set-summary");
  const asked = record.filter(({ left }) => left !== WHOLE);
  if (!asked.length) return box;
  box.setAttribute("aria-label", "Result");
  const right = asked.filter((each) => each.right).length;
  const guessed = asked.filter((each) => each.right && each.sure === "guess").length;
  const sureWrong = asked.filter((each) => !each.right && each.sure === "sure").length;
  box.append(make("h2", "So far"), make("p", `${right} of ${countText(asked.length, "question")} right${guessed ? `, ${guessed} of them guessed` : ""}.`));
  if (sureWrong) box.append(make("p", `Sure and not right: ${sureWrong}. These come back first.`));
  if (waiting) box.append(make("p", `${countText(waiting, "question")} will come back in another form.`));
  const missed = [...new Set(asked.map(({ idea }) => idea))].filter((idea) => ideas[idea]);
  if (missed.length) {
    const list = make("ul");
    list.append(...missed.map((idea) => make("li", ideas[idea].right)));
    box.append(make("p", "What is true:"), list);
  }
  return box;
}
