// What a reload would take from the page, kept in this tab until the page comes back after a reload or the loss of its
// program. A new visit begins with nothing.

/** @param {string} name */
const keyOf = (name) => `fizzplate.${name}:${location.pathname}`;
const isReload = () => /** @type {any} */ (performance.getEntriesByType("navigation")[0])?.type === "reload";
const hasLostProgram = () => document.querySelector("body > .fp-lost") !== null;

/** Keep something of the page until it comes back. @param {string} name @param {unknown} what null: nothing any more */
export function keepInTab(name, what) {
  try {
    if (what === null) sessionStorage.removeItem(keyOf(name));
    else sessionStorage.setItem(keyOf(name), JSON.stringify({ lost: hasLostProgram(), what }));
  } catch {
    // where the browser keeps nothing, or not so much
  }
}

/** What the tab has kept, if the page has come back; on a new visit nothing. @param {string} name */
export function keptInTab(name) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(keyOf(name)) ?? "null");
    return kept && (kept.lost || isReload()) ? kept.what : null;
  } catch {
    return null;
  }
}
