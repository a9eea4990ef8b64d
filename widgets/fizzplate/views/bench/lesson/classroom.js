// What a class does with the cell: predict, observe, test, explain, record. Panels that would give the answer stay locked
// until both electrodes have been compared or shown, or where the class is not asked.

import { mountExplain } from "./explain.js";
import { showLockedNotice } from "./locked_notice.js";
import { mountPredictions } from "./predictions.js";
import { mountTesting } from "./testing.js";
import { liquidsOf, sideOf } from "./run_stages.js";

/** Begin or update the cell's row of the results table, whose answers are hidden unless the run goes on. */
export function beginRow(store, lesson) {
  const { key, label, again, classroom } = lesson;
  const liquids = liquidsOf(lesson);
  const [cathode, anode] = classroom.ask;
  const hidden = again ? {} : { "cathode:shown": false, "anode:shown": false, revealsProducts: false };
  store.change(key, {
    ...hidden,
    label,
    row: classroom.row,
    traps: classroom.traps,
    liquids,
    "cathode:points": cathode.points,
    "anode:points": anode.points,
  });
}

/**
 * @param layout parts of the page @param lesson what is shown @param scene
 * @param {import("../../kit/say.js").Slots} slots the board's names for the electrodes
 * @param shared what outlasts a run: store, results table, tabs
 * @param {{onElectrode: (index: number) => void, onAll: () => void}} reveal shows an electrode's products, and then all the rest
 * @param {() => void} closeLenses takes away what lies over the picture
 */
export function mountClassroom(layout, lesson, scene, slots, { store, table, tabs }, { onElectrode, onAll }, closeLenses) {
  const { classroom, key } = lesson;
  const hasRow = key && classroom.row?.cathode;
  if (hasRow && lesson.fromS === undefined) beginRow(store, lesson); // the row is that of the first stage
  const hiddenSides = new Set(layout.sideCards.keys());
  let explain = /** @type {ReturnType<typeof mountExplain>|null} */ (null);
  layout.explain.replaceChildren();
  table.lock(true);
  showLockedNotice(layout.lockedNotice, lesson.on, () => predictions.showAll());
  const testing = mountTesting(layout.testing, lesson, scene, store, closeLenses);

  function opened(panel) {
    if (panel === "explain") explain?.opened();
    else explain?.closed();
    if (panel !== "test") testing.closed();
    if (panel === "table") table.opened();
  }
  function revealAll() {
    layout.lockedNotice.hidden = true;
    layout.lockedNotice.replaceChildren();
    explain = mountExplain(layout.explain, classroom.steps, scene, lesson.step, (side) => sideOf(lesson, side));
    testing.reveal();
    if (hasRow) store.change(key, { revealsProducts: true });
    table.lock(false);
    onAll();
  }
  const predictions = mountPredictions(layout.sideCards, lesson, store, slots, {
    enabled: lesson.asking,
    reveal(index) {
      onElectrode(index);
      hiddenSides.delete(index);
      if (!hiddenSides.size) revealAll();
    },
  });
  opened(tabs.shown());
  return { opened, step: (by) => explain?.go(by), shownStep: () => explain?.shownStep() ?? lesson.step ?? 0 };
}
