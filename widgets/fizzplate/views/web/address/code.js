// The code of a link, large enough for a class to read from its seats. Python draws it; it is dark on light
// in both rooms, since not every phone reads the other way.

import { make, makeButton } from "../../kit/elements.js";
import { isOnlyHere, splitLink } from "./links.js";

const SVG = "http://www.w3.org/2000/svg";
const ANSWER_MS = 5000; // longer than a program that is there usually takes
const FINE_MODULES = 100; // from here on a phone has to come near
const DRAWING = "Drawing the code …";
const NO_ANSWER = "The program behind this page does not answer, so there is no code yet. The link can be copied.";
const ENDED = "The program behind this page cannot be reached, so there is no code. The link can be copied.";
const FINE = "This link is long, so the squares of its code are small: hold the phone close, or copy the link.";
const ONLY_THIS_COMPUTER =
  "This link works on this computer only. To serve a class, start the program with: fizzplate --class 30 --link";

function drawCode({ path, modules }) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", `0 0 ${modules} ${modules}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", "Code of the link");
  svg.setAttribute("shape-rendering", "crispEdges");
  for (const [name, fill, d] of [["ground", "#fff", `M0 0h${modules}v${modules}h-${modules}z`], ["code", "#000", path]]) {
    const shape = document.createElementNS(SVG, "path");
    shape.setAttribute("class", `fp-${name}`);
    shape.setAttribute("fill", fill);
    shape.setAttribute("d", d);
    svg.append(shape);
  }
  return svg;
}

/**
 * @param {HTMLElement} root @param model the widget's, which asks Python
 * @param {{link: () => string, copy: () => Promise<string>, ended: () => boolean}} page its link, how it is copied (giving
 *   what to say), and whether its program has ended
 */
export function mountCode(root, model, { link, copy, ended }) {
  const dialog = document.createElement("dialog");
  dialog.className = "fp-code";
  dialog.setAttribute("aria-labelledby", "fp-code-title");
  const title = make("h2", "Open this page on another device");
  title.id = "fp-code-title";
  const place = make("div", "", "fp-code-place");
  const said = make("p", "", "fp-code-said");
  said.setAttribute("role", "status");
  const address = make("p", "", "fp-code-address");
  const opens = make("p");
  const only = make("p", ONLY_THIS_COMPUTER, "fp-code-only");
  const row = make("div", "", "fp-options");
  const close = makeButton("Close", () => dialog.close());
  row.append(makeButton("Copy link", async () => (said.textContent = await copy())), close);
  dialog.append(title, place, said, address, opens, only, row);
  root.append(dialog);
  let waiting = 0;

  /** Modules of a whole number of dots each: edges stay sharp, and none is wider than its neighbour. */
  function size() {
    const svg = place.querySelector("svg");
    if (!svg) return;
    const { width: modules } = svg.viewBox.baseVal;
    const dots = devicePixelRatio * Math.min(innerWidth - 48, 0.62 * innerHeight);
    svg.style.width = `${(modules * Math.max(1, Math.floor(dots / modules))) / devicePixelRatio}px`;
  }
  function open() {
    const now = link();
    const [door, rest] = splitLink(now);
    place.replaceChildren();
    address.replaceChildren(make("strong", door), make("span", rest));
    opens.textContent = model.get("link_description");
    only.hidden = !isOnlyHere(now);
    said.textContent = ended() ? ENDED : DRAWING;
    if (!dialog.open) dialog.showModal();
    close.focus();
    clearTimeout(waiting);
    if (ended()) return;
    waiting = setTimeout(() => (said.textContent = ended() ? ENDED : NO_ANSWER), ANSWER_MS);
    model.send({ code: now });
  }
  function received({ link: asked, code, refused }) {
    if (!asked || asked !== link()) return;
    clearTimeout(waiting);
    if (refused) said.textContent = `${refused} Copy the link instead.`;
    else {
      said.textContent = code.modules >= FINE_MODULES ? FINE : "";
      place.replaceChildren(drawCode(code));
      size();
    }
  }
  addEventListener("resize", size);
  model.on("msg:custom", received);
  return {
    open,
    destroy() {
      clearTimeout(waiting);
      removeEventListener("resize", size);
      model.off("msg:custom", received);
      dialog.remove();
    },
  };
}
