// One thing varied: sweeps of a site's cells, drawn beforehand.

import { make, makeButton } from "../../views/kit/elements.js";
import { sayNotThere, textOf } from "./opening.js";

const FIRST = "Switch on, and compare what you saw with what is expected at both electrodes. Then you can draw this sweep.";
const ANOTHER_CELL = "You have changed the first cell since then. Press Draw it again.";
const NONE = "This sweep was worked out for the cell as it is first shown, with any of its electrodes, where it has one. Choose those settings.";

/** @param {HTMLElement} host @param {Record<string, Record<string, string>>} files of each cell, by kind @param {() => boolean} mayReveal */
export function mountSweeps(host, files, mayReveal) {
  const kinds = [...new Set(Object.values(files).flatMap(Object.keys))];
  let [cell, drawn] = ["", ""];
  let asked = 0;
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  for (const kind of kinds) select.append(new Option(kind));
  const line = make("label", "Sweep ");
  line.append(select);
  const said = make("p", "", "fp-outdated-status");
  said.setAttribute("role", "status");
  const place = make("div");
  async function draw() {
    const file = files[cell]?.[select.value];
    said.textContent = mayReveal() ? (file ? "" : NONE) : FIRST;
    if (said.textContent) {
      place.replaceChildren();
      return;
    }
    const [mine, of] = [(asked += 1), cell];
    try {
      const figure = await textOf(file);
      if (mine !== asked || of !== cell || !mayReveal()) return; // another was asked for meanwhile, or the switch opened
      place.innerHTML = figure; // made by Python, every text escaped
      drawn = cell;
    } catch {
      sayNotThere();
    }
  }
  const row = make("div", "", "fp-site-choice");
  row.append(line, makeButton("Draw it", draw));
  host.append(make("h2", "One thing varied"), row, said, place);
  return {
    /** @param {string} kind */
    choose: (kind) => (select.value = kind),
    /** Take away what gives the answer away, and mark what belongs to another cell. @param {string} key */
    follow(key) {
      cell = key;
      if (!place.firstChild) return;
      if (!mayReveal()) place.replaceChildren();
      said.textContent = place.firstChild && drawn !== cell ? ANOTHER_CELL : "";
    },
  };
}
