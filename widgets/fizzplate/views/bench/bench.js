// The bench: ledgers either side of the cell, one ruler below, charts and words under that.
// A run arrives whole; from then on everything follows the clock without asking Python.

import { createClock, usualTimeLapse } from "../scene/motion/clock.js";
import { decodeRecord } from "../scene/record.js";
import { mountScene } from "../scene/scene.js";
import { roundVolumeText, timesText } from "../kit/format.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { mountClassroom } from "./lesson/classroom.js";
import { mountCloseUp } from "./closeup.js";
import { buildLayout } from "./layout.js";
import { mountFlows } from "./flows.js";
import { fillLedger } from "./ledger.js";
import { mountLifted } from "./lifted.js";
import { mountPlots } from "./plots.js";
import { mountRemote } from "../kit/remote.js";
import { mountRoom } from "../kit/screen.js";
import { mountRuler } from "./ruler.js";
import { openStore } from "../kit/store.js";
import { mountTable } from "./lesson/table.js";
import { mountTabs } from "../kit/tabs.js";
import { mountWords } from "./words.js";

const NARROW_PX = 760;
const NEW_CLASS = "fizzplate-new-class"; // every bench of the page hears it

function scaleText(clock, scene) {
  const { driftScale, eventStandsFor, layerEnlarged, bubbleCm3, notesBeside } = scene.summary();
  return [
    `time ×${clock.timeLapse}`,
    driftScale && `drift drawn ${timesText(driftScale)} in all`,
    eventStandsFor,
    layerEnlarged && `layer drawn ${timesText(layerEnlarged)}`,
    bubbleCm3 && `one bubble ${roundVolumeText(bubbleCm3)}`,
    ...notesBeside,
  ].filter(Boolean).join(" · ");
}

function showRun(layout, model, { reducedMotion, narrow, chosen, playheads, lasting, left }) {
  const sent = model.get("lesson");
  const resumed = sent.on && left?.key === sent.key ? left : null; // the run that was shown before
  const lesson = resumed ? { ...sent, again: true, step: resumed.step } : sent;
  const record = decodeRecord(model.get("header"), model.get("samples"));
  const durationS = record.timeS.at(-1);
  const clock = createClock({ durationS, timeLapse: resumed?.timeLapse ?? usualTimeLapse(durationS) });
  layout.canvas.setAttribute("aria-label", lesson.picture);
  const scene = mountScene(layout.canvas, record, clock, {
    reducedMotion,
    unnamed: true, // until it may be shown
    ...chosen,
  });
  const ledgers = layout.ledgers.map((node, index) =>
    fillLedger(node, lesson.electrodes[index], index, record, { folded: narrow(), place: model.get("place") }),
  );
  const lifted = mountLifted(layout.lifted, record, lesson);
  lasting.table.nameElectrodes(record.header.slots);
  const words = mountWords(layout, lesson);
  const ruler = mountRuler(layout.ruler, clock, durationS, {
    on: lesson.on,
    scale: () => scaleText(clock, scene),
    indicators: Object.keys(record.header.indicators),
    chosen,
    lifted,
    choose(what, name) {
      chosen[what] = name;
      if (what === "indicator") scene.setIndicator(name);
      else scene.setParticles(name);
    },
  });
  const followers = [...ledgers, ruler, lifted, words, mountFlows(layout.flows, record, lesson.on)];
  let plots = /** @type {ReturnType<typeof mountPlots>|null} */ (null);
  let closeUp = /** @type {ReturnType<typeof mountCloseUp>|null} */ (null);
  const follow = () => [...followers, plots].forEach((each) => each?.update(clock.timeS));
  const plot = () => {
    plots = mountPlots(layout.charts, model.get("charts"), record, durationS, lesson.on, layout.number);
    follow();
  };
  layout.charts.replaceChildren();
  layout.closeUp.replaceChildren();
  layout.closeUp.hidden = true;
  const classroom = mountClassroom(layout, lesson, scene, record.header.slots, lasting, {
    electrode: (index) => ledgers[index].reveal(),
    all() {
      closeUp = mountCloseUp(layout.closeUp, record, lesson);
      ruler.reveal(closeUp);
      for (const each of [words, lifted, scene]) each.reveal();
      plot();
      if (!lesson.asking) return;
      model.set("told", true);
      model.save_changes();
    },
  }, () => ruler.uncover());
  const unsubscribe = clock.subscribe(follow);
  if (lesson.again) clock.seek(resumed?.timeS ?? playheads.get(lesson.key) ?? durationS);
  else if (lesson.on && reducedMotion) clock.seek(durationS);
  else if (lesson.on) clock.play();
  if (resumed?.playing) clock.play();
  follow();
  return {
    refreshTheme: () => scene.refreshTheme(),
    /** The charts have come; where the class is asked, they wait. */
    plot: () => plots && plot(),
    opened: classroom.opened,
    step: classroom.step,
    left: () => (lesson.on ? { key: lesson.key, timeS: clock.timeS, timeLapse: clock.timeLapse, playing: clock.playing, step: classroom.shownStep() } : null),
    fold: (isNarrow) => ledgers.forEach((ledger) => ledger.fold(isNarrow)),
    destroy() {
      if (lesson.key) playheads.set(lesson.key, clock.timeS);
      unsubscribe();
      ruler.destroy();
      closeUp?.destroy();
      scene.destroy();
      clock.destroy();
    },
  };
}

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
    model.set("emptied", Date.now());
    model.save_changes();
  };
  document.addEventListener(NEW_CLASS, beginHere);
  const lasting = { store, tabs, table: mountTable(layout.table, store, model.get("species"), begin) };
  tabs.choose(before.tab ?? "charts");
  const remote = mountRemote(layout.root, (by) => {
    if (tabs.shown() === "explain") shown?.step(by);
    else tabs.choose("explain");
  });

  function show() {
    shown?.destroy();
    shown = null;
    if (!model.get("shown")) return;
    shown = showRun(layout, model, {
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
    layout.root.classList.toggle("fp-old-cell", busy);
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
  model.on("change:shown", show);
  model.on("change:busy", showBusy);
  model.on("change:charts", plot);
  reducedMotion.addEventListener("change", showAgain);
  show();
  return () => {
    model.off("change:shown", show);
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
