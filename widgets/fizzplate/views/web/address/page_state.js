// The page's whole state. Python writes it as one text; this tab keeps it, unread, together with the text of the fields,
// and hands both back after a reload. A field is known by its control's key.

import { keepInTab, keptInTab } from "../../kit/tab_memory.js";

const STATE = "state.1";
const KEY = "fp-key-"; // begins the class that carries a control's key
const TEXT_FIELDS = "textarea, input:is([type=text], [type=number], :not([type]))";
const MAX_TEXT_LENGTH = 20_000;
const MAX_STATE_LENGTH = 1_000_000;

/** What stands in the page's text fields, sent or not, by their controls' keys. @param {ParentNode} page */
export function typedByKey(page) {
  /** @type {Record<string, string>} */
  const typed = {};
  for (const control of page.querySelectorAll(`[class*="${KEY}"]`)) {
    const key = [...control.classList].find((each) => each.startsWith(KEY));
    const field = /** @type {HTMLInputElement|null} */ (control.querySelector(TEXT_FIELDS));
    if (key && field) typed[key.slice(KEY.length)] = field.value.slice(0, MAX_TEXT_LENGTH);
  }
  return typed;
}

/** @param {any} model the widget's: its `carried` is the state as Python writes it */
export function mountPageState(model) {
  const kept = keptInTab(STATE);
  let isSettled = false; // until then the tab keeps what it had
  function keep() {
    if (!isSettled) return;
    const state = model.get("carried") ?? "";
    keepInTab(STATE, state.length > MAX_STATE_LENGTH ? null : { take_up: state, typed: typedByKey(document.body) });
  }
  /** @param {{taken_up?: boolean}} message */
  function received({ taken_up: isTakenUp }) {
    if (isTakenUp) isSettled = true;
  }
  model.on("msg:custom", received);
  addEventListener("pagehide", keep);
  return {
    /** Hand back what was kept, once, after the page has followed its link. */
    restore() {
      if (kept) model.send(kept);
      else isSettled = true;
    },
    destroy() {
      model.off("msg:custom", received);
      removeEventListener("pagehide", keep);
    },
  };
}
