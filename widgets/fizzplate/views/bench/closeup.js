// The close-up: both electrode faces at once, one event at a time, electrons counted.

import { countText } from "../kit/say.js";
import { makeSvg } from "../kit/svg.js";
import { closeUpSteps, stepWords } from "../scene/motion/steps.js";
import { particlesOf, WATER } from "../scene/particles.js";
import { write } from "./layout.js";

const [WIDE, HIGH, FACE, RADIUS] = [300, 190, 62, 25];
const MAX_DRAWN = 4;

function letter(text, x, y, size, parent, fill = "var(--fp-ion-ink)") {
  return makeSvg("text", { x, y, fill, "font-size": size, "text-anchor": "middle", "font-weight": 600, "dominant-baseline": "central" }, parent, text);
}

function outline(cation, x, y, radius, look, parent) {
  if (!cation) {
    makeSvg("circle", { cx: x, cy: y, r: radius, ...look }, parent);
    return;
  }
  const corners = Array.from({ length: 6 }, (_, k) => {
    const angle = (Math.PI / 3) * k;
    return `${x + radius * Math.cos(angle)},${y + radius * Math.sin(angle)}`;
  });
  makeSvg("polygon", { points: corners.join(" "), ...look }, parent);
}

/** A molecule of water: two hydrogen atoms below one of oxygen. */
function bent(x, y, radius, look, parent) {
  for (const side of [-1, 1]) outline(false, x + side * radius * 0.71, y + radius * 0.55, radius * 0.45, look, parent);
  outline(false, x, y, radius * 0.85, look, parent);
}

/** The shapes of the scene (glyphs.js): an atom is a plain disc, a molecule joined discs, water bent. */
function particle(species, x, y, parent, radius = RADIUS) {
  const look = { fill: `var(${species.tint})`, stroke: "var(--fp-ion-ink)", "stroke-width": 1.6 };
  const molecule = species.charge === 0 && !species.atom;
  if (species.formula === WATER.formula) bent(x, y, radius, look, parent);
  else if (molecule) {
    for (const side of [-1, 1]) outline(false, x + side * radius * 0.6, y, radius * 0.72, look, parent);
  } else {
    outline(species.charge > 0, x, y, radius, look, parent);
    if (Math.abs(species.charge) > 1) outline(species.charge > 0, x, y, radius - 4, { ...look, fill: "none", "stroke-width": 1 }, parent);
  }
  const label = letter(species.label, x, y, radius * (species.label.length > 3 ? 0.66 : 0.86), parent);
  if (!molecule) return;
  // the seam of a molecule does not run through its letters
  label.setAttribute("stroke", look.fill);
  label.setAttribute("stroke-width", "5");
  label.setAttribute("paint-order", "stroke");
}

function electron(x, y, parent) {
  makeSvg("circle", { cx: x, cy: y, r: 9, fill: "var(--fp-panel)", stroke: "var(--fp-ink)", "stroke-width": 1.6 }, parent);
  letter("−", x, y, 15, parent, "var(--fp-ink)");
}

function places(count) {
  const drawn = Math.min(count, MAX_DRAWN);
  const gap = Math.min(HIGH / (drawn + 0.4), 2.15 * RADIUS);
  return Array.from({ length: drawn }, (_, k) => HIGH / 2 + (k - (drawn - 1) / 2) * gap);
}

