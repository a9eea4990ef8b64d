// A refusal belongs to its field: whoever comes to the field hears that it is wrong, and why. Python marks the control by
// one class and names the sentence by another; here the field itself gets both.

const MESSAGE_CLASS = "fp-message-";
const WRONG_FIELDS = "input, select, textarea";

/** Mark a field as wrong, with the id of the sentence that says why; without one, as mended. @param {Element} field @param {string} sentence */
export function setWrong(field, sentence) {
  if (sentence) {
    field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", sentence);
  } else {
    field.removeAttribute("aria-invalid");
    field.removeAttribute("aria-describedby");
  }
}

/** Follow the controls of the document. */
export function followWrong() {
  let marked = new Set();
  function follow() {
    const wrong = new Set();
    for (const control of document.querySelectorAll(`.fp-wrong[class*="${MESSAGE_CLASS}"]`)) {
      const field = control.querySelector(WRONG_FIELDS);
      const sentence = [...control.classList].find((each) => each.startsWith(MESSAGE_CLASS));
      if (!field || !sentence || !document.getElementById(sentence)) continue;
      wrong.add(field);
      if (field.getAttribute("aria-describedby") !== sentence) setWrong(field, sentence);
    }
    for (const field of marked) if (!wrong.has(field)) setWrong(field, "");
    marked = wrong;
  }
  const changes = new MutationObserver(follow);
  changes.observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["class"] });
  follow();
  return () => changes.disconnect();
}
