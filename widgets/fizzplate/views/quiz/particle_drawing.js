// A drawn step where no run shows it: which particles there are, each with its formula and the shape of its sign.

const SVG = "http://www.w3.org/2000/svg";
const STEP_PX = 84;
const RADIUS_PX = 26;

/** @param {string} name @param {Record<string, string|number>} attributes @param {string} [text] */
function shape(name, attributes, text = "") {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, String(value));
  if (text) node.textContent = text;
  return node;
}

/**
 * A hexagon for a positive ion, a disc for a negative one, no outline for a molecule.
 * @param {number} charge @param {number} x @param {number} y
 */
function outline(charge, x, y) {
  if (charge === 0) return [];
  const look = { fill: "none", stroke: "currentColor", "stroke-width": 2 };
  if (charge < 0) return [shape("circle", { cx: x, cy: y, r: RADIUS_PX, ...look })];
  const points = Array.from({ length: 6 }, (_, k) => {
    const angle = (Math.PI / 3) * k;
    return `${(x + RADIUS_PX * Math.cos(angle)).toFixed(1)},${(y + RADIUS_PX * Math.sin(angle)).toFixed(1)}`;
  });
  return [shape("polygon", { points: points.join(" "), ...look })];
}

/** @param {{caption: string, species: {label: string, charge: number}[]}} step */
export function drawSpecies({ caption, species }) {
  const figure = document.createElement("figure");
  figure.className = "fp-particle-drawing";
  const width = STEP_PX * Math.max(species.length, 1);
  const names = species.map(({ label }) => label).join(", ");
  const svg = shape("svg", { viewBox: `0 0 ${width} 64`, width, height: 64, role: "img", "aria-label": `Particles there: ${names}` });
  species.forEach(({ label, charge }, k) => {
    const [x, y] = [STEP_PX * (k + 0.5), 32];
    svg.append(...outline(charge, x, y), shape("text", { x, y: y + 5, "text-anchor": "middle", fill: "currentColor", "font-size": 15 }, label));
  });
  const words = document.createElement("figcaption");
  words.textContent = caption;
  figure.append(svg, words);
  return figure;
}
