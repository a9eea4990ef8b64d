// Keeps the keyboard where the work goes on. When what was pressed is taken away, locked or drawn anew, the browser
// would begin at the top of the page again.

const SETTLES_MS = 300; // what is only drawn anew, or locked for a moment, is there again by then
const MARKED = "button, input, select, textarea, a[href], summary";
const REACHABLE = `${MARKED}, [tabindex]:not([tabindex='-1'])`;

/** What a control is known by when it is drawn anew, if it has that. @param {HTMLElement} node */
function keyOf(node) {
  if (node.dataset.fpKey) return node.dataset.fpKey;
  const control = node.closest('[class*="fp-key-"]');
  return control ? [...control.classList].find((each) => each.startsWith("fp-key-")) : "";
}

/** Whether the keyboard can be on it now. @param {HTMLElement} node */
const isUsable = (node) => node.isConnected && !node.matches(":disabled") && node.checkVisibility();

/** Where the work goes on from what cannot be used: what has its key now, else what comes next in what is left round it. */
function heirOf({ node, key, around }) {
  const left = around.filter((each) => each.isConnected);
  const usable = (part) => [...part.querySelectorAll(REACHABLE)].filter(isUsable);
  for (const part of left) {
    const drawnAnew = key && usable(part).find((each) => keyOf(each) === key);
    if (drawnAnew) return drawnAnew;
  }
  for (const part of left) {
    const others = usable(part);
    const after = others.find((each) => node.compareDocumentPosition(each) & Node.DOCUMENT_POSITION_FOLLOWING);
    if (others.length) return node.isConnected ? (after ?? others.at(-1)) : others[0];
  }
  return null;
}

/** @param {Element} page */
export function keepFocus(page) {
  let last = null; // where the keyboard was, and what was round it
  let heir = null; // where it was put meanwhile
  let waiting = 0;
  const dismiss = new AbortController();
  const { signal } = dismiss;

  function remember(node) {
    const around = [];
    for (let each = node.parentElement; each && page.contains(each); each = each.parentElement) around.push(each);
    last = { node, key: keyOf(node), around };
  }
  document.addEventListener("focusin", ({ target }) => {
    if (target === heir) return;
    last = heir = null;
    // the browser leaves what is in sight by a part where it is, and cuts its mark
    if (target.matches(`:is(${MARKED}):focus-visible`)) target.scrollIntoView({ block: "nearest", inline: "nearest" });
    if (page.contains(target)) remember(target);
  }, { signal });
  // whoever points at nothing leaves on purpose
  document.addEventListener("pointerdown", ({ target }) => {
    if (!target.closest(`${REACHABLE}, label`)) last = heir = null;
  }, { signal });

  const isLost = () => last && [document.body, heir].includes(document.activeElement);
  function look() {
    if (!isLost()) return;
    if (isUsable(last.node)) {
      last.node.focus();
      return;
    }
    if (!heir && !waiting) waiting = setTimeout(goOn, SETTLES_MS);
  }
  function goOn() {
    waiting = 0;
    if (!isLost() || heir) return;
    heir = heirOf(last);
    heir?.focus();
    if (heir && !last.node.isConnected) {
      remember(heir); // what was there will not come back
      heir = null;
    }
  }
  const changes = new MutationObserver(look);
  changes.observe(page, { subtree: true, childList: true, attributes: true, attributeFilter: ["disabled", "hidden"] });
  return () => {
    clearTimeout(waiting);
    dismiss.abort();
    changes.disconnect();
  };
}
