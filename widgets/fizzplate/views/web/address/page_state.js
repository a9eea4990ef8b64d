// The page's whole state. Python writes it as one text; this tab keeps it, unread, together with the text of the fields,
// and hands both back after a reload. A field is known by its control's key.

import { keepInTab, keptInTab } from "../../kit/tab_memory.js";

const STATE = "state.1";
const KEY = "fp-key-"; // begins the class that carries a control's key
const TEXT_FIELDS = "textarea, input:is([type=text], [type=number], :not([type]))";
const MAX_TEXT_LENGTH = 20_000;
const MAX_STATE_LENGTH = 1_000_000;

/** What stands in the page's text fields, sent or not, by their controls' keys. @param {ParentNode} page */
export function fieldTexts(page) {
  /** @type {Record<string, string>} */
  const texts = {};
  for (const control of page.querySelectorAll(`[class*="${KEY}"]`)) {
    const key = [...control.classList].find((each) => each.startsWith(KEY));
    const field = /** @type {HTMLInputElement|null} */ (control.querySelector(TEXT_FIELDS));
    if (key && field) texts[key.slice(KEY.length)] = field.value.slice(0, MAX_TEXT_LENGTH);
  }
  return texts;
}

/** @param {any} model the widget's: its `page_state` is the state as Python writes it */
export function mountPageState(model) {
  const kept = keptInTab(STATE);
  let isReady = false; // until then the tab keeps what it had
  function keep() {
    if (!isReady) return;
    const state = model.get("page_state") ?? "";
    keepInTab(STATE, state.length > MAX_STATE_LENGTH ? null : { page_state: state, field_texts: fieldTexts(document.body) });
  }
  /** @param {{ready?: boolean}} message */
  function onMessage({ ready }) {
    if (ready) isReady = true;
  }
  model.on("msg:custom", onMessage);
  addEventListener("pagehide", keep);
  return {
    /** Hand back what was kept, once, after the page has followed its link. */
    restore() {
      // pages of an earlier version kept the two as `take_up` and `typed`
      if (kept) model.send({ page_state: kept.page_state ?? kept.take_up, field_texts: kept.field_texts ?? kept.typed });
      else isReady = true;
    },
    destroy() {
      model.off("msg:custom", onMessage);
      removeEventListener("pagehide", keep);
    },
  };
}
