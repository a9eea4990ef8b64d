// Choosing another list of a site: one that is ready, or one put together of what it has.

import { make, makeButton } from "../../views/kit/elements.js";

const MAX_CELLS = 24; // of a list, as in links

/** Open a list: the address says it, so it can be passed on. @param {string[]} keys */
const open = (keys) => location.assign(`?${new URLSearchParams({ v: "1", cells: keys.join(";") })}`);

/**
 * @param {HTMLElement} page @param {{offers: import("./chosen_cells.js").SiteOffer[], lists: {name: string, cells: string[]}[]}} catalogue
 * @param {string[]} chosen keys of the cells that are shown
 */
export function mountListChoice(page, { offers, lists }, chosen) {
  const fold = make("details", "", "fp-site-lists");
  const ready = make("div", "", "fp-options");
  for (const { name, cells } of lists) ready.append(makeButton(name, () => open(cells)));
  const boxes = make("div", "", "fp-site-list");
  boxes.setAttribute("role", "group");
  boxes.setAttribute("aria-label", "Solutions of this site");
  const picked = new Set(chosen.filter((key) => offers.some((offer) => offer.key === key)));
  const use = makeButton("Use this list", () => open([...picked]));
  use.classList.add("fp-main-action");
  const show = () => {
    use.toggleAttribute("disabled", picked.size === 0 || picked.size > MAX_CELLS);
    use.textContent = picked.size ? `Use this list of ${picked.size}` : "Use this list";
  };
  for (const { key, label } of offers) {
    const line = make("label");
    const box = /** @type {HTMLInputElement} */ (make("input"));
    box.type = "checkbox";
    box.checked = picked.has(key);
    box.addEventListener("change", () => {
      if (box.checked) picked.add(key);
      else picked.delete(key);
      show();
    });
    line.append(box, label);
    boxes.append(line);
  }
  show();
  fold.append(make("summary", "Another list"), ready, boxes, use);
  page.after(fold); // below the switch, which stays in sight at the lower edge of a phone
}
