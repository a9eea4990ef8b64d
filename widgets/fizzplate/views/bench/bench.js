// The bench: side cards either side of the cell, one ruler below, charts and words under that.
// A run arrives whole; from then on everything follows the clock without asking Python.

import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { buildLayout } from "./layout.js";
import { mountRemote } from "../kit/remote.js";
import { mountRoom } from "../kit/screen.js";
import { mountRun } from "./run.js";
import { openStore } from "../kit/store.js";
import { mountResultsTable } from "./lesson/results_table.js";
import { mountTabs } from "../kit/tabs.js";

const NARROW_PX = 760;
const NEW_CLASS = "fizzplate-new-class"; // every bench of the page hears it

export function renderBench({ model, el }) {
  const layout = buildLayout(el, model.get("place") ?? "");
  const reducedMotion = matchMedia("(prefers-reduced-motion: reduce)");
  let isNarrow = el.clientWidth > 0 && el.clientWidth < NARROW_PX;
  let shown = null;
  const name = `bench.1 ${model.get("place") ?? ""}`;
  const before = keptInTab(name) ?? {};
  const chosen = { indicator: "", particles: "few", ...before.chosen }; // kept from run to run
  const playheads = new Map(); // where each run was left
  const room = mountRoom(layout.room, layout.stage, () => shown?.refreshTheme());

  let left = before.left ?? null; // the run that was shown, and how far
  const leave = () => keepInTab(name, { left: shown?.left() ?? left, chosen, tab: tabs.shown() });
  addEventListener("pagehide", leave);
  const store = openStore();
  const panels = [
    ["charts", "Charts", layout.charts],
    ["explain", "Explain", layout.explain],
    ["test", "Test the gas", layout.testing],
    ["table", "Results table", layout.table],
  ];
  const tabs = mountTabs(layout.panels, panels, (panel) => shown?.opened(panel));
  /** Every cell of the page begins anew: its program forgets what was run, and the cell rests. */
  const begin = () => document.dispatchEvent(new Event(NEW_CLASS));
  const beginHere = () => {
    model.set("reset_time_ms", Date.now());
    model.save_changes();
  };
  document.addEventListener(NEW_CLASS, beginHere);
  const lasting = { store, tabs, table: mountResultsTable(layout.table, store, model.get("species"), begin) };
  tabs.choose(before.tab ?? "charts");
  const remote = mountRemote(layout.root, (by) => {
    if (tabs.shown() === "explain") shown?.step(by);
    else tabs.choose("explain");
  });

  function show() {
    shown?.destroy();
    shown = null;
    if (!model.get("show_count")) return;
    shown = mountRun(layout, model, {
      reducedMotion: reducedMotion.matches,
      narrow: () => isNarrow,
      chosen,
      playheads,
      lasting,
      left,
    });
    if (model.get("lesson").on) left = null;
  }
  /** Whoever turns reduced motion on or off goes on where they were, with what the class has been told. */
  function showAgain() {
    const at = shown?.left();
    if (at) left = { ...at, playing: at.playing && !reducedMotion.matches };
    show();
  }

  /** Until another cell or its run is there, the old one is marked as old. */
  function showBusy() {
    const busy = Boolean(model.get("busy"));
    layout.root.classList.toggle("fp-outdated-cell", busy);
    layout.root.setAttribute("aria-busy", String(busy));
    layout.waits.textContent = busy ? "Calculating … What you see here is still the old cell." : "";
  }
  const width = new ResizeObserver(([entry]) => {
    const now = entry.contentRect.width < NARROW_PX;
    if (now !== isNarrow) shown?.fold(now);
    isNarrow = now;
  });
  width.observe(layout.root);
  const plot = () => shown?.plot();
  model.on("change:show_count", show);
  model.on("change:busy", showBusy);
  model.on("change:charts", plot);
  reducedMotion.addEventListener("change", showAgain);
  show();
  return () => {
    model.off("change:show_count", show);
    model.off("change:busy", showBusy);
    model.off("change:charts", plot);
    reducedMotion.removeEventListener("change", showAgain);
    width.disconnect();
    shown?.destroy();
    room.destroy();
    removeEventListener("pagehide", leave);
    document.removeEventListener(NEW_CLASS, beginHere);
    remote.destroy();
    layout.root.remove();
  };
}
