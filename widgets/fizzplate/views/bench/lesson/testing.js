// Test the gas: a test and an electrode are chosen, the scene shows what happens; what it means is said when it may
// be revealed.

import { make, makeButton } from "../../kit/elements.js";

/** @param node the panel @param lesson of the run @param scene @param store @param {() => void} uncover takes away what lies over the picture */
export function mountTesting(node, lesson, scene, store, uncover) {
  const { tests, ask } = lesson.classroom;
  node.replaceChildren();
  if (!tests) {
    node.append(make("p", "Switch on first: there is no gas yet.", "fp-empty"));
    return { closed() {}, reveal() {} };
  }
  let side = 0;
  let revealed = false;
  let meaning = "";
  const where = make("fieldset", "", "fp-where");
  where.append(make("legend", "At which electrode?"));
  ask.forEach(({ title }, index) => {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "radio";
    input.name = "fp-test-side";
    input.checked = index === side;
    input.addEventListener("change", () => (side = index));
    label.append(input, make("span", title));
    where.append(label);
  });
  const result = make("div", "", "fp-result");
  result.setAttribute("role", "status");
  const which = make("div", "", "fp-options");
  const means = make("p", "", "fp-note");
  for (const test of tests.names) {
    which.append(makeButton(test[0].toUpperCase() + test.slice(1), () => {
      const tried = tests.results[side][test];
      uncover(); // the gas comes from electrodes that stand in the cell, and the test is drawn at them
      scene.showTest(side, test, tried.picture);
      const at = ask[side].title;
      meaning = tried.meaning;
      means.textContent = revealed ? meaning : "";
      result.replaceChildren(make("h3", `${at}: ${test}`), make("p", tried.result), means);
      store.change(lesson.key, { [`${ask[side].role}:tested`]: `${test}: ${tried.result}` });
    }));
  }
  const caution = "Collect one small tube of gas and take it away from the cell. Never light gas at the cell. Your school's risk assessment decides.";
  node.append(where, which, result, make("p", caution, "fp-note fp-caution"));
  return {
    closed: () => scene.showTest(-1, "", ""),
    reveal() {
      revealed = true;
      means.textContent = meaning;
    },
  };
}
