// The bench: side cards either side of the cell, one ruler below, charts and words under that.
// A run arrives whole; from then on everything follows the clock without asking Python.

import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { buildLayout } from "./layout.js";
import { mountFirstVisit } from "./first_visit.js";
import { makeButton } from "../kit/elements.js";
import { clockText } from "../kit/format.js";
import { mountRemote } from "../kit/remote.js";
import { mountScreenSwitches } from "../kit/screen.js";
import { mountRun } from "./run.js";
import { openStore } from "../kit/store.js";
import { subscribe } from "../kit/subscription.js";
import { Stage } from "./lesson/stage.js";
import { mountAskClass } from "./ask_class.js";
import { mountResultsTable } from "./lesson/results_table.js";
import { mountTabs } from "../kit/tabs.js";

const NARROW_PX = 760;
const VIEW = "fpView"; // of a page whose lesson goes in steps: "steps", or "all" controls
const NEW_CLASS = "fizzplate-new-class"; // every bench of the page hears it

class Bench {
  constructor(model, el) {
    const place = model.get("place") ?? "";
    this.model = model;
    this.tabKey = `bench.1 ${place}`;
    const before = keptInTab(this.tabKey) ?? {};
    this.run = /** @type {ReturnType<typeof mountRun>|null} */ (null);
    this.last = before.left ?? null; // the position of the run before a reload
    this.settings = { indicator: "", particles: "few", ...before.chosen }; // kept from run to run
    this.playheads = new Map(); // where each run was left
    this.asked = /** @type {Record<string, any>|null} */ (null); // a change of the run, until the program has answered
    this.isNarrow = el.clientWidth > 0 && el.clientWidth < NARROW_PX;
    this.reducedMotion = matchMedia("(prefers-reduced-motion: reduce)");
    this.layout = buildLayout(el, place);
    this.stage = model.get("in_steps") ? new Stage(this.layout, model, () => this.run?.steps, before.places ?? {}, () => this.showAllResults()) : null;
    if (this.stage) this.stage.onGoing = () => this.foldSetUp(false);
    this.view = before.view ?? ""; // as chosen; else by whether the class is asked
    this.screenSwitches = mountScreenSwitches(this.layout.screenSwitches, () => this.partForFullScreen(), () => this.run?.refreshTheme());
    this.viewSwitch = this.stage ? this.addViewSwitch() : null;
    this.shared = this.mountPanels();
    this.room = this.stage && !model.get("alone") ? mountAskClass(this.layout, model, this.stage, this.shared.store, () => this.run?.record) : null;
    this.shared.tabs.choose(before.tab ?? "charts");
    this.remote = mountRemote(this.layout.root, (by) => this.step(by), () => this.inSteps);
    this.stopListening = this.listen();
    this.show();
  }

  // the two views of a lesson

  get inSteps() {
    if (!this.stage) return false;
    return (this.view || (this.model.get("lesson").asking ? "steps" : "all")) === "steps";
  }

  addViewSwitch() {
    const button = makeButton("All controls", () => {
      this.view = this.inSteps ? "all" : "steps";
      this.showAgain();
    });
    button.setAttribute("role", "switch");
    this.layout.screenSwitches.prepend(button);
    return button;
  }

  showView() {
    const { inSteps, layout } = this;
    if (!this.model.get("alone") && layout.number === "1") mountFirstVisit(layout.firstVisit, inSteps, Boolean(this.stage?.isRecordedOnce));
    if (!this.stage) return;
    document.documentElement.dataset[VIEW] = inSteps ? "steps" : "all";
    this.viewSwitch?.setAttribute("aria-checked", String(!inSteps));
    layout.root.classList.toggle("fp-steps-view", inSteps);
    for (const part of [layout.path, layout.stepWords, layout.onward]) part.hidden = !inSteps;
    if (!inSteps) this.shared.tabs.choose(this.shared.tabs.shown());
    else for (const panel of [layout.charts, layout.explain, layout.testing, layout.table]) panel.hidden = panel !== layout.table;
  }

  /** After the last solution the whole table, on the whole screen. */
  showAllResults() {
    const { table } = this.shared;
    table.showAll(true);
    table.fillScreen(this.layout.next);
  }

  /** In steps the whole page is the stage; else the cell with its ruler. */
  partForFullScreen() {
    return (this.inSteps && /** @type {HTMLElement|null} */ (this.layout.root.closest(".fp-page"))) || this.layout.stage;
  }

  /** What outlasts a run: the class's store, the tabs and the results table. */
  mountPanels() {
    const { layout } = this;
    const store = openStore();
    const tabs = mountTabs(layout.panels, [
      ["charts", "Charts", layout.charts],
      ["explain", "Explain", layout.explain],
      ["test", "Test the gas", layout.testing],
      ["table", "Results table", layout.table],
    ], (panel) => this.run?.opened(panel));
    const onNewClass = (/** @type {boolean} */ isUndo) => {
      this.room?.renew(isUndo);
      document.dispatchEvent(new CustomEvent(NEW_CLASS, { detail: { isUndo } }));
    };
    return { store, tabs, table: mountResultsTable(layout.table, store, this.model.get("species"), onNewClass) };
  }

  /** Fold the set-up's fields away from over the picture. @param {boolean} [staysThere] whether who pressed goes on at the button that opened them */
  foldSetUp(staysThere = true) {
    const change = /** @type {HTMLElement|null|undefined} */ (this.inSteps && this.layout.root.closest(".fp-page")?.querySelector(".fp-setup:has(> .fp-unfolded) .fp-change"));
    if (!change) return;
    change.click();
    if (staysThere) change.focus();
  }

