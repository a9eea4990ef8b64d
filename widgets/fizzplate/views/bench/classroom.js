// What a class does with the cell: predict, observe, test, explain, record.

import { mountAsk } from "./ask.js";
import { mountExplain } from "./explain.js";
import { mountTesting } from "./testing.js";

/**
 * @param layout parts of the page @param lesson what is shown @param scene
 * @param lasting what outlasts a run: the store, the panel with the results, the tabs; and the words beside it
 */
export function mountClassroom(layout, lesson, scene, { store, table, tabs, words }) {
  const { classroom, key } = lesson;
  if (key && classroom.row?.cathode) {
    const [cathode, anode] = classroom.ask;
    const fresh = lesson.again ? {} : { "cathode:shown": false, "anode:shown": false };
    store.change(key, {
      ...fresh,
      label: lesson.label,
      row: classroom.row,
      traps: classroom.traps,
      "cathode:points": cathode.points,
      "anode:points": anode.points,
    });
  }
  const explain = mountExplain(layout.explain, classroom.steps, scene);
  const testing = mountTesting(layout.testing, lesson, scene, store);
  mountAsk(layout.ledgers, lesson, store, {
    enabled: lesson.asking,
    onChange(asking, waiting) {
      layout.root.toggleAttribute("data-asking", asking);
      words.hold(waiting);
    },
  });

  function opened(name) {
    if (name === "explain") explain.opened();
    else explain.closed();
    if (name !== "test") testing.closed();
    if (name === "table") table.opened();
  }
  opened(tabs.shown());
  return { opened, step: explain.go };
}
