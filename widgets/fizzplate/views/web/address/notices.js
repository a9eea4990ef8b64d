// What the page's program has to say of a link or a file, until the reader has understood it.

import { make, makeButton } from "../../kit/elements.js";

let count = 0;

/** @param {() => void} onUnderstood */
export function makeNotices(onUnderstood) {
  const list = make("ul");
  list.id = `fp-notice-${++count}`;
  const node = make("div", "", "fp-notice");
  node.setAttribute("role", "alert");
  node.hidden = true;
  node.append(list, makeButton("Understood", () => {
    node.hidden = true;
    onUnderstood();
  }));
  return {
    node,
    id: list.id,
    /** @param {string[]} sentences */
    show(sentences) {
      node.hidden = sentences.length === 0;
      list.replaceChildren(...sentences.map((text) => make("li", text)));
    },
  };
}
