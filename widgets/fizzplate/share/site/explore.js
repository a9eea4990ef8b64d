// Explore of a site: one cell or two side by side, and what was worked out beforehand of each.

import { make, makeButton } from "../../views/kit/elements.js";
import { renderPhoneParts } from "../../views/inquiry/phone_parts.js";
import { mountCell } from "../takeaway/cell.js";
import { hostIn } from "../takeaway/hosts.js";
import { createModel } from "../takeaway/model.js";
import { openRuns } from "../takeaway/unpack.js";
import { cellsInLink, firstShown, nearest, saidOf } from "./chosen_cells.js";
import { mountInvestigations } from "./investigations.js";
import { notice, openSitePage, sayNotThere, textOf } from "./opening.js";
import { mountSweeps } from "./sweeps.js";

const PLACES = ["First cell", "Second cell"];

class Explore {
  /** @param {HTMLElement} page @param {any} catalogue @param {any} explore */
  constructor(page, catalogue, explore) {
    this.catalogue = catalogue;
    this.cells = /** @type {ReturnType<typeof mountCell>[]} */ ([]);
    this.keys = /** @type {string[]} */ ([]);
    this.row = hostIn(page, "fp-cells");
    this.beside = makeButton("Add a second cell", () => this.show(this.cells.length === 2 ? [this.keys[0]] : [this.keys[0], this.keys[0]]));
    this.beside.classList.add("fp-beside");
    renderPhoneParts({ model: createModel({ parts: explore.parts }), el: hostIn(page, "fp-phone-parts-host") });
    const more = hostIn(page, "fp-more");
    page.insertBefore(this.beside, this.row);
    this.sweeps = mountSweeps(hostIn(more, "fp-sweeps"), explore.files, () => this.cells[0]?.mayReveal ?? false);
    mountInvestigations(hostIn(more, "fp-inquiry-host"), explore, (keys) => keys.every((key) => nearest(catalogue.offers, key)?.isExact), (keys, sweep) => {
      this.show(keys);
      if (sweep) this.sweeps.choose(sweep);
      this.row.scrollIntoView({ block: "start" });
    });
  }

  /** @param {string[]} keys one cell or two @param {boolean} isOn whether the first is switched on */
  show(keys, isOn = false) {
    const { offers } = this.catalogue;
    const looked = keys.map((key) => nearest(offers, key));
    const found = looked.map((each) => each ?? /** @type {import("./chosen_cells.js").Found} */ (nearest(offers, firstShown(offers))));
    notice(saidOf(looked.filter((each) => each !== null), keys.filter((_, k) => looked[k] === null)));
    this.cells.forEach((cell) => cell.destroy());
    this.row.replaceChildren();
    this.row.classList.toggle("fp-two-cells", keys.length === 2);
    this.beside.textContent = keys.length === 2 ? "Remove the second cell" : "Add a second cell";
    this.keys = found.map(({ offer, variant }) => offer.keys[variant]);
    this.cells = found.map((each, place) => this.mount(place, each));
    if (isOn) this.cells[0].choose(this.keys[0], true);
  }

  /** @param {number} place @param {import("./chosen_cells.js").Found} found */
  mount(place, found) {
    const { offers, species } = this.catalogue;
    const column = hostIn(this.row, "fp-cell");
    const open = offers.indexOf(found.offer);
    const cells = offers.map((/** @type {any} */ offer, /** @type {number} */ k) => (k === open ? { ...offer, own: found.variant } : offer));
    column.append(make("h2", PLACES[place], "fp-cell-name"));
    const cell = mountCell(column, {
      cells,
      open,
      species,
      inSteps: false,
      place: PLACES[place].toLowerCase(),
      where: "On this site",
      openRun: async (at, variant) => (await openRuns(await textOf(cells[at].files[variant])))[0],
      onShown: (at, variant) => this.follow(place, cells[at].keys[variant]),
      onFailed: sayNotThere,
    });
    cell.model.on("change:reveals_products", () => this.sweeps.follow(this.keys[0]));
    return cell;
  }

  /** The address and the sweeps follow the cells. @param {number} place @param {string} key */
  follow(place, key) {
    this.keys[place] = key;
    history.replaceState(history.state, "", `?${new URLSearchParams({ v: "1", cells: this.keys.join(";") })}`);
    this.sweeps.follow(this.keys[0]);
  }
}

export const openPage = () => openSitePage((page, { cells, explore }) => {
  const wanted = cellsInLink(location.search).slice(0, 2);
  new Explore(page, cells, explore).show(wanted.length ? wanted : [firstShown(cells.offers)], new URLSearchParams(location.search).has("on"));
});