  listen() {
    const listeners = new AbortController();
    const { signal } = listeners;
    addEventListener("pagehide", () => this.keep(), { signal });
    document.addEventListener(NEW_CLASS, (event) => this.reset(/** @type {CustomEvent} */ (event).detail.isUndo), { signal });
    // a field keeps its keys to itself, so the page hears this one before it
    document.addEventListener("keydown", ({ key }) => key === "Escape" && this.foldSetUp(), { signal, capture: true });
    this.reducedMotion.addEventListener("change", () => this.showAgain(), { signal });
    let folding = 0;
    const width = new ResizeObserver(([entry]) => {
      cancelAnimationFrame(folding); // in a later frame, because a fold changes the height of what is observed
      folding = requestAnimationFrame(() => this.fold(entry.contentRect.width < NARROW_PX));
    });
    width.observe(this.layout.root);
    const unsubscribe = subscribe(this.model, {
      "change:show_count": () => this.show(),
      "change:busy": () => this.showBusy(),
      "change:request": () => this.model.get("request")?.what || !this.inSteps || this.stage?.answered(),
      "change:next_label": () => this.inSteps && this.stage?.show(),
      "change:change_reply": () => this.refuseChange(),
      "change:charts": () => this.run?.plotAgain(),
      "change:certainty": () => this.run?.sayHowSure(),
    });
    return () => {
      listeners.abort();
      cancelAnimationFrame(folding);
      width.disconnect();
      unsubscribe();
    };
  }

  keep() {
    keepInTab(this.tabKey, { left: this.run?.position() ?? this.last, chosen: this.settings, tab: this.shared.tabs.shown(), places: this.stage?.kept(), view: this.view });
  }

  /** A new class has come: the program forgets what was run and changed, and the cell rests. @param {boolean} isUndo whether the last class is back */
  reset(isUndo) {
    this.stage?.forget();
    this.model.set("reset", { isUndo, timeMs: Date.now() });
    this.model.save_changes();
  }

  /** @param {number} by steps of the explanation, which opens first */
  step(by) {
    const { tabs } = this.shared;
    if (this.inSteps) {
      this.stage?.onward(by);
      return;
    }
    if (tabs.shown() === "explain") this.run?.step(by);
    else tabs.choose("explain");
  }

  fold(isNarrow) {
    if (isNarrow !== this.isNarrow) this.run?.fold(isNarrow);
    this.isNarrow = isNarrow;
  }

  show() {
    const { model, settings, playheads, shared, last } = this;
    this.run?.destroy();
    this.run = null;
    if (!model.get("show_count")) return;
    this.showView();
    const lesson = model.get("lesson");
    const isKnown = lesson.again || (lesson.on && last?.key === lesson.key);
    if (this.asked && this.asked.what === "change" && lesson.again) this.stage?.watchAgain();
    const step = this.stage?.arrive(isKnown);
    this.run = mountRun(this.layout, model, {
      reducedMotion: this.reducedMotion.matches,
      isNarrow: () => this.isNarrow,
      settings,
      playheads,
      shared,
      last,
      step: this.inSteps ? step : undefined,
      requestChange: (request) => this.requestChange(request),
    });
    if (lesson.on) this.last = null;
    if (this.inSteps) this.stage?.show();
    if (this.asked && lesson.again) this.showChange();
  }

  // changes during a run

  /** @param {Record<string, any>} request a change, or that the last one is taken back */
  requestChange(request) {
    this.asked = request;
    this.model.set("request", { ...request, count: (this.model.get("request")?.count ?? 0) + 1 });
    this.model.save_changes();
  }

  /** The program has made the change, or taken it back: the run goes on from there. */
  showChange() {
    const isBack = this.asked?.what === "take back";
    this.asked = null;
    if (!isBack) this.run?.showChange(!this.reducedMotion.matches);
    this.run?.ruler.changeButton.focus();
    const { marks = [], change } = this.model.get("lesson");
    const made = marks.find(({ atS }) => Math.abs(atS - change?.lastS) < 0.01);
    this.layout.changed.textContent = isBack || !made ? "The last change is taken back." : `At ${clockText(made.atS)}: ${made.text}. What was seen until then stays.`;
  }

  /** The program has said why a change cannot be made. */
  refuseChange() {
    const { refused, field } = this.model.get("change_reply") ?? {};
    if (!this.asked || !refused) return;
    this.asked = null;
    this.run?.change?.refuse(refused, field);
  }

  /** Draw the run anew when reduced motion is turned on or off, at the same place and as much revealed. */
  showAgain() {
    const position = this.run?.position();
    if (position) this.last = { ...position, playing: position.playing && !this.reducedMotion.matches };
    this.show();
  }

  /** Until another cell or its run is there, the old one is marked as old. */
  showBusy() {
    const isBusy = Boolean(this.model.get("busy"));
    const { root, status } = this.layout;
    root.classList.toggle("fp-outdated-cell", isBusy);
    root.setAttribute("aria-busy", String(isBusy));
    status.textContent = isBusy ? "Calculating … What you see here is still the old cell." : "";
  }

  destroy() {
    this.stopListening();
    this.run?.destroy();
    this.room?.destroy();
    this.screenSwitches.destroy();
    if (this.stage) delete document.documentElement.dataset[VIEW];
    this.remote.destroy();
    this.layout.root.remove();
  }
}

export function renderBench({ model, el }) {
  const bench = new Bench(model, el);
  return () => bench.destroy();
}
