// A set that asks its class. The server sends this when it is asked for.

import { make, makeButton } from "../kit/elements.js";
import { mountClassRoom } from "../room/class_room.js";
import { FAULTS } from "../room/tallies.js";
import { isAbout, readMemo } from "./memo.js";
import { hardest, insightOf, rightAnswer } from "./set_insight.js";
import { mayTellAnswer, roundsOf } from "./set_rounds.js";

/** @typedef {import("./set_insight.js").Insight} Insight */

/** @param {Insight|null} insight */
const textsOf = (insight) => (insight ? [insight.share, `${insight.wrong} ${insight.reason}`.trim(), insight.idea && `The idea behind it may be: ${insight.idea}`].filter(Boolean) : []);

/** @param {Insight|null} insight @param {(cells: string) => void} onWatch */
function partsOf(insight, onWatch) {
  const parts = textsOf(insight).map((text, k) => /** @type {HTMLElement} */ (make("p", text, k ? "" : "fp-room-share")));
  if (insight?.watch) parts.push(makeButton("Watch it in a cell", () => onWatch(insight.watch), `watch ${insight.share} ${insight.wrong}`));
  return parts;
}

/** @param {HTMLButtonElement} opener @param {{panel: HTMLElement, root: HTMLElement}} places @param quiz the set with its board */
export function mountSetRoom(opener, { panel, root }, quiz) {
  const { session, model } = quiz;
  const tells = (asked, isOpen) => mayTellAnswer(asked, session.name, quiz.whiteboard, isOpen);
  const insight = (asked, part, votes, isOpen) =>
    tells(asked, isOpen) ? insightOf(session.questions, model.get("ideas"), part, votes.at(-1), FAULTS) : null;
  return mountClassRoom({ opener, panel, root }, {
    rounds: () => roundsOf(session.questions, quiz.whiteboard, session.name, model.get("species")),
    right: (asked, part, isOpen) => (tells(asked, isOpen) ? rightAnswer(session.questions, part) : null),
    about: (...given) => partsOf(insight(...given), (cells) => quiz.watch(cells)),
    learned: (...given) => textsOf(insight(...given)),
    first(asked, votes, isOpen) {
      const found = tells(asked, isOpen) ? hardest(session.questions, asked.parts, votes.at(-1)) : null;
      if (!found) return [];
      const { number, right, of } = found;
      return [make("p", `Fewest are right in question ${number}: ${right} of ${of}.`, "fp-room-share"), makeButton("Put it on the board", () => quiz.turnTo(number - 1), "first")];
    },
    nameOf: (asked) => readMemo(asked)[0],
    heads: { of: "Set", right: "Right" },
    isOfNow: (asked) => isAbout(asked, session.name),
    word: "right",
    onShown() {},
  });
}
