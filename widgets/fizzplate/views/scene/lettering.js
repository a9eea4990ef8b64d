// A formula as a label on a particle: its figures small below, its charge small above, both at the same place.

/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {{text: string, place: "line"|"below"|"above"}} Part */

const SMALL = 0.64; // of the type
export const LETTERS = 0.88; // size of the type on an ion, in its radii
const BESIDE = 0.2; // between the letters and the outline, in an ion's radii
const WIDEST = 1.48; // a shape against a round one
const WEIGHT = 600;
const CAP_HEIGHT = 0.715; // of the type, of most plain faces
const BELOW = "₀₁₂₃₄₅₆₇₈₉";
const ABOVE = { "⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁵": "5", "⁶": "6", "⁷": "7", "⁸": "8", "⁹": "9", "⁺": "+", "⁻": "−" };

/** @param {string} label as Python writes it @returns {Part[]} */
export function labelParts(label) {
  /** @type {Part[]} */
  const parts = [];
  for (const letter of label) {
    const above = ABOVE[/** @type {keyof typeof ABOVE} */ (letter)];
    const below = BELOW.indexOf(letter);
    const place = above ? "above" : below >= 0 ? "below" : "line";
    const text = above ?? (below >= 0 ? String(below) : letter);
    const last = parts.at(-1);
    if (last?.place === place) last.text += text;
    else parts.push({ text, place });
  }
  return parts;
}

/** Where each part begins, and how wide all are. @param {CanvasRenderingContext2D} pen @param {Part[]} parts @param {number} size @param {Theme} theme */
function setOut(pen, parts, size, theme) {
  let x = 0;
  let end = 0;
  let from = 0; // of the small figures before, above which a charge stands
  const starts = parts.map(({ text, place }, k) => {
    pen.font = `${WEIGHT} ${size * (place === "line" ? 1 : SMALL)}px ${theme.font}`;
    const start = place === "above" && parts[k - 1]?.place === "below" ? from : x;
    if (place === "below") from = x;
    x = Math.max(x, start + pen.measureText(text).width);
    end = Math.max(end, x);
    return start;
  });
  return { starts, end };
}

const EM = { capital: 0.82, small: 0.66, narrow: 0.4, sign: 0.84, figure: 0.68, other: 0.45 }; // rough widths in bold type

/** About how wide a label is in any face, at one pixel of type. @param {string} label */
export function roughWidth(label) {
  let [all, below] = [0, 0]; // below: of small figures over which a charge stands
  for (const { text, place } of labelParts(label)) {
    const wide = [...text].reduce((sum, letter) => sum + EM[kindOf(letter)], 0) * (place === "line" ? 1 : SMALL);
    all += place === "above" ? Math.max(0, wide - below) : wide;
    below = place === "below" ? wide : 0;
  }
  return all;
}

/** @param {string} letter @returns {keyof typeof EM} */
const kindOf = (letter) => (/[A-Z]/.test(letter) ? "capital" : /[il]/.test(letter) ? "narrow" : /[a-z]/.test(letter) ? "small" : /[+−]/.test(letter) ? "sign" : /\d/.test(letter) ? "figure" : "other");

/** How wide a label is, at one pixel of type. @param {CanvasRenderingContext2D} pen @param {Part[]} parts @param {Theme} theme */
export const measureLabel = (pen, parts, theme) => setOut(pen, parts, 100, theme).end / 100;

/**
 * Write a label about the middle of a particle.
 * @param {CanvasRenderingContext2D} pen @param {Part[]} parts @param {number} size of the type @param {Theme} theme @param {string} ink
 * @param {string} [halo] colour round the letters
 */
export function writeLabel(pen, parts, size, theme, ink, halo = "") {
  const { starts, end } = setOut(pen, parts, size, theme);
  pen.textAlign = "left";
  pen.textBaseline = "alphabetic";
  const line = (CAP_HEIGHT / 2) * size;
  for (const isHalo of halo ? [true, false] : [false]) {
    parts.forEach(({ text, place }, k) => {
      pen.font = `${WEIGHT} ${size * (place === "line" ? 1 : SMALL)}px ${theme.font}`;
      const y = line + (place === "below" ? 0.2 : place === "above" ? -0.4 : 0) * size;
      if (isHalo) {
        pen.strokeStyle = halo;
        pen.lineJoin = "round";
        pen.lineWidth = size * 0.28;
        pen.strokeText(text, starts[k] - end / 2, y);
      } else {
        pen.fillStyle = ink;
        pen.fillText(text, starts[k] - end / 2, y);
      }
    });
  }
}

/** How wide the shape round a label is, in its height. @param {string} label */
export const shapeWidth = (label) => Math.min(Math.max((roughWidth(label) * LETTERS) / 2 + BESIDE, 1), WIDEST);

/** The size of type that fits into a shape. @param {number} long the label's width at one pixel of type @param {number} wide of the shape @param {number} radius */
export const fittingType = (long, wide, radius) => Math.min(LETTERS, ((wide - 0.7 * BESIDE) * 2) / long) * radius;
