// Which part of Explore stands below the cell on a phone. The stylesheet hides the others there; a wide window shows all.

import { make, makeButton } from "../kit/elements.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";

const TAB_KEY = "phone-parts.1"; // of what the tab keeps

export function renderPhoneParts({ model, el }) {
  const page = document.documentElement.dataset;
  const parts = Object.entries(model.get("parts"));
  const nav = make("nav", "", "fp-phone-parts");
  nav.setAttribute("aria-label", "Parts of the page");
  const buttons = parts.map(([name, label]) => {
    const button = makeButton(label, () => {
      show(name);
    });
    button.dataset.part = name;
    return button;
  });
  /** @param {string} shown */
  function show(shown) {
    page.fpPart = shown;
    for (const button of buttons) {
      if (button.dataset.part === shown) button.setAttribute("aria-current", "true");
      else button.removeAttribute("aria-current");
    }
  }
  const keep = () => keepInTab(TAB_KEY, page.fpPart ?? null);
  const kept = keptInTab(TAB_KEY);
  show(parts.some(([name]) => name === kept) ? kept : parts[0][0]);
  addEventListener("pagehide", keep);
  nav.append(...buttons);
  el.append(nav);
  return () => {
    removeEventListener("pagehide", keep);
    delete page.fpPart;
    nav.remove();
  };
}
