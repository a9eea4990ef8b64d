// The QR code of a link, large enough for a class to read from its seats. Python computes it. It is dark on light in a
// dim room too, since some phones cannot read the reverse.

import { make, makeButton } from "../../kit/elements.js";
import { makeSvg } from "../../kit/svg.js";
import { subscribe } from "../../kit/subscription.js";
import { isOnlyHere, splitLink } from "./links.js";

const ANSWER_MS = 5000; // for an answer of the program
const FINE_MODULES = 100; // from here on a phone has to be held near
const DRAWING = "Drawing the code …";
const NO_ANSWER = "The program behind this page does not answer, so there is no code yet. The link can be copied.";
const ENDED = "The program behind this page cannot be reached, so there is no code. The link can be copied.";
const FINE = "This link is long, so the squares of its code are small: hold the phone close, or copy the link.";
const ONLY_THIS_COMPUTER =
  "This link works on this computer only. To serve a class, start the program with: fizzplate --class 30 --link";

function drawCode({ path, modules }) {
  const svg = makeSvg("svg", { viewBox: `0 0 ${modules} ${modules}`, role: "img", "aria-label": "Code of the link", "shape-rendering": "crispEdges" });
  makeSvg("path", { class: "fp-ground", fill: "#fff", d: `M0 0h${modules}v${modules}h-${modules}z` }, svg);
  makeSvg("path", { class: "fp-code", fill: "#000", d: path }, svg);
  return svg;
}

class CodeDialog {
  constructor(root, model, page) {
    this.model = model;
    this.page = page;
    this.timer = 0;
    this.dialog = document.createElement("dialog");
    this.dialog.className = "fp-code";
    this.dialog.setAttribute("aria-labelledby", "fp-code-title");
    const title = make("h2", "Open this page on another device");
    title.id = "fp-code-title";
    this.frame = make("div", "", "fp-code-frame");
    this.status = make("p", "", "fp-code-status");
    this.status.setAttribute("role", "status");
    this.address = make("p", "", "fp-code-address fp-projected");
    this.description = make("p");
    this.warning = make("p", ONLY_THIS_COMPUTER, "fp-code-warning");
    this.close = makeButton("Close", () => this.dialog.close());
    const buttons = make("div", "", "fp-options");
    buttons.append(makeButton("Copy link", async () => (this.status.textContent = await page.copy())), this.close);
    this.dialog.append(title, this.frame, this.status, this.address, this.description, this.warning, buttons);
    root.append(this.dialog);
    this.resize = () => this.fit();
    addEventListener("resize", this.resize);
    this.unsubscribe = subscribe(model, { "msg:custom": (message) => this.receive(message) });
  }

  open() {
    const link = this.page.link();
    const [access, rest] = splitLink(link);
    this.frame.replaceChildren();
    this.address.replaceChildren(make("strong", access), make("span", rest));
    this.description.textContent = this.model.get("link_description");
    this.warning.hidden = !isOnlyHere(link);
    this.status.textContent = this.page.ended() ? ENDED : DRAWING;
    if (!this.dialog.open) this.dialog.showModal();
    this.close.focus();
    clearTimeout(this.timer);
    if (this.page.ended()) return;
    this.timer = setTimeout(() => (this.status.textContent = this.page.ended() ? ENDED : NO_ANSWER), ANSWER_MS);
    this.model.send({ code: link });
  }

  receive({ link, code, refused }) {
    if (!link || link !== this.page.link()) return;
    clearTimeout(this.timer);
    if (refused) {
      this.status.textContent = `${refused} Copy the link instead.`;
      return;
    }
    this.status.textContent = code.modules >= FINE_MODULES ? FINE : "";
    this.frame.replaceChildren(drawCode(code));
    this.fit();
  }

  /** Give each module a whole number of dots: edges stay sharp, and all modules are equally wide. */
  fit() {
    const svg = this.frame.querySelector("svg");
    if (!svg) return;
    const { width: modules } = svg.viewBox.baseVal;
    const dots = devicePixelRatio * Math.min(innerWidth - 48, 0.62 * innerHeight);
    svg.style.width = `${(modules * Math.max(1, Math.floor(dots / modules))) / devicePixelRatio}px`;
  }

  destroy() {
    clearTimeout(this.timer);
    removeEventListener("resize", this.resize);
    this.unsubscribe();
    this.dialog.remove();
  }
}

/**
 * @param {HTMLElement} root @param model the widget's, which asks Python
 * @param {{link: () => string, copy: () => Promise<string>, ended: () => boolean}} page its link, how it is copied (giving
 *   what to say), and whether its program has ended
 */
export const mountCode = (root, model, page) => new CodeDialog(root, model, page);
