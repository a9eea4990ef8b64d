// One electrode's side card: what forms there, why, what is seen, how much so far, how it is tested. All but its head
// comes into the page only when it may be shown.

import { amountText, massText, percentText, volumeText, currentText } from "../kit/format.js";
import { note, write } from "./layout.js";
import { sampleAt } from "../scene/record.js";

const TRACE = 0.012; // of the charge: less is not worth a line

function row(term, text, name = "") {
  const wrapper = document.createElement("div");
  const dt = document.createElement("dt");
  const dd = document.createElement("dd");
  dt.textContent = term;
  dd.textContent = text;
  if (name) dd.className = name;
  wrapper.append(dt, dd);
  return wrapper;
}

function madeText(product, electrode, record, timeS) {
  if (product.kind === "gas") {
    const made = sampleAt(electrode.gasCm3(product.formula), record, timeS);
    const freed = sampleAt(electrode.collectedCm3(product.formula), record, timeS);
    const kept = made > 1e-6 ? 1 - freed / made : 0;
    const stays = kept > 0.95 ? ", all dissolved so far" : kept > 0.5 ? ", most of it dissolved" : "";
    return `${volumeText(made)} ${product.name}${stays}`;
  }
  if (product.kind === "solid") {
    const grams = sampleAt(electrode.massG(product.formula), record, timeS);
    return `${massText(Math.max(grams, 0))} ${product.name}`;
  }
  if (product.kind === "dissolved") {
    return `${amountText(sampleAt(electrode.amountMol(product.formula), record, timeS))} ${product.name}`;
  }
  if (!product.metal) return "";
  return `metal dissolved: ${massText(sampleAt(electrode.massG(product.metal), record, timeS))}`;
}

export function fillSideCard(node, words, index, record, { folded, place = "" }) {
  node.replaceChildren();
  node.setAttribute("aria-label", place ? `${words.title}, ${place}` : words.title);
  const head = document.createElement("header");
  head.innerHTML = `<h2>${words.title} <span class="fp-material"></span></h2><span class="fp-sign"></span>`;
  head.querySelector(".fp-material").textContent = words.material;
  head.querySelector(".fp-sign").textContent = words.sign;
  const product = document.createElement("p");
  product.className = "fp-product";
  product.textContent = words.product;
  const share = document.createElement("p");
  share.className = "fp-share";
  const equation = document.createElement("p");
  equation.className = "fp-equation";
  if (words.equation) {
    // The markup is for the eye; the spoken form is what a reader should hear.
    const shown = document.createElement("span");
    shown.setAttribute("aria-hidden", "true");
    shown.innerHTML = words.equation;
    const spoken = document.createElement("span");
    spoken.className = "fp-spoken";
    spoken.textContent = words.spoken;
    equation.append(shown, spoken);
  } else equation.textContent = words.waiting;
  const more = document.createElement("details");
  more.open = !folded;
  more.innerHTML = "<summary>Seen, made, test</summary><dl></dl>";
  const list = more.querySelector("dl");
  list.append(...words.rows.map(([term, text]) => row(term, text)));
  const made = row("Made", "", "fp-made");
  if (words.on) list.insertBefore(made, list.lastElementChild);
  const foot = document.createElement("footer");
  for (const text of words.rule) foot.append(note(text));
  for (const text of words.difference) foot.append(note(text, "fp-difference"));
  for (const text of words.cautions) foot.append(note(text, "fp-caution"));
  more.append(foot);
  node.append(head);

  const electrode = record.electrode(index);
  const products = record.header.electrodes[index].products.map((entry, i) => ({
    ...entry,
    name: words.names[i],
  }));
  const madeCell = made.querySelector("dd");

  function update(timeS) {
    if (!words.on) return;
    const current = sampleAt(record.currentA, record, timeS);
    const main = products[0];
    if (!main || current < 1e-6) {
      write(share, "almost no current");
      write(madeCell, "nothing");
      return;
    }
    const now = percentText(sampleAt(electrode.share(main.formula), record, timeS));
    write(share, `${now} of the charge, now ${currentText(current)}`);
    const amounts = products
      .filter((entry) => sampleAt(electrode.share(entry.formula), record, record.timeS.at(-1)) > TRACE
        || sampleAt(electrode.share(entry.formula), record, timeS) > TRACE)
      .map((entry) => madeText(entry, electrode, record, timeS))
      .filter(Boolean);
    // two ions of one metal tell the same loss
    write(madeCell, [...new Set(amounts)].join("; ") || "a trace");
  }

  return {
    update,
    fold: (narrow) => (more.open = !narrow),
    reveal: () => node.append(product, share, equation, more),
  };
}
