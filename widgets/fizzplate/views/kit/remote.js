// A presenter's remote: Page Down and Page Up, or arrows to the right and left, step the lesson; B blanks the screen. It can
// be switched off, since a voice or a slip may press single keys.

const TYPING = "input:not([type=radio]):not([type=checkbox]):not([type=range]), select, textarea, [contenteditable]";

/** What uses arrows itself. */
const USES_ARROWS = "input, select, textarea, [role=tab], [role=slider], [tabindex='0']";
/** @type {Record<string, number>} */
const BY = { PageDown: 1, PageUp: -1, ArrowRight: 1, ArrowLeft: -1 };

/** Whether a key is the page's: in a notebook's own host, those pressed elsewhere are the notebook's. @param {EventTarget|null} target */
function isOurs(target) {
  if (target === document.body || "voila" in document.body.dataset) return true;
  return target instanceof Element && target.closest(".fp-page") !== null;
}

/** @param {HTMLElement} root @param {(by: number) => void} step @param {() => boolean} withArrows whether they step too */
export function mountRemote(root, step, withArrows = () => false) {
  const dismiss = new AbortController();
  const curtain = document.createElement("div");
  curtain.className = "fp-blank-screen";
  curtain.hidden = true;
  curtain.setAttribute("role", "status");
  const words = document.createElement("span");
  words.className = "fp-spoken";
  words.textContent = "The screen is blank. Press B to see it again.";
  curtain.append(words);
  root.append(curtain);
  document.addEventListener(
    "keydown",
    (event) => {
      if (document.documentElement.dataset.fpRemote !== "on") return;
      if (!root.getClientRects().length) return; // a part of the page that is not shown
      if (!isOurs(event.target)) return;
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.target instanceof Element && event.target.matches(TYPING)) return;
      const isArrow = event.key.startsWith("Arrow");
      if (isArrow && (!withArrows() || (event.target instanceof Element && event.target.matches(USES_ARROWS)))) return;
      if (event.key === "b" || event.key === "B") curtain.hidden = !curtain.hidden;
      else if (event.key === "Escape" && !curtain.hidden) curtain.hidden = true;
      else if (BY[event.key]) step(BY[event.key]);
      else return;
      event.preventDefault();
    },
    { signal: dismiss.signal },
  );
  return {
    destroy() {
      dismiss.abort();
      curtain.remove();
    },
  };
}
