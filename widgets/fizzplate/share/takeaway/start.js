// The page to take away: the widgets' own drawing code over runs that lie in the file.

import { keepFocus } from "../../views/web/address/focus.js";
import { mountScreenSwitches } from "../../views/kit/screen.js";
import { renderWorkshop } from "../../views/workshop/workshop.js";
import { mountCell } from "./cell.js";
import { hostIn } from "./hosts.js";
import { createModel } from "./model.js";
import { mountQuestions } from "./questions.js";
import { openPlain, openRuns } from "./unpack.js";

const PARTS = ["cell", "equations", "questions", "about"];
const TOO_OLD = "This browser is too old for this page. Use a browser from 2023 or later.";

/** @param {string} id */
const partOf = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** One part is shown at a time; the address says which. */
function followAddress() {
  function show() {
    const id = PARTS.includes(location.hash.slice(1)) ? location.hash.slice(1) : PARTS[0];
    for (const each of PARTS) partOf(each).hidden = each !== id;
    for (const link of document.querySelectorAll(".fp-taken-head a")) {
      if (link.getAttribute("href") === `#${id}`) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    scrollTo(0, 0);
  }
  addEventListener("hashchange", show);
  show();
}

/**
 * The list of the file, whose runs are unpacked when a cell of them is first chosen.
 * @param {{cells: import("./bar.js").Offer[], open: number}} plain @param {string[]} blocks
 * @param {any} species of equations
 */
function mountList({ cells, open }, blocks, species) {
  const opened = /** @type {(Promise<import("./cell.js").Run[]>|undefined)[]} */ ([]);
  const openRun = async (/** @type {number} */ at, /** @type {number} */ variant) => (await (opened[at] ??= openRuns(blocks[at])))[variant];
  return mountCell(partOf("cell"), { cells, open, species, openRun });
}

export async function startTakeAway() {
  followAddress();
  keepFocus(/** @type {Element} */ (document.querySelector("main")));
  const notice = /** @type {HTMLElement} */ (document.querySelector(".fp-taken-notice[role]"));
  if (!("DecompressionStream" in globalThis)) {
    notice.textContent = TOO_OLD;
    notice.hidden = false;
    return;
  }
  const plain = JSON.parse(partOf("fp-plain").textContent ?? "");
  const [shared, ...blocks] = [...document.querySelectorAll(".fp-block")].map((block) => block.textContent ?? "");
  const { quiz, workshop, species } = await openPlain(shared);
  const list = mountList(plain, blocks, species);
  const more = hostIn(partOf("equations"), "fp-more");
  const desk = hostIn(more, "fp-workshop-host");
  renderWorkshop({ model: createModel({ data: workshop }), el: desk });
  mountQuestions(hostIn(partOf("questions"), "fp-quiz-host"), quiz, (key) => {
    if (list.choose(key, true)) location.hash = "cell";
  });
  for (const id of ["equations", "about"]) {
    const switches = hostIn(partOf(id), "fp-screen-switches");
    switches.setAttribute("role", "group");
    switches.setAttribute("aria-label", "Room");
    mountScreenSwitches(switches, null, () => {}, ["Dim room", "Projector size"]);
  }
}
