// What a page does that owns its address: it follows its link, keeps its state through a reload, and looks after the
// keyboard.

import { keepFocus } from "./focus.js";
import { stateOf } from "./links.js";
import { mountPageState } from "./page_state.js";
import { lockPressedSwitches } from "./press.js";

/** @param {any} model the widget's @param {() => void} writeAddress @returns {() => void} ends it */
export function mountOwnPage(model, writeAddress) {
  const state = mountPageState(model);
  const releaseFocus = keepFocus(document.body);
  const unlockSwitches = lockPressedSwitches(document.body);
  const query = stateOf(location.search);
  function restoreState() {
    model.off("change:applied_query", restoreState);
    state.restore();
  }
  if (query && query !== model.get("applied_query")) {
    model.on("change:applied_query", restoreState); // after the link, of which the state knows more
    model.set("link_query", query);
    model.save_changes();
  } else {
    if (query) writeAddress(); // the link was followed before the page was there
    restoreState();
  }
  return () => {
    model.off("change:applied_query", restoreState);
    state.destroy();
    releaseFocus();
    unlockSwitches();
  };
}
