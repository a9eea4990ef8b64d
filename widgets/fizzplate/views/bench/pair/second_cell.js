// A second cell beside the first: its picture and its cards, the names of both, and on a phone the choice of which is seen.

import { make, makeButton } from "../../kit/elements.js";

const SKELETON = `
  <h2 class="fp-cell-label fp-cell-label-second"></h2>
  <article class="fp-side-card fp-side-card-cathode fp-of-second"></article>
  <figure class="fp-scene fp-of-second"><canvas role="img"></canvas></figure>
  <article class="fp-side-card fp-side-card-anode fp-of-second"></article>`;

/** Where only the first is shown, say where the second is. @param layout parts of the page @param {string} label of the second */
export function noteSecondCell(layout, label) {
  const note = make("p", `The steps of the lesson show ${label} beside this cell: All controls turns back to them.`, "fp-note fp-second-note");
  layout.ruler.before(note);
  return { destroy: () => note.remove() };
}

/** @param layout parts of the page @param {[string, string]} names of both cells @param {(index: number) => void} onShow which of them is looked at */
export function mountSecondCell(layout, names, onShow) {
  const { root } = layout;
  const box = make("section", "", "fp-second-cell");
  box.innerHTML = SKELETON;
  box.setAttribute("aria-label", `Second cell: ${names[1]}`);
  const first = make("h2", names[0], "fp-cell-label fp-cell-label-first");
  const part = (name) => /** @type {HTMLElement} */ (box.querySelector(name));
  part(".fp-cell-label").textContent = names[1];
  const tabs = make("div", "", "fp-cell-tabs");
  tabs.setAttribute("role", "group");
  tabs.setAttribute("aria-label", "Which cell is seen");
  const buttons = names.map((name, index) => makeButton(name, () => show(index)));
  tabs.append(...buttons);

  /** Where there is room for one only, show that one. @param {number} index */
  function show(index) {
    root.dataset.cell = String(index);
    onShow(index);
    buttons.forEach((button, k) => button.setAttribute("aria-pressed", String(k === index)));
  }
  root.classList.add("fp-pair");
  layout.sideCards[0].before(first);
  layout.stage.after(tabs);
  layout.sideCards[1].after(box);
  show(0);
  return {
    canvas: /** @type {HTMLCanvasElement} */ (part("canvas")),
    sideCards: [part(".fp-side-card-cathode"), part(".fp-side-card-anode")],
    show,
    destroy() {
      root.classList.remove("fp-pair");
      delete root.dataset.cell;
      for (const each of [first, tabs, box]) each.remove();
    },
  };
}
