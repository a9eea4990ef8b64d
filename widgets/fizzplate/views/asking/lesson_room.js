// A lesson that asks its class: what it asks, what may be told, where the answers go. The server sends this when it is
// asked for.

import { make } from "../kit/elements.js";
import { mountClassRoom } from "../room/class_room.js";
import { keepAnswers, rightOf, roundsAt } from "./class_rounds.js";
import { isAbout, readMemo } from "./memo.js";

const MODEL_LATER = "The model's number stands here once you stop answers.";

/**
 * @param {HTMLButtonElement} opener the button that asks the class @param layout parts of the page @param model the widget's @param {import("../bench/lesson/stage.js").Stage} stage
 * @param {import("../kit/store.js").Store} store @param {() => any} record of the run that is shown
 */
export function mountLessonRoom(opener, layout, model, stage, store, record) {
  const shown = () => ({ lesson: model.get("lesson"), slots: model.get("header").slots, more: { record: record(), species: model.get("species") } });
  return mountClassRoom({ opener, panel: layout.room, root: layout.root }, {
    rounds() {
      const { lesson, slots, more } = shown();
      return more.record ? roundsAt(stage.step, lesson, slots, more) : [];
    },
    isOfNow: (asked) => isAbout(asked, model.get("lesson").key),
    nameOf(asked) {
      const { key, label } = model.get("lesson");
      return isAbout(asked, key) ? label : (store.of(readMemo(asked)[0]).label ?? "");
    },
    heads: { of: "Solution", right: "What the cell did" },
    right: (asked, part, isOpen) => rightOf(stage.step, model.get("lesson"), record(), asked, part, isOpen),
    about: (_, part, __, isOpen) => (part.kind === "number" && isOpen ? [make("p", MODEL_LATER, "fp-note")] : []),
    onShown: (asked, votes) => keepAnswers(store, asked, votes),
  });
}
