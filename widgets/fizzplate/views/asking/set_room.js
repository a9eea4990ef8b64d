// A set that asks its class. The server sends this when it is asked for.

import { make, makeButton } from "../kit/elements.js";
import { mountClassRoom } from "../room/class_room.js";
import { FAULTS } from "../room/tallies.js";
import { hardest, insightOf, rightAnswer } from "./set_insight.js";
import { isOfSet, mayTellAnswer, roundsOf, setOf } from "./set_rounds.js";

/** @param {import("./set_insight.js").Insight} insight @param {(cells: string) => void} onWatch */
function insightParts({ share, wrong, reason, idea, watch }, onWatch) {
  const parts = [make("p", share, "fp-room-share")];
  if (wrong) parts.push(make("p", `${wrong} ${reason}`));
  if (idea) parts.push(make("p", `The idea behind it: ${idea}`));
  if (watch) parts.push(makeButton("Watch it in a cell", () => onWatch(watch), `watch ${share} ${wrong}`));
  return parts;
}

/** The same to be saved. @param {import("./set_insight.js").Insight} insight */
const insightTexts = ({ share, wrong, reason, idea }) => [share, ...(wrong ? [`${wrong} ${reason}`.trim()] : []), ...(idea ? [`The idea behind it: ${idea}`] : [])];

/** @param {HTMLButtonElement} opener @param {{panel: HTMLElement, root: HTMLElement}} places @param quiz the set with its board */
export function mountSetRoom(opener, { panel, root }, quiz) {
  const { session, model } = quiz;
  const tells = (asked, isOpen) => mayTellAnswer(asked, session.name, quiz.whiteboard, isOpen);
  const insight = (asked, part, votes, isOpen) =>
    tells(asked, isOpen) ? insightOf(session.questions, model.get("ideas"), part, votes.at(-1), FAULTS) : null;
  return mountClassRoom({ opener, panel, root }, {
    rounds: () => roundsOf(session.questions, quiz.whiteboard, session.name, model.get("species")),
    right: (asked, part, isOpen) => (tells(asked, isOpen) ? rightAnswer(session.questions, part) : null),
    about(asked, part, votes, isOpen) {
      const found = insight(asked, part, votes, isOpen);
      return found ? insightParts(found, (cells) => quiz.watch(cells)) : [];
    },
    first(asked, votes, isOpen) {
      const found = tells(asked, isOpen) ? hardest(session.questions, asked.parts, votes.at(-1)) : null;
      if (!found) return [];
      const { number, right, of } = found;
      return [make("p", `Fewest are right in question ${number}: ${right} of ${of}.`, "fp-room-share"), makeButton("Put it on the board", () => quiz.turnTo(number - 1), "first")];
    },
    learned(asked, part, votes, isOpen) {
      const found = insight(asked, part, votes, isOpen);
      return found ? insightTexts(found) : [];
    },
    nameOf: setOf,
    heads: { of: "Set", right: "Right" },
    isOfNow: (asked) => isOfSet(asked, session.name),
    word: "right",
    onShown() {},
  });
}
