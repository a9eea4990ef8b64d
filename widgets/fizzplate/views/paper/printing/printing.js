// Sheets to print: one is shown at a time, and only that one goes to paper.

import { make, makeButton } from "../../kit/elements.js";
import { mountScreenSwitches, screenSwitchGroup } from "../../kit/screen.js";
import { subscribe } from "../../kit/subscription.js";
import { keepInTab, keptInTab } from "../../kit/tab_memory.js";
import { mountTabs } from "../../kit/tabs.js";
import { giveRoom } from "./room.js";

const PAPERS = ["A4", "Letter"];
const TAB_KEY = "printing.1"; // of what the tab keeps

/** A choice of paper, and the style that prints on it. @param {string|undefined} paper the one to begin with */
function paperChoice(paper) {
  const style = document.createElement("style");
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  select.setAttribute("aria-label", "Paper");
  for (const each of PAPERS) select.append(new Option(each));
  if (paper && PAPERS.includes(paper)) select.value = paper;
  const apply = () => (style.textContent = `@media print { @page { size: ${select.value}; margin: 14mm; } }`);
  select.addEventListener("change", apply);
  apply();
  return { select, style };
}

/** @param {{name: string, tab: string, title: string, html: string}} sheet @returns {[string, string, HTMLElement]} */
function sheetPanel({ name, tab, title, html }) {
  const panel = make("div", "", "fp-sheet");
  panel.id = `fp-sheet-${name}`;
  panel.tabIndex = 0;
  panel.innerHTML = `<h3>${title}</h3>${html}`; // made by Python, every cell escaped
  return [name, tab || title, panel];
}

class Printing {
  constructor(model, el) {
    const before = keptInTab(TAB_KEY) ?? {};
    this.model = model;
    this.name = before.shown ?? ""; // of the sheet that is shown
    this.paper = paperChoice(before.paper);
    this.printButton = /** @type {HTMLButtonElement} */ (makeButton("Print this sheet", () => this.print()));
    this.printButton.classList.add("fp-main-action");
    this.frame = make("div");
    this.status = make("p", "", "fp-outdated-status");
    this.status.setAttribute("role", "status");
    const buttons = make("div", "", "fp-options");
    buttons.append(this.printButton, this.paper.select);
    this.root = make("section", "", "fp-printing");
    this.root.setAttribute("aria-label", "Sheets to print");
    this.root.append(make("h2", "Sheets to print"), buttons, this.status, this.frame);
    this.switches = screenSwitchGroup();
    this.screenSwitches = mountScreenSwitches(this.switches, null, () => {}, ["Dim room", "Projector size"]);
    el.append(this.root, this.switches, this.paper.style);
    this.keep = () => keepInTab(TAB_KEY, { shown: this.name, paper: this.paper.select.value });
    addEventListener("pagehide", this.keep);
    this.onPress = (/** @type {Event} */ { target }) => target instanceof Element && target.closest(".fp-to-sheets") && this.goTo();
    document.addEventListener("click", this.onPress);
    this.unsubscribe = subscribe(model, { "change:sheets": () => this.draw(), "change:busy": () => this.showBusy() });
    this.draw();
    this.showBusy();
  }

  draw() {
    const sheets = this.model.get("sheets");
    this.root.hidden = !sheets.length;
    this.frame.replaceChildren();
    if (!sheets.length) return;
    const panels = sheets.map(sheetPanel);
    const tabs = mountTabs(this.frame, panels, (name) => (this.name = name));
    this.frame.append(...panels.map(([, , panel]) => panel));
    tabs.choose(sheets.some(({ name }) => name === this.name) ? this.name : sheets[0].name);
  }

  /** The page's main action leads here, where a sheet is chosen and printed. */
  goTo() {
    this.root.scrollIntoView({ block: "start" });
    (this.printButton.disabled ? this.paper.select : this.printButton).focus({ preventScroll: true });
  }

  print() {
    const { title } = this.model.get("sheets").find(({ name }) => name === this.name) ?? { title: "" };
    const page = document.documentElement;
    const sheet = /** @type {HTMLElement|null} */ (this.frame.querySelector(".fp-sheet:not([hidden])"));
    if (sheet) giveRoom(sheet, this.paper.select.value);
    page.style.setProperty("--fp-sheet-title", JSON.stringify(title));
    page.dataset.fpPrint = "sheet";
    addEventListener("afterprint", () => delete page.dataset.fpPrint, { once: true });
    print();
  }

  /** Sheets of earlier settings are not to be printed. */
  showBusy() {
    const isBusy = Boolean(this.model.get("busy"));
    this.printButton.disabled = isBusy;
    this.status.textContent = isBusy ? "Making the new sheets … These are still the old ones." : "";
    this.frame.classList.toggle("fp-outdated", isBusy);
    this.frame.setAttribute("aria-busy", String(isBusy));
  }

  destroy() {
    removeEventListener("pagehide", this.keep);
    document.removeEventListener("click", this.onPress);
    this.unsubscribe();
    this.screenSwitches.destroy();
    for (const node of [this.root, this.switches, this.paper.style]) node.remove();
  }
}

export function renderPrinting({ model, el }) {
  const printing = new Printing(model, el);
  return () => printing.destroy();
}
