// What a first visit on a phone offers: a first try of five minutes.

import { make, makeButton } from "../kit/elements.js";
import { readStored, writeStored } from "../kit/local_storage.js";

const STORAGE_KEY = "fizzplate.visited.1";
const IN_STEPS = [
  "Say what you think will form at each electrode.",
  "Press Next: current flows. Look at both electrodes and note what you see.",
  "Test the gas. Then press Next for the explanation, one sentence at a time.",
];
const ALL_AT_ONCE = [
  "Say what you think will form at each electrode. Then switch on.",
  "Look at both electrodes. Write what you see and press Compare.",
  "Change one thing, such as the concentration. Predict again, and run it again.",
];

/** One line that opens to the steps, so that the first question stays in sight. @param {HTMLElement} node a place for it @param {boolean} inSteps whether the page's lesson goes in steps @param {boolean} isDone whether a solution has been recorded: then the picture gets the room */
export function mountFirstVisit(node, inSteps, isDone) {
  node.replaceChildren();
  node.hidden = isDone || readStored(STORAGE_KEY) !== null;
  if (node.hidden) return;
  const list = make("ol");
  list.append(...(inSteps ? IN_STEPS : ALL_AT_ONCE).map((text) => make("li", text)));
  const done = makeButton("Do not show again", () => {
    writeStored(STORAGE_KEY, true);
    node.hidden = true;
  });
  const offer = make("details");
  offer.append(make("summary", "Try this first (five minutes)"), list, done);
  node.append(offer);
}
