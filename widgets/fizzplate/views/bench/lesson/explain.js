// The explanation, a press a step, tied to the scene: the ions that are meant stand out.

import { make, makeButton } from "../../kit/elements.js";

/** The order of discharge, with what is here and what is discharged. */
export function drawOrder(step) {
  const box = make("div", "", "fp-order");
  box.append(make("p", step.orderTitle, "fp-order-title"));
  const list = make("ol");
  for (const { name, present, chosen } of step.order) {
    const place = make("li", name);
    if (present) place.dataset.present = "";
    if (chosen) {
      place.dataset.chosen = "";
      place.append(make("span", " is discharged", "fp-spoken"));
    } else if (present) place.append(make("span", " is here", "fp-spoken"));
    list.append(place);
  }
  box.append(list);
  return box;
}

function drawMove({ sentence, html, speech }) {
  const line = make("p", "", "fp-balancing-step");
  const equation = make("span", "", "fp-balancing-equation");
  equation.setAttribute("aria-hidden", "true");
  equation.innerHTML = html; // made by Python from formulae, never from what is typed
  line.append(equation, make("span", speech, "fp-spoken"), make("span", sentence));
  return line;
}

/** A half-equation grows in two presses: first its atoms, then its charge. moves: shown so far; line: what is said now */
export function presses(steps) {
  return steps.flatMap((step) => {
    const moves = step.balancing.length;
    if (!moves) return [{ step, moves, line: step.sentence }];
    const atoms = step.balancing.slice(0, -1).map(({ sentence }) => sentence);
    const last = `${step.balancing[moves - 1].sentence} ${step.sentence}`;
    return atoms.length ? [{ step, moves: moves - 1, line: atoms.join(" ") }, { step, moves, line: last }] : [{ step, moves, line: last }];
  });
}

/** Sentences, two that follow each other together; of an odd number one alone, so that the longest is as short as can be. @param {string} text */
function inPairs(text) {
  const all = text.replace(/([.?!]) (?=\p{Lu})/gu, "$1\n").split("\n");
  const longest = (lines) => Math.max(...lines.map(({ length }) => length));
  const pairs = (rest) => rest.flatMap((each, k) => (k % 2 ? [] : [`${each} ${rest[k + 1]}`]));
  if (all.length % 2 === 0) return pairs(all);
  const ways = all.flatMap((alone, k) => (k % 2 ? [] : [[...pairs(all.slice(0, k)), alone, ...pairs(all.slice(k + 1))]]));
  return ways.reduce((best, way) => (longest(way) < longest(best) ? way : best));
}

/** As few words a press as a class reads at a glance: a sentence, or a pair. @param steps of the explanation */
export const shortPresses = (steps) => presses(steps).flatMap((press) => (press.moves ? [press] : inPairs(press.line).map((line) => ({ ...press, line }))));

/**
 * @param node the panel @param steps of the explanation @param scene what they are tied to @param {number} [from] press to begin with
 * @param {(side: number) => number} [sideOf] where an electrode stands
 */
export function mountExplain(node, steps, scene, from = 0, sideOf = (side) => side) {
  const all = presses(steps);
  let at = Math.min(from, all.length - 1);
  const words = make("div", "", "fp-explanation");
  words.setAttribute("aria-live", "polite");
  const back = makeButton("Back", () => go(at - 1));
  const next = makeButton("Next", () => go(at + 1));
  const count = make("span", "", "fp-count");
  const row = make("div", "", "fp-steps");
  row.append(back, next, count);
  node.replaceChildren(words, row);

  function show() {
    const { step, moves } = all[at];
    const parts = [make("h3", step.title), make("p", step.sentence)];
    if (step.order.length) parts.push(drawOrder(step));
    parts.push(...step.balancing.slice(0, moves).map(drawMove));
    words.replaceChildren(...parts);
    words.scrollTop = words.scrollHeight; // the newest move is read first
    // not disabled, which would take the focus from whoever pressed it last
    back.setAttribute("aria-disabled", String(at === 0));
    next.setAttribute("aria-disabled", String(at === all.length - 1));
    count.textContent = `${at + 1} of ${all.length}`;
    if (!node.hidden) scene.setFocus(step.species, sideOf(step.side));
  }
  function go(to) {
    at = Math.min(Math.max(to, 0), all.length - 1);
    show();
  }
  show();
  return {
    go: (by) => go(at + by),
    shownStep: () => at,
    opened: show,
    closed: () => scene.setFocus([], -1),
  };
}
