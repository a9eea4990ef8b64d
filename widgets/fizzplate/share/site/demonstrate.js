// The lesson of a site: a list of solutions, one after another, in five steps.

import { mountCell } from "../takeaway/cell.js";
import { openRuns } from "../takeaway/unpack.js";
import { asListed, cellsInLink, nearest, saidOf } from "./chosen_cells.js";
import { mountListChoice } from "./list_choice.js";
import { notice, openSitePage, sayNotThere, textOf } from "./opening.js";

/** The address follows what is shown, so that it can be passed on. @param {string[]} keys @param {number} open */
function follow(keys, open) {
  const parameters = new URLSearchParams(location.search);
  parameters.set("v", "1");
  parameters.set("cells", keys.join(";"));
  parameters.set("open", String(open));
  history.replaceState(history.state, "", `?${parameters}`);
}

export const openPage = () => openSitePage((page, { cells: catalogue }) => {
  const wanted = cellsInLink(location.search);
  const keys = wanted.length ? wanted : catalogue.lists[0].cells;
  const looked = keys.map((key) => nearest(catalogue.offers, key));
  const found = looked.filter((each) => each !== null);
  const lost = keys.filter((_, k) => looked[k] === null);
  notice(saidOf(found, lost));
  const listed = (found.length ? found : catalogue.lists[0].cells.map((key) => nearest(catalogue.offers, key))).map(asListed);
  const open = Math.min(Number(new URLSearchParams(location.search).get("open")) || 0, listed.length - 1);
  const chosen = listed.map(({ keys: each, own }) => each[own]);
  page.style.visibility = "hidden"; // until the cell stands: what comes before it would be pushed about
  mountCell(page, {
    cells: listed,
    open,
    species: catalogue.species,
    openRun: async (at, variant) => (await openRuns(await textOf(listed[at].files[variant])))[0],
    where: "On this site",
    onShown(at, variant) {
      chosen[at] = listed[at].keys[variant];
      follow(chosen, at);
      requestAnimationFrame(() => page.style.removeProperty("visibility"));
    },
    onFailed() {
      page.style.removeProperty("visibility");
      sayNotThere();
    },
  });
  mountListChoice(page, catalogue, chosen);
});
