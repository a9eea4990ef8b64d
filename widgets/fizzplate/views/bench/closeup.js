// The close-up: both electrode faces at once in place of the vessel, one event at a time, large and slow. It goes on by a press, or by
// itself; the electrons of these events are counted on both sides, and what settles stays, on what the run has left there by now.

import { write } from "../kit/elements.js";
import { sideOf } from "./lesson/run_stages.js";
import { countText } from "../kit/say.js";
import { makeSvg } from "../kit/svg.js";
import { layerOf } from "../scene/deposit.js";
import { ownShade } from "../scene/liquid/liquid.js";
import { seededRandom } from "../scene/motion/random.js";
import { placeInTime } from "../scene/record.js";
import { closeUpSteps, stepWords } from "../scene/motion/steps.js";
import { particlesOf, WATER } from "../scene/particles.js";

const [WIDE, HIGH, FACE, RADIUS] = [300, 190, 62, 25];
const MAX_DRAWN = 4;
const SETTLED = { radius: 10, most: 16, high: 8 }; // atoms of earlier events: size, most that are drawn, in a column
const MOVE_MS = 900; // of what moves in a step
const STEP_MS = 2100; // from step to step, by itself
const MAX_PASSED = 24; // electrons that a row shows
const GRAIN = { seed: 5, apart: 6, radius: 4.5 }; // along the outside of a layer
const OTHER = { cathode: "anode", anode: "cathode" };
const WAYS = { cathode: "taken from the wire", anode: "given to the wire" };

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

/** Between two values. @param {number} from @param {number} to @param {number} part */
const between = (from, to, part) => from + (to - from) * part;
/** A part of a movement that begins and ends gently. @param {number} part @param {number} from @param {number} to */
function eased(part, from = 0, to = 1) {
  const share = Math.min(Math.max((part - from) / (to - from), 0), 1);
  return share * share * (3 - 2 * share);
}

