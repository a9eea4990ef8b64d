// The teacher's own phone: first the code that the projector's page asks for, then what the class writes, to be shown one by one.

import { make } from "./fields.js";

/** @param {string} text @param {() => void} onPress @param {string} key by which the keyboard finds it again */
function button(text, onPress, key) {
  const node = /** @type {HTMLButtonElement} */ (make("button", text, "quiet"));
  node.type = "button";
  node.dataset.key = key;
  node.addEventListener("click", onPress);
  return node;
}

/** @param {string} code @param {(message: object) => void} send */
const codeParts = (code, send) => [
  Object.assign(make("h2", "For the teacher"), { tabIndex: -1 }),
  make("p", "Is this the teacher's own phone? Then it can read what the class writes before the class sees it. On the computer press “Show the code”, then “Teacher's phone”, and type:"),
  make("p", `${code.slice(0, 3)} ${code.slice(3)}`, "code"),
  button("Never mind", () => send({ read: false }), "stop"),
];

/** @param {{parts: {name: string, label: string, texts: [string, boolean][]}[]}} reads @param {(message: object) => void} send */
function textParts({ parts }, send) {
  const nodes = parts.length ? [] : [make("p", "Nothing is written in this round.", "note")];
  for (const { name, label, texts } of parts) {
    const list = make("ul");
    for (const [text, isShown] of texts) {
      const item = make("li", "", isShown ? "shown" : "");
      const own = button(isShown ? "Hide" : "Show", () => send({ [isShown ? "hide" : "show"]: { of: name, text } }), `${name} ${text}`);
      own.setAttribute("aria-label", `${own.textContent}: ${text}`);
      item.append(make("span", text), own);
      list.append(item);
    }
    nodes.push(make("h2", label), texts.length ? list : make("p", "Nobody has written yet.", "note"));
  }
  return [...nodes, make("p", "The class sees in bold what you show. This phone answers nothing.", "note"), button("Answer like the others", () => send({ read: false }), "stop")];
}

/** @param {HTMLElement} place @param {{code?: string, reads?: any}} message @param {(message: object) => void} send */
export function drawReading(place, { code, reads }, send) {
  const drawn = JSON.stringify([code, reads]);
  const isNew = place.hidden && Boolean(code);
  if (place.dataset.drawn === drawn) return;
  place.dataset.drawn = drawn;
  const active = /** @type {HTMLElement|null} */ (document.activeElement);
  const key = active && place.contains(active) ? active.dataset.key : "";
  place.textContent = "";
  place.append(...(reads ? textParts(reads, send) : code ? codeParts(code, send) : []));
  place.hidden = !reads && !code;
  const again = key ? Array.from(place.querySelectorAll("button")).find((each) => each.dataset.key === key) : null;
  if (again) again.focus();
  if (isNew) place.querySelector("h2").focus(); // the button that was pressed has gone
}
