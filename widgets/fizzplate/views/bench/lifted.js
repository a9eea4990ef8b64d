// The electrodes lifted out of the liquid: what has settled on them, or is missing, wet or dried.

import { massText } from "../kit/format.js";
import { make } from "../kit/elements.js";
import { sampleAt } from "../scene/record.js";

const CLINGING_G = 0.05; // of liquid on a wet rod: a choice, a layer of a tenth of a millimetre
const MIN_SEEN_G = 2e-4; // less is no visible layer

/** The largest mass that settles or is lost in the whole run, at either electrode. */
const maxMassG = (figures) => Math.max(...figures.flatMap(({ electrode }) => Array.from(electrode.layerG, Math.abs)));

/** @param {string} tint of the layer: as a colour, since its token would name the metal */
function rodPicture(header, layerG, maxG, tint) {
  const layer = maxG > 0 ? (Math.abs(layerG) / maxG) * 16 : 0;
  const gained = layerG > MIN_SEEN_G;
  const thin = layerG < -MIN_SEEN_G ? layer / 2 : 0;
  return `<svg viewBox="0 0 90 150" aria-hidden="true">
    ${gained ? `<rect x="${27 - layer}" y="50" width="${36 + 2 * layer}" height="${94}" rx="5" fill="${tint}" stroke="var(--fp-ink)"/>` : ""}
    <path d="M27 4 h36 v46 h-${thin} v94 h-${36 - 2 * thin} v-94 h-${thin} z" fill="var(--fp-${header.material})" stroke="var(--fp-ink)"/>
    ${header.spongy && gained ? `<rect x="${27 - layer}" y="50" width="${36 + 2 * layer}" height="94" rx="5" fill="var(--fp-ion-ink)" opacity=".4"/>` : ""}
  </svg>`;
}

/** @param node where they are shown @param record of the run @param lesson its words */
export function mountLifted(node, record, lesson) {
  node.hidden = true;
  node.replaceChildren(make("h2", "Electrodes lifted out"));
  const wet = document.createElement("input");
  wet.type = "checkbox";
  wet.checked = true;
  const choice = make("label", "", "fp-option");
  choice.append(wet, make("span", "Dried carefully, without rubbing"));
  const rods = make("div", "", "fp-faces");
  const figures = lesson.electrodes.map((words, index) => {
    const figure = make("figure");
    const header = record.header.electrodes[index];
    figure.innerHTML = `<figcaption>${words.title}</figcaption><div class="fp-rod"></div><p></p>`;
    rods.append(figure);
    return { figure, header, electrode: record.electrode(index) };
  });
  const maxG = maxMassG(figures);
  const scale = make("p", "", "fp-scale");
  if (maxG > MIN_SEEN_G) scale.textContent = `Layers are drawn much thicker than they are, in proportion to their mass. The thickest one here stands for ${massText(maxG)}, the largest mass in this run.`;
  node.append(rods, scale, choice);
  let nowS = 0;
  let revealed = false;

  function show() {
    if (node.hidden) return;
    const tints = getComputedStyle(node);
    const isSwapped = sampleAt(record.swapped, record, nowS) > 0.5;
    figures.forEach(({ figure }, side) => { figure.querySelector("figcaption").textContent = lesson.electrodes[isSwapped ? 1 - side : side].title; });
    const layers = figures.map(({ electrode }) => sampleAt(electrode.layerG, record, nowS));
    figures.forEach(({ figure, header }, index) => {
      const grams = layers[index];
      figure.querySelector(".fp-rod").innerHTML = rodPicture(header, grams, maxG, tints.getPropertyValue(header.layerTint) || "none");
      const solid = header.products.findIndex(({ kind }) => kind === "solid");
      const name = revealed ? (lesson.electrodes[index].names[solid] ?? "metal") : "a solid";
      let sentence = "Nothing has settled on it.";
      if (grams > MIN_SEEN_G) sentence = `${massText(grams)} of ${name} has settled${header.spongy ? ", loose and dark: it falls off easily" : ""}.`;
      else if (grams < -MIN_SEEN_G) sentence = `It has lost ${massText(-grams)}.`;
      if (!wet.checked) sentence += ` While it is wet, the balance shows about ${massText(CLINGING_G)} more.`;
      figure.querySelector("p").textContent = sentence;
    });
  }
  wet.addEventListener("change", show);
  return {
    update(timeS) {
      nowS = timeS;
      show();
    },
    toggle(open) {
      node.hidden = !open;
      show();
    },
    reveal() {
      revealed = true;
      show();
    },
  };
}
