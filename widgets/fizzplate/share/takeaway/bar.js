// The list of solutions, the menus and the switch above a cell. Settings that no run of the file has cannot be chosen.

import { make } from "../../views/kit/elements.js";

const MOST_BUTTONS = 24; // of a list, which is as long as a link's

let menuCount = 0;
const newId = () => `fp-menu-${(menuCount += 1)}`;

/**
 * @typedef {{label: string, formulae: string, solution: string, key: string, own: number, menus: [string, string[]][], variants: number[][], keys: string[],
 *   settings: string[], fixed: string}} Offer what the file has of a cell: its menus, the places in them of each
 *   run, and what they say in words
 */

/** @param {string} id @param {string} label @param {string[]} options @param {() => void} onChange */
function menuField(id, label, options, onChange) {
  const box = make("div", "", "fp-field");
  const line = make("div", "", "widget-inline-hbox");
  const name = make("label", label, "widget-label");
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  select.id = id;
  name.setAttribute("for", id);
  select.append(...options.map((text, k) => new Option(text, String(k))));
  select.addEventListener("change", onChange);
  line.append(name, select);
  box.append(line);
  return { box, select };
}

/**
 * The menus of a cell: together they choose one of its runs.
 * @param {HTMLElement} fields @param {string} where the runs are, in words @param {(variant: number) => void} onChange
 */
function mountMenus(fields, where, onChange) {
  const note = make("p", "", "fp-note fp-fixed-settings");
  let offer = /** @type {Offer|null} */ (null);
  let menus = /** @type {ReturnType<typeof menuField>[]} */ ([]);
  const selected = () => menus.map(({ select }) => Number(select.value));
  /** @param {number[]} places */
  const variantOf = (places) => (offer?.variants ?? []).findIndex((each) => each.every((place, k) => place === places[k]));

  /** Lock the options that no run has together with the other menus' values. */
  function lock() {
    const places = selected();
    menus.forEach(({ select }, k) => {
      for (const [place, option] of [...select.options].entries()) {
        option.disabled = variantOf(places.map((each, j) => (j === k ? place : each))) < 0;
      }
      select.disabled = select.options.length < 2;
    });
  }
  function choose() {
    lock();
    onChange(variantOf(selected()));
  }
  return {
    /** @param {Offer} cell @param {number} variant */
    show(cell, variant) {
      if (offer !== cell) {
        offer = cell;
        menus = cell.menus.map(([label, options]) => menuField(newId(), label, options, choose));
        note.textContent = `${where}: ${cell.fixed}. Choices that are missing or grey are not in it.`;
        fields.replaceChildren(...menus.map(({ box }) => box), note);
      }
      menus.forEach(({ select }, k) => (select.value = String(cell.variants[variant][k])));
      lock();
    },
  };
}

/** A long list as a menu: its buttons would push the cell out of sight. @param {Offer[]} cells @param {(at: number) => void} onChoose */
function cellMenu(cells, onChoose) {
  const { box, select } = menuField(newId(), "Solution", cells.map(({ label }) => label), () => onChoose(Number(select.value)));
  return { node: box, show: (/** @type {number} */ at) => (select.value = String(at)) };
}

/** @param {Offer[]} cells @param {(at: number) => void} onChoose */
function cellList(cells, onChoose) {
  const node = make("div", "", "fp-solutions");
  node.setAttribute("role", "group");
  node.setAttribute("aria-label", "Cells of the list");
  const buttons = cells.map(({ label }, at) => {
    const button = /** @type {HTMLButtonElement} */ (make("button", label, "fp-choice"));
    button.type = "button";
    button.addEventListener("click", () => onChoose(at));
    return button;
  });
  node.append(...buttons);
  /** @param {number} at @param {Set<number>} run cells that were switched on */
  function show(at, run) {
    buttons.forEach((button, k) => {
      button.textContent = `${run.has(k) ? "✓ " : ""}${cells[k].label}`;
      button.classList.toggle("fp-chosen", k === at);
      button.setAttribute("aria-pressed", String(k === at));
    });
  }
  return { node, show };
}

/**
 * @param {HTMLElement} page @param {Offer[]} cells @param {string} where the runs are, in words
 * @param {{onCell: (at: number) => void, onVariant: (variant: number) => void, onSwitch: () => void}} handlers
 */
export function mountBar(page, cells, where, { onCell, onVariant, onSwitch }) {
  const head = make("div", "", "fp-head");
  const list = (cells.length > MOST_BUTTONS ? cellMenu : cellList)(cells, onCell);
  head.append(list.node);
  const setup = make("div", "", "fp-setup");
  const fields = make("div", "", "fp-fields");
  const printed = make("p", "", "fp-printed-settings");
  // in the lesson's steps the set-up is one line; a press on "Change" opens the menus over the picture
  const line = make("p", "", "fp-setup-line");
  const change = /** @type {HTMLButtonElement} */ (make("button", "Change", "fp-change"));
  change.type = "button";
  change.setAttribute("aria-expanded", "false");
  const unfold = (/** @type {boolean} */ isOpen) => {
    fields.classList.toggle("fp-unfolded", isOpen);
    change.setAttribute("aria-expanded", String(isOpen));
  };
  change.addEventListener("click", () => unfold(!fields.classList.contains("fp-unfolded")));
  setup.append(line, change, fields, printed);
  const menus = mountMenus(fields, where, onVariant);
  const switchButton = /** @type {HTMLButtonElement} */ (make("button", "Switch on", "fp-switch"));
  switchButton.type = "button";
  switchButton.addEventListener("click", onSwitch);
  page.append(head, setup, switchButton);
  return {
    /** @param {number} at @param {number} variant @param {boolean} isOn @param {Set<number>} run cells that were switched on */
    show(at, variant, isOn, run) {
      list.show(at, run);
      menus.show(cells[at], variant);
      line.textContent = `${cells[at].settings[variant]}; ${cells[at].fixed}`;
      printed.textContent = `Set-up: ${cells[at].solution}, ${line.textContent}`;
      switchButton.textContent = isOn ? "Switch off" : "Switch on";
    },
    /** @param {boolean} isBusy while a cell is unpacked */
    setBusy(isBusy) {
      switchButton.disabled = isBusy;
    },
  };
}
