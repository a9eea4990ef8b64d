// A set of questions, and more like each of them, that lie beside the page.

import { renderQuiz } from "../../views/quiz/quiz.js";
import { createModel } from "./model.js";

const NO_MORE = "The file holds no more questions like this one.";

/**
 * @param {HTMLElement} host
 * @param {{state: Record<string, any>, alike: Record<string, any[]>}} quiz as question_set.py makes it
 * @param {(key: string) => void} watch shows the cell of a question, by its key
 */
export function mountQuestions(host, { state, alike }, watch) {
  const model = createModel(state);
  const take = ({ like, unlike }) => {
    const place = (alike[like] ?? []).findIndex(({ text }) => !unlike.includes(text));
    return place < 0 ? null : alike[like].splice(place, 1)[0];
  };
  model.respond((message) => {
    if (message.again) return { round: message.again.map(take) };
    const more = take(message);
    return more ? { more } : { said: NO_MORE };
  });
  model.on("change:watch", () => {
    const key = model.get("watch");
    if (!key) return;
    watch(key);
    model.change({ watch: "", watch_count: model.get("watch_count") + 1 }, "watch_count");
  });
  return renderQuiz({ model, el: host });
}
