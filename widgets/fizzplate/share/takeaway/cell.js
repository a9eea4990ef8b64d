// A list of cells, their menus, a switch and the bench, over runs that were worked out beforehand.

import { renderBench } from "../../views/bench/bench.js";
import { mountBar } from "./bar.js";
import { hostIn } from "./hosts.js";
import { createModel } from "./model.js";

/** @typedef {Record<string, () => any>} Run what the bench shows of a run, at "rest" and "on" */

/**
 * What the lesson's steps ask a program for: the switch closed or open, or the next solution.
 * @param {import("./model.js").Model} model @param {{onSwitch: (isOn: boolean) => void, onNext: () => void}} answers
 */
function answerSteps(model, { onSwitch, onNext }) {
  model.on("change:request", () => {
    const { what } = model.get("request");
    if (what === "next") onNext();
    else if (what) onSwitch(what === "on");
  });
}

/** What a bench is before its first run is unpacked. @param {any} species of equations @param {boolean} inSteps @param {string} place */
const emptyBench = (species, inSteps, place) =>
  ({ show_count: 0, alone: true, place, species, charts: [], lesson: {}, in_steps: inSteps, next_label: "", request: {} });

/**
 * @typedef {{
 *   cells: import("./bar.js").Offer[], open: number, species: any, openRun: (at: number, variant: number) => Promise<Run>,
 *   where?: string, inSteps?: boolean, place?: string,
 *   onShown?: (at: number, variant: number, isOn: boolean) => void, onFailed?: (problem: unknown) => void,
 * }} Given cells and the one to begin with, atoms and charges for equations, how a run is opened, what holds the runs in words,
 *   whether a lesson goes in steps, which of a page's benches it is, what follows what is shown, and a run that cannot be opened
 */

class ListedCells {
  /** @param {HTMLElement} page @param {Given} given */
  constructor(page, given) {
    const { cells, open, species, where = "In this file", inSteps = true, place = "" } = given;
    this.given = given;
    this.cells = cells;
    this.page = page;
    this.model = createModel(emptyBench(species, inSteps, place));
    [this.at, this.variant, this.on] = [open, cells[open].own, false];
    this.last = cells.map(({ own }) => ({ variant: own, on: false })); // how each cell was left
    this.run = /** @type {Set<number>} */ (new Set()); // cells that were switched on
    this.request = 0;
    this.bar = mountBar(page, cells, where, {
      onCell: (at) => this.chooseAt(at),
      onVariant: (variant) => this.vary(variant, false),
      onSwitch: () => this.vary(this.variant, !this.on),
    });
    answerSteps(this.model, {
      onSwitch: (isOn) => this.vary(this.variant, isOn),
      onNext: () => this.chooseAt(Math.min(this.at + 1, cells.length - 1)),
    });
    this.model.on("change:reset", () => this.forget());
    this.closeBench = renderBench({ model: this.model, el: hostIn(page, "fp-bench-host") });
    this.show();
  }

  /** @param {number} to a cell, as it was left */
  chooseAt(to) {
    this.at = to;
    ({ variant: this.variant, on: this.on } = this.last[to]);
    this.show(this.on);
  }

  /** @param {number} to a run of the cell @param {boolean} isOn */
  vary(to, isOn) {
    [this.variant, this.on] = [to, isOn];
    this.show();
  }

  /** A new class: nothing has been run. */
  forget() {
    this.run.clear();
    this.last.forEach((each) => (each.on = false));
    this.on = false;
    this.show();
  }

  async show(again = false) {
    const { model, at, variant, on } = this;
    this.last[at] = { variant, on };
    if (on) this.run.add(at);
    this.bar.show(at, variant, on, this.run);
    const mine = (this.request += 1);
    this.bar.setBusy(true);
    try {
      const opened = await this.given.openRun(at, variant);
      if (mine !== this.request) return; // another cell was chosen meanwhile
      const state = opened[on ? "on" : "rest"]();
      const next_label = this.cells[at + 1]?.formulae ?? "";
      model.change({ ...state, reveals_products: false, next_label, lesson: { ...state.lesson, again }, show_count: model.get("show_count") + 1 }, "show_count");
      this.given.onShown?.(at, variant, on);
    } catch (problem) {
      if (!this.given.onFailed) throw problem;
      if (mine === this.request) this.given.onFailed(problem); // the last picture stays
    }
    if (mine === this.request) this.bar.setBusy(false);
  }

  /** Choose a cell by its key, as links write it, with its switch open or closed. @param {string} key @param {boolean} isOn @returns {boolean} whether there is one */
  choose(key, isOn) {
    const to = this.cells.findIndex(({ keys }) => keys.includes(key));
    if (to < 0) return false;
    this.at = to;
    this.vary(this.cells[to].keys.indexOf(key), isOn);
    return true;
  }

  /** Whether the class has seen what the run shows. */
  get mayReveal() {
    return Boolean(this.on && (this.model.get("reveals_products") || !this.model.get("lesson").asking));
  }

  destroy() {
    this.closeBench();
    this.page.replaceChildren();
  }
}

/** @param {HTMLElement} page @param {Given} given */
export const mountCell = (page, given) => new ListedCells(page, given);
