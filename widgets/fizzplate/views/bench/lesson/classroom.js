// What a class does with the cell: predict, observe, test, explain, record. What would tell it the answer comes into
// the page only when both electrodes have been compared or shown, or where it is not asked.

import { mountExplain } from "./explain.js";
import { mountHold } from "./hold.js";
import { mountPredictions } from "./predictions.js";
import { mountTesting } from "./testing.js";

/**
 * @param layout parts of the page @param lesson what is shown @param scene
 * @param {import("../../kit/say.js").Slots} slots the board's names for the electrodes
 * @param lasting what outlasts a run: the store, the panel with the results, the tabs
 * @param {{electrode: (index: number) => void, all: () => void}} revealing what to do when an electrode's, and when
 *   everything else, may be shown
 * @param {() => void} uncover takes away what lies over the picture
 */
export function mountClassroom(layout, lesson, scene, slots, { store, table, tabs }, revealing, uncover) {
  const { classroom, key } = lesson;
  const hasRow = key && classroom.row?.cathode;
  if (hasRow) {
    const [cathode, anode] = classroom.ask;
    const fresh = lesson.again ? {} : { "cathode:shown": false, "anode:shown": false, revealsProducts: false };
    store.change(key, {
      ...fresh,
      label: lesson.label,
      row: classroom.row,
      traps: classroom.traps,
      "cathode:points": cathode.points,
      "anode:points": anode.points,
    });
  }
  const untold = new Set(layout.sideCards.keys());
  let explain = /** @type {ReturnType<typeof mountExplain>|null} */ (null);
  layout.explain.replaceChildren();
  table.hold(true);
  const hold = mountHold(layout.hold, lesson.on, () => predictions.showAll());
  const testing = mountTesting(layout.testing, lesson, scene, store, uncover);

  function opened(name) {
    if (name === "explain") explain?.opened();
    else explain?.closed();
    if (name !== "test") testing.closed();
    if (name === "table") table.opened();
  }
  const predictions = mountPredictions(layout.sideCards, lesson, store, slots, {
    enabled: lesson.asking,
    reveal(index) {
      revealing.electrode(index);
      untold.delete(index);
      if (untold.size) return;
      hold.release();
      explain = mountExplain(layout.explain, classroom.steps, scene, lesson.step);
      testing.reveal();
      if (hasRow) store.change(key, { revealsProducts: true });
      table.hold(false);
      revealing.all();
    },
  });
  opened(tabs.shown());
  return { opened, step: (by) => explain?.go(by), shownStep: () => explain?.shownStep() ?? lesson.step ?? 0 };
}
