// A notice in place of the panels that would give a class the answer.

import { make, makeButton } from "../../kit/elements.js";

const BEFORE_SWITCH = "Predict first, then switch on. The charts, the explanation, the close-up and the results table open later.";
const BEFORE_ANSWER = "Press Compare or Show at each electrode to open the charts, the explanation, the close-up and the results table.";

/** @param node where it stands @param {boolean} isOn whether the cell is switched on @param {() => void} onShowBoth */
export function showLockedNotice(node, isOn, onShowBoth) {
  node.hidden = false;
  node.replaceChildren(make("p", isOn ? BEFORE_ANSWER : BEFORE_SWITCH));
  if (isOn) node.append(makeButton("Show both electrodes", onShowBoth));
}

/** What follows the last change has not been shown yet, and charts tell of the whole run. @param {HTMLElement} node */
export function showWaitsForChange(node) {
  node.hidden = false;
  node.replaceChildren(make("p", "Charts and close-up tell of the whole run: they open when both electrodes have been shown after the last change. Move the ruler there."));
}
