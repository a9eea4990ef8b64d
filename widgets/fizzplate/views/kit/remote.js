// A presenter's remote: Page Down and Page Up step the explanation, B blanks the screen. It can be switched off, since a
// voice or a slip may press single keys.

const TYPING = "input:not([type=radio]):not([type=checkbox]):not([type=range]), select, textarea, [contenteditable]";

/** Whether a key is the page's: in a notebook's own host, those pressed elsewhere are the notebook's. @param {EventTarget|null} target */
function isOurs(target) {
  if (target === document.body || "voila" in document.body.dataset) return true;
  return target instanceof Element && target.closest(".fp-page") !== null;
}

/** @param {HTMLElement} root @param {(by: number) => void} step */
export function mountRemote(root, step) {
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
      if (event.key === "b" || event.key === "B") curtain.hidden = !curtain.hidden;
      else if (event.key === "Escape" && !curtain.hidden) curtain.hidden = true;
      else if (event.key === "PageDown") step(1);
      else if (event.key === "PageUp") step(-1);
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
