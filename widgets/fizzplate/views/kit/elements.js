// Elements as every widget makes them.

/** @param {string} name @param {string} [text] @param {string} [className] */
export function make(name, text = "", className = "") {
  const node = document.createElement(name);
  if (text) node.textContent = text;
  if (className) node.className = className;
  return node;
}

/** Writes only what has changed: a screen reader then reads it once, and nothing is laid out again. @param {Element} node @param {string} text */
export function write(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** @param {string} text @param {string} [name] of a class, for one that is more than a note */
export function note(text, name = "") {
  return make("p", text, `fp-note ${name}`.trim());
}

/**
 * @param {string} text @param {() => void} onClick @param {string} [key] by which it is known when it is drawn anew
 * @param {AbortSignal} [signal] ends its listening
 */
export function makeButton(text, onClick, key = "", signal = undefined) {
  const button = /** @type {HTMLButtonElement} */ (make("button", text, "fp-button"));
  button.type = "button";
  if (key) button.dataset.fpKey = key;
  button.addEventListener("click", onClick, { signal });
  return button;
}

/** A notice that appears when a field is full: text pasted beyond that is cut. @param {HTMLTextAreaElement|HTMLInputElement} field */
export function sayWhenFull(field) {
  const notice = make("span", "", "fp-length-notice");
  notice.setAttribute("aria-live", "polite");
  field.addEventListener("input", () => {
    notice.textContent = field.value.length >= field.maxLength ? `No more than ${field.maxLength} characters are kept.` : "";
  });
  return notice;
}
