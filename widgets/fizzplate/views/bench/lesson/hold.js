// What stands in place of all that would tell a class what it is still asked.

import { make, makeButton } from "../../kit/elements.js";

const FIRST = "Predict first, then switch on. The charts, the explanation, the close-up and the results table open later.";
const THEN = "Press Compare or Show at each electrode to open the charts, the explanation, the close-up and the results table.";

/** @param node where it stands @param {boolean} on whether the cell is switched on @param {() => void} showAll ends the asking */
export function mountHold(node, on, showAll) {
  node.hidden = false;
  node.replaceChildren(make("p", on ? THEN : FIRST));
  if (on) node.append(makeButton("Show both electrodes", showAll));
  return {
    release() {
      node.hidden = true;
      node.replaceChildren();
    },
  };
}
