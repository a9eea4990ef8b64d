// Keeps the keyboard near the control that it was on. When that control is removed, locked or drawn anew, the browser
// would begin at the top of the page again.

const SETTLE_MS = 300; // after which a control that is only drawn anew, or locked for a moment, is there again
const CONTROLS = "button, input, select, textarea, a[href], summary";
const FOCUSABLE = `${CONTROLS}, [tabindex]:not([tabindex='-1'])`;

/** The key by which a control is known when it is drawn anew; empty if it has none. @param {HTMLElement} node */
function keyOf(node) {
  if (node.dataset.fpKey) return node.dataset.fpKey;
  const control = node.closest('[class*="fp-key-"]');
  return control ? [...control.classList].find((each) => each.startsWith("fp-key-")) : "";
}

/** Whether the keyboard can be on a control now. @param {HTMLElement} node */
const isUsable = (node) => node.isConnected && !node.matches(":disabled") && node.checkVisibility();

/**
 * The control that takes the place of one that cannot be used: the one with its key, else the next one in what is left
 * around it.
 */
function successorOf({ node, key, ancestors }) {
  const connected = ancestors.filter((each) => each.isConnected);
  const usable = (part) => [...part.querySelectorAll(FOCUSABLE)].filter(isUsable);
  for (const part of connected) {
    const redrawn = key && usable(part).find((each) => keyOf(each) === key);
    if (redrawn) return redrawn;
  }
  for (const part of connected) {
    const others = usable(part);
    const after = others.find((each) => node.compareDocumentPosition(each) & Node.DOCUMENT_POSITION_FOLLOWING);
    if (others.length) return node.isConnected ? (after ?? others.at(-1)) : others[0];
  }
  return null;
}

/** @param {Element} page */
export function keepFocus(page) {
  let last = null; // the control that had the keyboard, and what was around it
  let successor = null; // the control that has it meanwhile
  let timer = 0;
  const listeners = new AbortController();
  const { signal } = listeners;

  function remember(node) {
    const ancestors = [];
    for (let each = node.parentElement; each && page.contains(each); each = each.parentElement) ancestors.push(each);
    last = { node, key: keyOf(node), ancestors };
  }
  document.addEventListener("focusin", ({ target }) => {
    if (target === successor) return;
    last = successor = null;
    // the browser does not scroll to a control that is partly visible, and so cuts its outline
    if (target.matches(`:is(${CONTROLS}):focus-visible`)) target.scrollIntoView({ block: "nearest", inline: "nearest" });
    if (page.contains(target)) remember(target);
  }, { signal });
  // whoever points at nothing leaves on purpose
  document.addEventListener("pointerdown", ({ target }) => {
    if (!target.closest(`${FOCUSABLE}, label`)) last = successor = null;
  }, { signal });

  const isLost = () => last && [document.body, successor].includes(document.activeElement);
  function check() {
    if (!isLost()) return;
    if (isUsable(last.node)) last.node.focus();
    else if (!successor && !timer) timer = setTimeout(moveOn, SETTLE_MS);
  }
  function moveOn() {
    timer = 0;
    if (!isLost() || successor) return;
    successor = successorOf(last);
    successor?.focus();
    if (successor && !last.node.isConnected) {
      remember(successor); // the control that was there will not come back
      successor = null;
    }
  }
  const changes = new MutationObserver(check);
  changes.observe(page, { subtree: true, childList: true, attributes: true, attributeFilter: ["disabled", "hidden"] });
  return () => {
    clearTimeout(timer);
    listeners.abort();
    changes.disconnect();
  };
}
