// Parts of an electrode's card that are the same with and without a lesson: its head and its half-equation.

import { make } from "../../kit/elements.js";

/** Electrode, material and sign: all that a class may see before it is asked. */
export function headOf(words) {
  const head = document.createElement("header");
  head.innerHTML = `<h2>${words.title} <span class="fp-material"></span></h2><span class="fp-sign"></span>`;
  head.querySelector(".fp-material").textContent = words.material;
  head.querySelector(".fp-sign").textContent = words.sign;
  return head;
}

/** The markup is for the eye, the spoken form for a screen reader. */
export function equationOf({ equation, spoken, waiting }) {
  if (!equation) return make("p", waiting, "fp-equation");
  const shown = make("span");
  shown.setAttribute("aria-hidden", "true");
  shown.innerHTML = equation;
  const paragraph = make("p", "", "fp-equation");
  paragraph.append(shown, make("span", spoken, "fp-spoken"));
  return paragraph;
}
