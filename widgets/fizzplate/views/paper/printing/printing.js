// Sheets to print: one is shown at a time, and only that one goes to paper.

import { make, makeButton } from "../../kit/elements.js";
import { mountRoom } from "../../kit/screen.js";
import { keepInTab, keptInTab } from "../../kit/tab_memory.js";
import { mountTabs } from "../../kit/tabs.js";

const PAPERS = ["A4", "Letter"];
const KEPT = "printing.1";

export function renderPrinting({ model, el }) {
  const before = keptInTab(KEPT) ?? {};
  const root = make("section", "", "fp-printing");
  root.setAttribute("aria-label", "Sheets to print");
  const switches = make("div", "", "fp-room");
  switches.setAttribute("role", "group");
  switches.setAttribute("aria-label", "Room");
  const room = mountRoom(switches, null, () => {}, ["Dim room", "Projector size"]);
  const size = document.createElement("style");
  const paper = /** @type {HTMLSelectElement} */ (make("select"));
  paper.setAttribute("aria-label", "Paper");
  for (const each of PAPERS) paper.append(new Option(each));
  if (PAPERS.includes(before.paper)) paper.value = before.paper;
  const useSize = () => (size.textContent = `@media print { @page { size: ${paper.value}; margin: 14mm; } }`);
  paper.addEventListener("change", useSize);
  useSize();
  const frame = make("div");
  let shown = before.shown ?? "";
  const leave = () => keepInTab(KEPT, { shown, paper: paper.value });
  addEventListener("pagehide", leave);

  function draw() {
    const sheets = model.get("sheets");
    root.hidden = !sheets.length;
    frame.replaceChildren();
    if (!sheets.length) return;
    const panels = sheets.map(({ name, title, html }) => {
      const panel = make("div", "", "fp-sheet");
      panel.id = `fp-sheet-${name}`;
      panel.tabIndex = 0;
      panel.innerHTML = `<h3>${title}</h3>${html}`; // made by Python, every cell escaped
      return [name, title.split(",")[0], panel];
    });
    const tabs = mountTabs(frame, panels, (name) => (shown = name));
    frame.append(...panels.map(([, , panel]) => panel));
    tabs.choose(sheets.some(({ name }) => name === shown) ? shown : sheets[0].name);
  }
  function printSheet() {
    const { title } = model.get("sheets").find(({ name }) => name === shown) ?? { title: "" };
    document.documentElement.style.setProperty("--fp-sheet-title", JSON.stringify(title));
    document.documentElement.dataset.fpPrint = "sheet";
    addEventListener("afterprint", () => delete document.documentElement.dataset.fpPrint, { once: true });
    print();
  }
  const acts = make("div", "", "fp-options");
  const press = /** @type {HTMLButtonElement} */ (makeButton("Print this sheet", printSheet));
  acts.append(press, paper);
  const waits = make("p", "", "fp-outdated-status");
  waits.setAttribute("role", "status");
  /** What another setting gave is not to be printed. */
  function showBusy() {
    const busy = Boolean(model.get("busy"));
    press.disabled = busy;
    waits.textContent = busy ? "Making the new sheets … These are still the old ones." : "";
    frame.classList.toggle("fp-outdated", busy);
    frame.setAttribute("aria-busy", String(busy));
  }
  root.append(make("h2", "Sheets to print"), acts, waits, frame);
  el.append(root, switches, size);
  model.on("change:sheets", draw);
  model.on("change:busy", showBusy);
  draw();
  showBusy();
  return () => {
    removeEventListener("pagehide", leave);
    model.off("change:sheets", draw);
    model.off("change:busy", showBusy);
    room.destroy();
    root.remove();
    switches.remove();
    size.remove();
  };
}
