// Tiles to build an equation from, beside the field that they write into.

import { make, makeButton } from "../kit/elements.js";

/** @type {[string, string][]} */
const SIGNS = [[" + ", "+"], [" − ", "−"], [" → ", "→"], ["2", "2"], ["3", "3"], ["4", "4"]];

/** @param {HTMLInputElement} field @param {{text: string, label: string}[]} tiles @param {string} title */
export function makeTiles(field, tiles, title) {
  const box = make("div", "", "fp-tiles");
  box.setAttribute("role", "group");
  box.setAttribute("aria-label", title);
  /** @param {string} text */
  function insert(text) {
    const at = field.selectionStart ?? field.value.length;
    field.value = field.value.slice(0, at) + text + field.value.slice(field.selectionEnd ?? at);
    field.focus();
    field.setSelectionRange(at + text.length, at + text.length);
    field.dispatchEvent(new Event("input"));
  }
  for (const { text, label } of tiles) box.append(makeButton(label, () => insert(text)));
  for (const [text, label] of SIGNS) box.append(makeButton(label, () => insert(text)));
  return box;
}
