// A drawing of particles for a step that no run shows, each with its formula and the shape of its charge.

import { makeSvg } from "../kit/svg.js";

const STEP_PX = 84;
const RADIUS_PX = 26;

/**
 * A hexagon for a positive ion, a disc for a negative one, no outline for a molecule.
 * @param {number} charge @param {number} x @param {number} y
 */
function outline(charge, x, y) {
  if (charge === 0) return [];
  const look = { fill: "none", stroke: "currentColor", "stroke-width": 2 };
  if (charge < 0) return [makeSvg("circle", { cx: x, cy: y, r: RADIUS_PX, ...look })];
  const points = Array.from({ length: 6 }, (_, k) => {
    const angle = (Math.PI / 3) * k;
    return `${(x + RADIUS_PX * Math.cos(angle)).toFixed(1)},${(y + RADIUS_PX * Math.sin(angle)).toFixed(1)}`;
  });
  return [makeSvg("polygon", { points: points.join(" "), ...look })];
}

/** @param {{caption: string, species: {label: string, charge: number}[]}} step */
export function drawSpecies({ caption, species }) {
  const figure = document.createElement("figure");
  figure.className = "fp-particle-drawing";
  const width = STEP_PX * Math.max(species.length, 1);
  const names = species.map(({ label }) => label).join(", ");
  const svg = makeSvg("svg", { viewBox: `0 0 ${width} 64`, width, height: 64, role: "img", "aria-label": `Particles there: ${names}` });
  species.forEach(({ label, charge }, k) => {
    const [x, y] = [STEP_PX * (k + 0.5), 32];
    svg.append(...outline(charge, x, y), makeSvg("text", { x, y: y + 5, "text-anchor": "middle", fill: "currentColor", "font-size": 15 }, null, label));
  });
  const words = document.createElement("figcaption");
  words.textContent = caption;
  figure.append(svg, words);
  return figure;
}
