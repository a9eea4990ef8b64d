// The list of solutions, the menus and the switch over a cell. What no run of the file has cannot be chosen.

import { make } from "../../views/kit/elements.js";

/**
 * @typedef {{label: string, key: string, own: number, menus: [string, string[]][], variants: number[][], keys: string[],
 *   names: string[], fixed: string}} Offer what the file has of a cell: its menus, and the places in them of each run
 */

/** @param {string} label @param {string[]} options @param {() => void} changed */
function menu(label, options, changed) {
  const box = make("div", "", "fp-field");
  const line = make("div", "", "widget-inline-hbox");
  const name = make("label", label, "widget-label");
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  select.id = `fp-menu-${label.split(",")[0].toLowerCase()}`;
  name.setAttribute("for", select.id);
  select.append(...options.map((text, k) => new Option(text, String(k))));
  select.addEventListener("change", changed);
  line.append(name, select);
  box.append(line);
  return { box, select };
}

/**
 * @param {HTMLElement} page @param {Offer[]} cells
 * @param {{put: (at: number) => void, vary: (variant: number) => void, toggle: () => void}} acts
 */
export function mountBar(page, cells, acts) {
  const head = make("div", "", "fp-head");
  const list = make("div", "", "fp-solutions");
  list.setAttribute("role", "group");
  list.setAttribute("aria-label", "Cells of the list");
  const choices = cells.map(({ label }, at) => {
    const choice = /** @type {HTMLButtonElement} */ (make("button", label, "fp-choice"));
    choice.type = "button";
    choice.addEventListener("click", () => acts.put(at));
    return choice;
  });
  list.append(...choices);
  head.append(list);
  const setup = make("div", "", "fp-setup");
  const fields = make("div", "", "fp-fields fp-unfolded");
  const fixed = make("p", "", "fp-note fp-fixed");
  const printed = make("p", "", "fp-printed");
  setup.append(fields, printed);
  const flip = /** @type {HTMLButtonElement} */ (make("button", "Switch on", "fp-switch"));
  flip.type = "button";
  flip.addEventListener("click", () => acts.toggle());
  page.append(head, setup, flip);

  let offer = cells[0];
  let menus = /** @type {ReturnType<typeof menu>[]} */ ([]);
  const chosen = () => menus.map(({ select }) => Number(select.value));
  /** @param {number[]} places */
  const runOf = (places) => offer.variants.findIndex((each) => each.every((place, k) => place === places[k]));

  /** Lock what is not in the file together with the rest that is chosen. */
  function lock() {
    const now = chosen();
    menus.forEach(({ select }, k) => {
      for (const [place, option] of [...select.options].entries()) {
        option.disabled = runOf(now.map((each, j) => (j === k ? place : each))) < 0;
      }
      select.disabled = select.options.length < 2;
    });
  }
  function changed() {
    lock();
    acts.vary(runOf(chosen()));
  }
  return {
    /** @param {number} at @param {number} variant @param {boolean} on @param {Set<number>} run cells that were switched on */
    show(at, variant, on, run) {
      choices.forEach((choice, k) => {
        choice.textContent = `${run.has(k) ? "✓ " : ""}${cells[k].label}`;
        choice.classList.toggle("fp-chosen", k === at);
        choice.setAttribute("aria-pressed", String(k === at));
      });
      if (offer !== cells[at] || !menus.length) {
        offer = cells[at];
        menus = offer.menus.map(([label, options]) => menu(label, options, changed));
        fixed.textContent = `In this file: ${offer.fixed}. Choices that are missing or grey are not in it.`;
        fields.replaceChildren(...menus.map(({ box }) => box), fixed);
      }
      menus.forEach(({ select }, k) => (select.value = String(offer.variants[variant][k])));
      lock();
      printed.textContent = `Set-up: ${offer.names[variant]}, ${offer.fixed}`;
      flip.textContent = on ? "Switch off" : "Switch on";
    },
    /** @param {boolean} waiting while a cell is unpacked */
    wait(waiting) {
      flip.disabled = waiting;
    },
  };
}
