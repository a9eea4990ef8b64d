// Panels, one of which is shown, with the usual keys.

import { make } from "./elements.js";

/**
 * @param {HTMLElement} node where the tabs stand @param {[string, string, HTMLElement][]} panels name, title and node of each
 * @param {(name: string) => void} onChange
 */
export function mountTabs(node, panels, onChange) {
  const list = make("div", "", "fp-tabs");
  list.setAttribute("role", "tablist");
  list.setAttribute("aria-label", "Below the cell");
  let current = panels[0][0];
  const tabs = panels.map(([name, title, panel]) => {
    const tab = /** @type {HTMLButtonElement} */ (make("button", title, "fp-tab"));
    tab.type = "button";
    tab.id = `tab-of-${panel.id}`;
    tab.setAttribute("role", "tab");
    tab.setAttribute("aria-controls", panel.id);
    panel.setAttribute("role", "tabpanel");
    panel.setAttribute("aria-labelledby", tab.id);
    tab.addEventListener("click", () => choose(name));
    list.append(tab);
    return tab;
  });
  list.addEventListener("keydown", (event) => {
    const at = panels.findIndex(([name]) => name === current);
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    const to = event.key === "Home" ? 0 : event.key === "End" ? panels.length - 1 : by === undefined ? -1 : (at + by + panels.length) % panels.length;
    if (to < 0) return;
    event.preventDefault();
    choose(panels[to][0]);
    tabs[to].focus();
  });
  node.prepend(list);

  /** @param {string} name */
  function choose(name) {
    current = name;
    panels.forEach(([each, , panel], k) => {
      const open = each === name;
      panel.hidden = !open;
      tabs[k].setAttribute("aria-selected", String(open));
      tabs[k].tabIndex = open ? 0 : -1;
    });
    onChange(name);
  }
  return { choose, shown: () => current };
}