/** Draw one face. The electrode stands on its own side of the picture, the liquid on the other. */
function drawFace(svg, moment, product, header, record, index) {
  svg.replaceChildren();
  const mirrored = index === 1;
  const at = (x) => (mirrored ? WIDE - x : x);
  const oxidation = header.role === "anode";
  const ink = { fill: `var(--fp-${header.material})`, stroke: "var(--fp-ink)" };
  makeSvg("rect", { x: mirrored ? WIDE - FACE : 0, y: 0, width: FACE, height: HIGH, ...ink }, svg);
  const { formula, count } = product.consumed;
  const known = particlesOf(record);
  const source = known.find((each) => each.formula === formula);
  const inner = FACE + 12 + RADIUS;
  if (moment.ions && source) {
    const radius = count > 2 ? RADIUS * 0.8 : RADIUS;
    const x = inner + (moment.phase === "arrive" && !moment.waiting ? 70 : 8);
    for (const y of places(count)) particle(source, at(x), y, svg, radius);
  }
  if (!source && !moment.formed) {
    const atom = { label: product.metal || "C", tint: `--fp-${header.material}`, charge: 0, atom: true };
    particle(atom, at(FACE - 6), HIGH / 2, svg);
  }
  for (let k = 0; k < moment.crossing; k += 1) {
    const y = HIGH / 2 + (k - (moment.crossing - 1) / 2) * 24;
    electron(at(FACE + (oxidation ? -14 : 8)), y, svg);
  }
  if (moment.formed) {
    const made = { ...product, atom: product.kind === "solid" };
    const x = product.kind === "solid" ? FACE + RADIUS - 4 : inner + 62;
    particle(made, at(x), HIGH / 2, svg, RADIUS * 1.15);
    const released = product.released.flatMap((each) => Array(each.count).fill(known.find((species) => species.formula === each.formula)));
    const heights = places(released.length);
    released.slice(0, MAX_DRAWN).forEach((species, k) => particle(species, at(WIDE - RADIUS - 8), heights[k], svg, RADIUS * 0.8));
  }
}

/** @param node where it is shown @param record of the run @param lesson its words: it names what forms */
export function mountCloseUp(node, record, lesson) {
  const products = record.header.electrodes.map((electrode) => electrode.products[0]);
  const possible = lesson.on && products.every((each) => each?.electrons);
  node.hidden = true;
  node.innerHTML = `
    <h2>Close-up: one event at a time</h2>
    <div class="fp-faces"></div>
    <p class="fp-electron-count" aria-live="polite"></p>
    <button type="button" class="fp-button">Next step</button>`;
  if (!possible) return { possible, toggle() {}, destroy() {} };
  const steps = closeUpSteps(products);
  let now = 0;
  const faces = record.header.electrodes.map((header, index) => {
    const figure = document.createElement("figure");
    const words = lesson.electrodes[index];
    figure.innerHTML = `<figcaption>${words.title} <span aria-hidden="true">${words.equation}</span></figcaption>
      <svg viewBox="0 0 ${WIDE} ${HIGH}" aria-hidden="true"></svg><p></p>`;
    const towards = index === 0 ? "xMinYMid" : "xMaxYMid"; // each electrode on its own side
    figure.querySelector("svg").setAttribute("preserveAspectRatio", `${towards} meet`);
    node.querySelector(".fp-faces").append(figure);
    return { svg: figure.querySelector("svg"), caption: figure.querySelector("p"), header };
  });
  const labelOf = (formula) => particlesOf(record).find((each) => each.formula === formula)?.label ?? "";

  function show() {
    const step = steps[now];
    faces.forEach(({ svg, caption, header }, index) => {
      const product = products[index];
      drawFace(svg, step.sides[index], product, header, record, index);
      const label = labelOf(product.consumed.formula);
      write(caption, stepWords(step.sides[index], product, label, header.role === "anode"));
    });
    const passed = countText(step.passed, "electron");
    const all = now === steps.length - 1 ? " Both electrodes have finished together." : "";
    write(node.querySelector(".fp-electron-count"), `Passed at each electrode: ${passed}.${all}`);
  }
  const dismiss = new AbortController();
  node.querySelector("button").addEventListener("click", () => {
    now = (now + 1) % steps.length;
    show();
  }, { signal: dismiss.signal });
  show();
  return {
    possible,
    toggle(open) {
      node.hidden = !open;
      if (open) node.querySelector("button").focus();
    },
    destroy: () => dismiss.abort(),
  };
}
