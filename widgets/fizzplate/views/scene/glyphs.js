// How a particle looks: cations are hexagons, anions discs, molecules joined discs, water bent; a double
// outline is a double charge. A label too long for its shape widens it. Each look is drawn once and then copied.

import { fittingType, labelParts, LETTERS, measureLabel, shapeWidth, writeLabel } from "./lettering.js";

/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {import("./record.js").Species} Species */

const OUTLINE = 0.055; // of the radius
const FINER = 1.5; // dots of a picture for each of the screen: it stands anywhere between them
const SHOULDER = 0.42; // of the radius: how far a hexagon's points stand out, beside the letters
const ROOM = 1.75; // of the radius, to every side of a picture

/** @param {CanvasRenderingContext2D} pen @param {number} wide half its width @param {number} radius half its height, nearly */
function hexagon(pen, wide, radius) {
  const [high, shoulder] = [radius * Math.sin(Math.PI / 3), wide - SHOULDER * radius];
  pen.beginPath();
  for (const [x, y] of [[wide, 0], [shoulder, high], [-shoulder, high], [-wide, 0], [-shoulder, -high], [shoulder, -high]]) pen.lineTo(x, y);
  pen.closePath();
}

/** @param {CanvasRenderingContext2D} pen @param {number} wide @param {number} radius */
function disc(pen, wide, radius) {
  pen.beginPath();
  if (wide > radius) pen.ellipse(0, 0, wide, radius, 0, 0, 2 * Math.PI);
  else pen.arc(0, 0, radius, 0, 2 * Math.PI);
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} radius @param {string} fill
 * @param {string} outline
 */
export function drawMolecule(pen, radius, fill, outline) {
  pen.fillStyle = fill;
  pen.strokeStyle = outline;
  pen.lineWidth = radius * OUTLINE * 1.3;
  for (const side of [-1, 1]) {
    pen.beginPath();
    pen.arc(side * radius * 0.72, 0, radius * 0.85, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} radius @param {string} fill
 * @param {string} outline
 */
function drawWater(pen, radius, fill, outline) {
  pen.fillStyle = fill;
  pen.strokeStyle = outline;
  pen.lineWidth = radius * OUTLINE;
  const bend = (104.5 / 2) * (Math.PI / 180); // half the molecule's angle
  for (const side of [-1, 1]) {
    pen.beginPath();
    pen.arc(side * radius * 0.9 * Math.sin(bend), radius * 0.9 * Math.cos(bend), radius * 0.42, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
  disc(pen, radius * 0.82, radius * 0.82);
  pen.fill();
  pen.stroke();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {Species} species @param {number} radius
 * @param {Theme} theme
 */
function drawParticle(pen, species, radius, theme) {
  const ink = theme.colour("--fp-ion-ink");
  const fill = theme.colour(species.tint);
  const parts = labelParts(species.label);
  const long = measureLabel(pen, parts, theme);
  if (species.formula === "H2O") {
    drawWater(pen, radius, fill, ink);
    writeLabel(pen, parts, Math.min(LETTERS, 1.5 / long) * radius, theme, ink);
    return;
  }
  if (species.charge === 0) {
    drawMolecule(pen, radius * 0.78, fill, ink);
    const size = Math.min(LETTERS, 2.1 / long) * radius;
    writeLabel(pen, parts, size, theme, ink, fill); // the seam of a molecule does not run through its letters
    return;
  }
  const share = shapeWidth(species.label);
  const wide = share * radius;
  const outline = species.charge > 0 ? hexagon : disc;
  pen.lineWidth = radius * OUTLINE;
  pen.lineJoin = "round";
  pen.strokeStyle = ink;
  pen.fillStyle = fill;
  outline(pen, wide, radius);
  pen.fill();
  pen.stroke();
  if (Math.abs(species.charge) > 1) {
    const inset = radius * 0.11;
    outline(pen, wide - inset * (species.charge > 0 ? 1.15 : 1), radius - inset);
    pen.lineWidth = radius * OUTLINE * 0.6;
    pen.stroke();
  }
  writeLabel(pen, parts, fittingType(long, share, radius), theme, ink);
}

const PALE = { body: 0.3, letters: 0.5 }; // opacity of a pale ion, and of its letters besides

/** A picture seen through. @param {HTMLCanvasElement} picture */
function paler(picture) {
  const pale = document.createElement("canvas");
  [pale.width, pale.height] = [picture.width, picture.height];
  const pen = /** @type {CanvasRenderingContext2D} */ (pale.getContext("2d"));
  pen.globalAlpha = PALE.body;
  pen.drawImage(picture, 0, 0);
  // the letters, and the outline, once more: darker than the body
  pen.globalCompositeOperation = "multiply";
  pen.globalAlpha = PALE.letters;
  pen.drawImage(picture, 0, 0);
  return pale;
}

/**
 * Pictures of all species at one size and screen density.
 * @param {Species[]} allSpecies @param {number} radius @param {number} density @param {Theme} theme
 */
export function makeGlyphs(allSpecies, radius, density, theme) {
  const sharp = density * FINER;
  const half = Math.ceil((radius * ROOM + 2) * sharp);
  /** @type {Map<string, HTMLCanvasElement>} */
  const pictures = new Map();
  for (const species of allSpecies) {
    const picture = document.createElement("canvas");
    picture.width = picture.height = 2 * half;
    const pen = /** @type {CanvasRenderingContext2D} */ (picture.getContext("2d"));
    pen.translate(half, half);
    pen.scale(sharp, sharp);
    drawParticle(pen, species, radius, theme);
    pictures.set(species.formula, picture);
    if (species.formula === "H+" || species.formula === "OH-") pictures.set(paleOf(species.formula), paler(picture));
  }
  const size = (2 * half) / sharp;
  return {
    /**
     * @param {CanvasRenderingContext2D} pen @param {string} formula @param {number} x
     * @param {number} y @param {number} [scale]
     */
    draw(pen, formula, x, y, scale = 1) {
      const picture = pictures.get(formula);
      if (!picture) return;
      const side = size * scale;
      pen.drawImage(picture, x - side / 2, y - side / 2, side, side);
    },
  };
}

/** The name of an ion's pale look. @param {string} formula */
export const paleOf = (formula) => `pale ${formula}`;
