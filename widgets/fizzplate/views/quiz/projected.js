// Live in class: a question in large letters, its answer hidden until it is asked for.

import { make, pressable } from "../kit/elements.js";
import { marksText, questionParts } from "./card.js";

/** What is shown when the answer is asked for. */
function answerParts(asked) {
  const box = make("div", "", "fp-revealed");
  box.append(make("h3", "Answer"));
  const several = asked.kind === "number" && asked.parts.length > 1;
  if (asked.kind === "number") {
    asked.parts.forEach((part, k) => box.append(make("p", `${several ? `(${"abcdefgh"[k]}) ` : ""}${part.answer}`, "fp-full-answer")));
  } else if (asked.kind !== "list") box.append(make("p", asked.shown, "fp-full-answer"));
  const steps = asked.kind === "number" ? asked.parts.flatMap((part) => part.steps) : asked.points.map(({ says }) => says);
  if (steps.length) {
    const list = make("ul");
    list.append(...steps.map((text) => make("li", text)));
    box.append(list);
  } else box.append(make("p", asked.why));
  return box;
}

/**
 * @param {any[]} questions @param {{at: number, revealed: boolean}} state @param {() => void} draw anew
 * @param {(cells: string) => void} watch
 */
export function projected(questions, state, draw, watch) {
  const asked = questions[state.at];
  const card = make("div", "", "fp-question-card fp-projected");
  const head = make("h2", `Question ${state.at + 1} of ${questions.length}`);
  head.tabIndex = -1;
  card.append(head, make("p", marksText(asked.marks), "fp-note"), ...questionParts(asked));
  if (asked.kind === "number" && asked.parts.length > 1) {
    const parts = make("ul");
    parts.append(...asked.parts.map(({ asks }, k) => make("li", `(${"abcdefgh"[k]}) ${asks}`)));
    card.append(parts);
  }
  if (asked.options.length) {
    const list = make("ol", "", "fp-choices");
    for (const option of asked.options) {
      const item = make("li", option.text);
      if (state.revealed && option.right) item.append(make("strong", " ✓ right"));
      list.append(item);
    }
    card.append(list);
  }
  const said = make("div");
  said.setAttribute("role", "status");
  if (state.revealed) said.append(answerParts(asked));
  const row = make("div", "", "fp-options");
  const back = pressable("Back", () => step(-1));
  back.disabled = state.at === 0 && !state.revealed;
  const last = state.at === questions.length - 1;
  const next = pressable(state.revealed ? "Next question" : "Reveal the answer", () => step(1));
  next.classList.add("fp-next");
  next.disabled = state.revealed && last;
  row.append(back, next);
  if (asked.watch && state.revealed) row.append(pressable("Watch it in a cell", () => watch(asked.watch)));
  card.append(said, row);

  /** Forwards to the answer and then to the next question; back the same way. @param {number} by */
  function step(by) {
    if (by > 0 && !state.revealed) state.revealed = true;
    else if (by > 0 && !last) Object.assign(state, { at: state.at + 1, revealed: false });
    else if (by < 0 && state.revealed) state.revealed = false;
    else if (by < 0 && state.at > 0) Object.assign(state, { at: state.at - 1, revealed: true });
    else return;
    draw();
  }
  return { node: card, step };
}
