// What a reload would take: what stands in the controls, which switches are closed, how far a run was played.
// It is kept in this tab and taken up when the page comes back, after a reload or after its program was lost.

const CONTROLS = "carried.controls.1";
const LONGEST_FIELD = 20_000;
const LATEST_MS = 20_000; // what has not come by then belongs to nothing on the page
const BESIDE_MS = 50; // widgets of one change come together
const KEEPERS = ".fp-grid, .fp-quiz, .fp-ask, .fp-address"; // these keep what is theirs, or have nothing to keep
const FIELDS = "textarea, select, input:is([type=text], [type=number], [type=checkbox], :not([type]))";
const TOGGLES = ".widget-toggle-button, [role=switch], [role=tab]";
const SET_UPS = ".fp-setup";
const OF_A_SET = ".fp-choosing, .fp-topics"; // set anew, they would put their set in place of an opened file's

const placeOf = (name) => `fizzplate.${name}:${location.pathname}`;
const reloaded = () => performance.getEntriesByType("navigation")[0]?.type === "reload";
const asksAFile = () => new URLSearchParams(location.search).get("set") === "opened";
const isTold = () => document.querySelector("body > .fp-lost") !== null;

/** Keep something of the page until it comes back. @param {string} name @param {unknown} what */
export function carry(name, what) {
  try {
    if (what === null) sessionStorage.removeItem(placeOf(name));
    else sessionStorage.setItem(placeOf(name), JSON.stringify({ lost: isTold(), what }));
  } catch {
    // where the browser keeps nothing, or not so much
  }
}
/** What was kept, if the page has come back; on a new visit nothing. @param {string} name */
export function carried(name) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(placeOf(name)) ?? "null");
    return kept && (kept.lost || reloaded()) ? kept.what : null;
  } catch {
    return null;
  }
}

/** The words of a label without the choices of its own control. @param {Element|undefined} label */
const wordsOf = (label) =>
  [...(label?.childNodes ?? [])].map((node) => (node instanceof Element && node.matches("select, input, textarea") ? "" : node.textContent)).join("").trim();
const labelOf = (node) => node.getAttribute("aria-label") ?? wordsOf(node.labels?.[0]);

/** What can be set on the page, each by its kind, its name, and which of that name it is. @param {Element} page */
function settable(page) {
  const counts = new Map();
  const all = [...page.querySelectorAll(`${FIELDS}, ${TOGGLES}, .fp-switch`)].filter((node) => !node.closest(asksAFile() ? `${KEEPERS}, ${OF_A_SET}` : KEEPERS));
  return all.map((node) => {
    const [kind, name] = node.matches(".fp-switch") ? ["supply", ""] : node.matches(TOGGLES) ? ["switch", node.textContent.trim()] : ["field", labelOf(node)];
    const place = `${kind} ${name}`;
    counts.set(place, (counts.get(place) ?? 0) + 1);
    return { node, kind, place: `${place} ${counts.get(place)}` };
  });
}
/** @returns {string|boolean} */
function stateOfControl(node, kind) {
  if (kind === "supply") return node.textContent.trim() !== "Switch on";
  if (kind === "switch") return node.classList.contains("mod-active") || node.getAttribute("aria-checked") === "true" || node.getAttribute("aria-selected") === "true";
  if (node.type === "checkbox") return node.checked;
  return node instanceof HTMLSelectElement ? (node.selectedOptions[0]?.text ?? "") : node.value.slice(0, LONGEST_FIELD);
}
/** Set a control as a person would; whether it can be so set yet. */
function setControl(node, state) {
  if (node.disabled) return false;
  if (typeof state === "boolean") {
    node.click();
    return true;
  }
  if (node instanceof HTMLSelectElement) {
    const option = [...node.options].find(({ text }) => text === state);
    if (!option) return false;
    node.value = option.value;
  } else node.value = state;
  for (const type of ["input", "change"]) node.dispatchEvent(new Event(type, { bubbles: true }));
  return true;
}

/** Keep the page's controls when it goes. @param {Element} page */
export function keepControls(page) {
  const states = settable(page).map(({ node, kind, place }) => [place, stateOfControl(node, kind)]);
  carry(CONTROLS, Object.fromEntries(states));
}

/**
 * Set the page's controls to what was kept, each as soon as it is there.
 * @param {Element} page @param {() => void} done
 */
export function takeUpControls(page, done) {
  const wanted = new Map(Object.entries(carried(CONTROLS) ?? {}));
  const disturbed = new Set(); // set-ups that are not those of the run that was shown
  let waiting = 0;

  function attempt() {
    for (const { node, kind, place } of settable(page)) {
      if (!wanted.has(place)) continue;
      const state = wanted.get(place);
      const setUp = [...page.querySelectorAll(SET_UPS)].findIndex((each) => each.contains(node));
      if (state === stateOfControl(node, kind)) wanted.delete(place);
      else if (kind === "supply" && disturbed.has([...page.querySelectorAll(".fp-switch")].indexOf(node))) wanted.delete(place);
      else if (node.getAttribute("role") === "tab" && !state) wanted.delete(place); // another tab is chosen
      else if (setControl(node, state)) {
        wanted.delete(place);
        if (setUp >= 0 && kind === "field") disturbed.add(setUp);
      }
    }
    if (!wanted.size) finish();
  }
  const arrivals = new MutationObserver(() => {
    clearTimeout(waiting);
    waiting = setTimeout(attempt, BESIDE_MS);
  });
  const latest = setTimeout(finish, LATEST_MS);
  function finish() {
    stop();
    done();
  }
  function stop() {
    clearTimeout(waiting);
    clearTimeout(latest);
    arrivals.disconnect();
  }
  arrivals.observe(page, { subtree: true, childList: true, attributes: true, attributeFilter: ["disabled"] });
  waiting = setTimeout(attempt, BESIDE_MS); // once the widgets have followed the link
  return stop;
}
