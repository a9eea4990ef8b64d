// What a class does with the cell: predict, observe, test, explain, record.

import { mountAsk } from "./ask.js";
import { mountExplain } from "./explain.js";
import { mountTesting } from "./testing.js";

/**
 * @param layout parts of the page @param lesson what is shown @param scene @param store @param table the panel
 * with the results @param tabs
 */
export function mountClassroom(layout, lesson, scene, { store, table, tabs }) {
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
    cautions: lesson.electrodes.map((each) => each.cautions),
    onChange: (asking) => layout.root.toggleAttribute("data-asking", asking),
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
