// Test the gas: the class chooses a test and an electrode, and the scene shows what happens. What the result means
// appears when it may be revealed.

import { make, makeButton } from "../../kit/elements.js";
import { begin } from "../../kit/say.js";
import { entryOf, sideOf } from "./run_stages.js";

/** A test and its result, as the results table keeps them. @param {string} test @param {{result: string}} outcome */
export const testedText = (test, { result }) => `${begin(test)}. ${result}`;

/** @param node the panel @param lesson of the run @param scene @param store @param {() => void} closeLenses takes away what lies over the picture */
export function mountTesting(node, lesson, scene, store, closeLenses) {
  const { tests, ask } = lesson.classroom;
  node.replaceChildren();
  if (!tests) {
    node.append(make("p", lesson.isMelt ? "The gas of a melt is not tested in class." : "Switch on first: there is no gas yet.", "fp-empty"));
    return { closed() {}, reveal() {} };
  }
  let side = 0;
  let isRevealed = false;
  let meaning = "";
  const electrodes = make("fieldset", "", "fp-electrode-choice");
  electrodes.append(make("legend", "At which electrode?"));
  ask.forEach(({ title }, index) => {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "radio";
    input.name = "fp-test-side";
    input.checked = index === side;
    input.addEventListener("change", () => (side = index));
    label.append(input, make("span", title));
    electrodes.append(label);
  });
  const result = make("div", "", "fp-result");
  result.setAttribute("role", "status");
  const buttons = make("div", "", "fp-options");
  const note = make("p", "", "fp-note");
  for (const test of tests.names) {
    buttons.append(makeButton(begin(test), () => {
      const outcome = tests.results[side][test];
      closeLenses(); // the gas was collected at electrodes that stand in the cell, and the test is drawn beside it
      scene.showTest(sideOf(lesson, side), test, outcome.picture);
      const at = ask[side].title;
      meaning = outcome.meaning;
      note.textContent = isRevealed ? meaning : "";
      result.replaceChildren(make("h3", `${at}: ${test}`), make("p", outcome.result), note);
      store.change(lesson.key, { [`${entryOf(ask[side], ask[side].role)}:tested`]: testedText(test, outcome) });
    }));
  }
  const caution = "Collect one small tube of gas and take it away from the cell. Never light gas at the cell. Your school's risk assessment decides.";
  node.append(electrodes, buttons, result, make("p", caution, "fp-note fp-caution"));
  return {
    closed: () => scene.showTest(-1, "", ""),
    reveal() {
      isRevealed = true;
      note.textContent = meaning;
    },
  };
}