/** What the run has left on the rod by now, or taken from it. @returns {number} where the face is then */
function drawRod(svg, box, header, layer) {
  const face = FACE * (1 + layer.thick);
  makeSvg("rect", { ...box(0, Math.min(face, FACE)), fill: `var(--fp-${header.material})`, stroke: "var(--fp-ink)" }, svg);
  if (layer.film > 0) makeSvg("rect", { ...box(0, Math.min(face, FACE)), fill: "var(--fp-film)", opacity: layer.film }, svg);
  if (!(layer.thick > 0)) return face;
  let from = FACE;
  for (const { tint, part } of layer.solids) {
    const to = from + part * (face - FACE);
    makeSvg("rect", { ...box(from, to), fill: `var(${tint})` }, svg);
    from = to;
  }
  const random = seededRandom(GRAIN.seed);
  const { x, width } = box(face, face + 1);
  const edge = x > FACE + 1 && x < WIDE / 2 ? x : x + width;
  const largest = Math.min(GRAIN.radius, face - FACE);
  let grains = "";
  for (let y = -HIGH; y < 2 * HIGH; y += GRAIN.apart) {
    const r = largest * (0.4 + 0.6 * random());
    grains += `M${edge - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
  }
  const outside = layer.solids.at(-1)?.tint;
  makeSvg("path", { d: grains, fill: `var(${outside})` }, svg);
  if (layer.loose > 0) makeSvg("rect", { ...box(face - layer.loose * (face - FACE), face), fill: "var(--fp-ion-ink)", opacity: 0.4 }, svg); // loose metal looks dark
  return face;
}

/** Atoms of the events shown before, on the face. */
function drawSettled(svg, at, face, product, number) {
  for (let k = 0; k < Math.min(number, SETTLED.most); k += 1) {
    const x = face + SETTLED.radius * (0.6 + 1.75 * Math.floor(k / SETTLED.high));
    const y = HIGH - SETTLED.radius * (1.2 + 2.1 * (k % SETTLED.high));
    outline(false, at(x), y, SETTLED.radius, { fill: `var(${product.tint})`, stroke: "var(--fp-ion-ink)", "stroke-width": 1.2 }, svg);
  }
}

/**
 * Draw one face. The electrode stands on its own side of the picture, the liquid on the other.
 * @param {number} part of the step's movement, 0 to 1 @param {number} settled events that left a solid here before
 */
function drawFace(svg, moment, product, { header, record, index, part, settled, timeS }) {
  svg.replaceChildren();
  const shade = ownShade(record, placeInTime(record, timeS), timeS)?.(index);
  svg.setAttribute("style", shade ? `background: linear-gradient(${shade}, ${shade}), var(--fp-liquid)` : "");
  const mirrored = index === 1;
  const at = (x) => (mirrored ? WIDE - x : x);
  const box = (from, to) => ({ x: mirrored ? WIDE - to : from, y: -HIGH, width: to - from, height: 3 * HIGH });
  const oxidation = header.role === "anode";
  const face = drawRod(svg, box, header, layerOf(record, index, timeS));
  if (product.kind === "solid") drawSettled(svg, at, face, product, settled);
  const known = particlesOf(record);
  const source = known.find((each) => each.formula === product.consumed.formula);
  if (moment.ions) drawSource(svg, at, face, source, product.consumed.count, moment, part);
  if (!source && !moment.formed) {
    const atom = { label: product.metal || "C", tint: `--fp-${header.material}`, charge: 0, atom: true };
    particle(atom, at(face - 6), HIGH / 2, svg);
  }
  for (let k = 0; k < moment.crossing; k += 1) {
    const y = HIGH / 2 + (k - (moment.crossing - 1) / 2) * 24;
    const [from, to] = oxidation ? [face + 20, face - 14] : [face - 26, face + 8];
    electron(at(between(from, to, eased(part, 0.4))), y, svg);
  }
  if (moment.formed) drawFormed(svg, at, face, product, known, part);
}

const BEFORE = 12 + RADIUS; // where an ion stands, from the face

function drawSource(svg, at, face, source, count, moment, part) {
  if (!source) return;
  const inner = face + BEFORE;
  const near = inner + 8;
  const arrives = moment.phase === "arrive" && !moment.waiting;
  const comes = moment.phase === "cross" && moment.crossed === moment.crossing; // to its first electrons
  const x = arrives ? between(WIDE - RADIUS - 8, inner + 70, eased(part)) : comes ? between(inner + 70, near, eased(part, 0, 0.4)) : near;
  for (const y of places(count)) particle(source, at(x), y, svg, count > 2 ? RADIUS * 0.8 : RADIUS);
}

function drawFormed(svg, at, face, product, known, part) {
  const inner = face + BEFORE;
  const made = { ...product, atom: product.kind === "solid" };
  const to = made.atom ? face + RADIUS - 4 : inner + 62;
  particle(made, at(between(inner + 8, to, eased(part))), HIGH / 2, svg, RADIUS * 1.15);
  const released = product.released.flatMap((each) => Array(each.count).fill(known.find((species) => species.formula === each.formula)));
  const heights = places(released.length);
  const x = between(inner + 8, WIDE - RADIUS - 8, eased(part));
  released.slice(0, MAX_DRAWN).forEach((species, k) => particle(species, at(x), heights[k], svg, RADIUS * 0.8));
}

const MARKUP = `
  <h2></h2>
  <div class="fp-faces"></div>
  <p class="fp-electron-count" aria-live="polite"></p>
  <div class="fp-close-up-controls"><button type="button" class="fp-button">Next step</button>
  <button type="button" class="fp-button fp-by-itself" aria-pressed="false">Play by itself</button></div>`;

class CloseUp {
  constructor(node, record, sides, timeS) {
    const products = sides.map(({ product }) => product);
    Object.assign(this, { node, record, products, timeS });
    this.possible = true;
    this.steps = closeUpSteps(products);
    this.now = 0; // steps since the close-up was made: they begin anew, what has passed and settled stays
    this.part = 1;
    this.beganMs = 0;
    this.frame = 0;
    this.isPlaying = false;
    this.still = matchMedia("(prefers-reduced-motion: reduce)");
    this.faces = sides.map(({ header, words }, index) => this.makeFace(header, index, words));
    [this.next, this.byItself] = node.querySelectorAll("button");
    this.dismiss = new AbortController();
    const { signal } = this.dismiss;
    this.next.addEventListener("click", () => this.step(), { signal });
    this.byItself.addEventListener("click", () => this.play(!this.isPlaying), { signal });
    this.show();
  }

  makeFace(header, index, words) {
    const figure = document.createElement("figure");
    figure.innerHTML = `<figcaption>${words.title} <span aria-hidden="true">${words.equation}</span></figcaption>
      <svg viewBox="0 0 ${WIDE} ${HIGH}" aria-hidden="true"></svg>
      <div class="fp-counted" aria-hidden="true"><strong></strong> <span>${WAYS[header.role] ?? ""}</span><div class="fp-passed"></div></div><p></p>`;
    const towards = index === 0 ? "xMinYMid" : "xMaxYMid"; // each electrode on its own side
    figure.querySelector("svg").setAttribute("preserveAspectRatio", `${towards} meet`);
    this.node.querySelector(".fp-faces").append(figure);
    return { svg: figure.querySelector("svg"), caption: figure.querySelector("p"), passed: figure.querySelector(".fp-passed"), count: figure.querySelector("strong"), header };
  }

  /** The step that is shown, and how many electrons have passed since the beginning. */
  get shown() {
    const { steps, now } = this;
    const step = steps[now % steps.length];
    return { step, passed: Math.floor(now / steps.length) * steps.at(-1).passed + step.passed };
  }

  /** How often something has formed at an electrode before this step. */
  formedBefore(index) {
    const { steps, now } = this;
    const formed = (list) => list.filter(({ sides }) => sides[index].formed).length;
    return Math.floor(now / steps.length) * formed(steps) + formed(steps.slice(0, now % steps.length));
  }

  step() {
    this.now += 1;
    this.beganMs = performance.now();
    this.show();
    this.wake();
  }

  play(isPlaying) {
    this.isPlaying = isPlaying;
    this.byItself.setAttribute("aria-pressed", String(isPlaying));
    this.beganMs = performance.now();
    this.wake();
  }

  wake() {
    if (!this.frame) this.frame = requestAnimationFrame((nowMs) => this.animate(nowMs));
  }

  animate(nowMs) {
    this.frame = 0;
    const agoMs = nowMs - this.beganMs;
    if (this.isPlaying && agoMs >= STEP_MS) this.step();
    else if (this.part < 1) this.draw(agoMs);
    if (this.isPlaying || this.part < 1) this.wake();
  }

  /** Draw the faces some time after the step began. */
  draw(agoMs) {
    this.part = this.still.matches ? 1 : Math.min(Math.max(agoMs / MOVE_MS, 0), 1);
    const { step } = this.shown;
    this.faces.forEach(({ svg, header }, index) => {
      const { record, part } = this;
      drawFace(svg, step.sides[index], this.products[index], { header, record, index, part, settled: this.formedBefore(index), timeS: this.timeS });
    });
  }

  show() {
    const { step, passed } = this.shown;
    this.draw(this.now ? 0 : MOVE_MS);
    this.faces.forEach(({ caption, header, passed: row, count }, index) => {
      const product = this.products[index];
      const label = particlesOf(this.record).find((each) => each.formula === product.consumed.formula)?.label ?? "";
      write(caption, stepWords(step.sides[index], product, label, header.role === "anode"));
      write(count, countText(passed, "electron"));
      row.replaceChildren(...Array.from({ length: Math.min(passed, MAX_PASSED) }, () => document.createElement("i")));
    });
    const all = step === this.steps.at(-1) ? " Both electrodes have finished together." : "";
    write(this.node.querySelector(".fp-electron-count"), `Counted in these events alone: ${countText(passed, "electron")} at each electrode.${all}`);
  }

  /** The run has gone on: what is on the electrodes is what it has left there. @param {number} timeS */
  update(timeS) {
    if (timeS === this.timeS) return;
    this.timeS = timeS;
    if (!this.node.hidden) this.drawAgain();
  }

  drawAgain() { this.draw(this.now ? performance.now() - this.beganMs : MOVE_MS); }

  toggle(open) {
    this.node.hidden = !open;
    if (!open) {
      this.play(false);
      return;
    }
    this.drawAgain();
    this.next.focus({ preventScroll: true });
    this.node.scrollIntoView({ block: "nearest" });
  }

  destroy() {
    cancelAnimationFrame(this.frame);
    this.dismiss.abort();
  }
}

/** What stands at either side of the cell now, and what mainly forms there. @param record of the run @param lesson of the run or of one of its stages */
function sidesOf(record, lesson) {
  return record.header.electrodes.map((header, side) => {
    const index = sideOf(lesson, side);
    const words = lesson.electrodes[index];
    const { products } = header;
    const product = words.main === undefined ? products[0] : products.find(({ formula }) => formula === words.main);
    const role = lesson.swapped ? OTHER[header.role] : header.role;
    return { header: { ...header, role }, words, product };
  });
}

/** @param node where it is shown @param record of the run @param lesson of the run or of one of its stages: it names what forms @param {number} timeS on the ruler @param {string} cell which of two it is of, or nothing */
export function mountCloseUp(node, record, lesson, timeS, cell = "") {
  const sides = sidesOf(record, lesson);
  const possible = lesson.on && sides.every(({ product }) => product?.electrons);
  node.hidden = true;
  node.innerHTML = MARKUP;
  write(node.querySelector("h2"), `Close-up${cell && ` of ${cell}`}: one event at a time`);
  if (!possible) return { possible, toggle() {}, update() {}, destroy() {} };
  return new CloseUp(node, record, sides, timeS);
}
