// Ask the class from a lesson: the room's panel follows its steps.

import { mountOpener } from "../room/opener.js";

const PICTURE = ["watch", "test", "explain"]; // steps that begin with the picture in sight

/**
 * @param layout parts of the page @param model the widget's @param {import("./lesson/stage.js").Stage} stage
 * @param {import("../kit/store.js").Store} store @param {() => any} record of the run that is shown
 */
export function mountAskClass(layout, model, stage, store, record) {
  const opener = mountOpener(layout.onward, {
    hasRoom: model.get("has_room"),
    address: "/room/lesson.js",
    mount: ({ mountLessonRoom }, button) => mountLessonRoom(button, layout, model, stage, store, record),
  });
  let at = "";
  stage.onStep = () => {
    const now = `${model.get("lesson").key} ${stage.step}`;
    if (now === at) return;
    at = now;
    opener.follow(PICTURE.includes(stage.step));
  };
  return opener;
}
