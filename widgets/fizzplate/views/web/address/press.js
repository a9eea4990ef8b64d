// Locks a cell's switch when it is pressed, until the program has answered: on a slow line a second press would undo
// the first.

/** @param {Element} page */
export function lockPressedSwitches(page) {
  /** @param {any} event */
  const lock = ({ target }) => {
    const button = target.closest(".fp-switch");
    if (button) button.disabled = true; // the program unlocks it
  };
  page.addEventListener("click", lock);
  return () => page.removeEventListener("click", lock);
}
