// Room for the words of an explanation: as much as the longest press needs, from the first to the last, so that the picture
// above keeps its size and place.

/** @typedef {{heading: string, line: string, caution: string, cell?: number}} Talk cell: of two, whose it is */
const ROOM = "--fp-words-room"; // the stylesheet keeps it free
const talksIn = /** @type {WeakMap<HTMLElement, Talk[]>} */ (new WeakMap());

/** @param {HTMLElement} words where they stand */
function measure(words) {
  const talks = talksIn.get(words) ?? [];
  if (!talks.length || !words.clientWidth) { // or no box of its own: on a phone the picture stays in any case
    words.style.removeProperty(ROOM);
    return;
  }
  const copy = /** @type {HTMLElement} */ (words.cloneNode(true)); // what is read aloud must not change
  copy.setAttribute("aria-hidden", "true");
  Object.assign(copy.style, { position: "absolute", visibility: "hidden", minHeight: "0", width: `${words.clientWidth}px` });
  for (const fold of copy.querySelectorAll("details")) fold.open = false;
  const part = (/** @type {string} */ name) => copy.querySelector(name);
  words.after(copy);
  const boxes = /** @type {HTMLElement[]} */ ([...copy.querySelectorAll(".fp-cell-notes")]); // of two cells, one is shown at a time
  const heights = (boxes.length ? boxes : [copy]).flatMap((place, which) => {
    for (const box of boxes) box.hidden = box !== place;
    const shown = place.querySelector(".fp-notes > .fp-caution");
    return talks.filter(({ cell = 0 }) => cell === which).map(({ heading, line, caution }) => {
      part(".fp-step-head").textContent = heading;
      part(".fp-step-line").textContent = line;
      if (shown) shown.textContent = caution;
      return copy.getBoundingClientRect().height; // with its fraction of a pixel
    });
  });
  copy.remove();
  words.style.setProperty(ROOM, `${Math.ceil(Math.max(...heights))}px`);
}

/** @param {HTMLElement} words where they stand @param {Talk[]} talks all that is said there, or nothing: then no room is kept */
export function reserveRoom(words, talks) {
  if (!talksIn.has(words)) new ResizeObserver(() => measure(words)).observe(/** @type {Element} */ (words.closest(".fp-bench")));
  talksIn.set(words, talks);
  measure(words);
}
