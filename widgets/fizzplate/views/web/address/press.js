// Locks a cell's switch at the press, until its program has answered: a second press on a slow line would mean what
// the switch said when it was made, and undo the first.

/** @param {Element} page */
export function lockPressedSwitches(page) {
  const lock = ({ target }) => {
    const pressed = target.closest(".fp-switch");
    if (pressed) pressed.disabled = true; // the program unlocks it when it has done what was asked
  };
  page.addEventListener("click", lock);
  return () => page.removeEventListener("click", lock);
}
