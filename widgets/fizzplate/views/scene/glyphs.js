// How a particle looks: cations are hexagons, anions discs, molecules joined discs, water bent; a double
// outline is a double charge. Each look is drawn once and then copied.

/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {import("./record.js").Species} Species */

const OUTLINE = 1.3;

/** @param {CanvasRenderingContext2D} pen @param {number} radius */
function hexagon(pen, radius) {
  pen.beginPath();
  for (let corner = 0; corner < 6; corner += 1) {
    const angle = (Math.PI / 3) * corner;
    pen.lineTo(radius * Math.cos(angle), radius * Math.sin(angle));
  }
  pen.closePath();
}

/** @param {CanvasRenderingContext2D} pen @param {number} radius */
function disc(pen, radius) {
  pen.beginPath();
  pen.arc(0, 0, radius, 0, 2 * Math.PI);
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} radius @param {string} fill
 * @param {string} outline
 */
export function drawMolecule(pen, radius, fill, outline) {
  pen.fillStyle = fill;
  pen.strokeStyle = outline;
  pen.lineWidth = OUTLINE;
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
  pen.lineWidth = 0.9;
  const bend = (104.5 / 2) * (Math.PI / 180); // half the molecule's angle
  for (const side of [-1, 1]) {
    pen.beginPath();
    pen.arc(side * radius * 0.9 * Math.sin(bend), radius * 0.9 * Math.cos(bend), radius * 0.42, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
  disc(pen, radius * 0.82);
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
  if (species.formula === "H2O") drawWater(pen, radius, fill, ink);
  else if (species.charge === 0) {
    drawMolecule(pen, radius * 0.72, fill, ink);
  } else {
    const outline = species.charge > 0 ? hexagon : disc;
    pen.lineWidth = OUTLINE;
    pen.strokeStyle = ink;
    pen.fillStyle = fill;
    outline(pen, radius);
    pen.fill();
    pen.stroke();
    if (Math.abs(species.charge) > 1) {
      outline(pen, radius - 3);
      pen.lineWidth = 0.9;
      pen.stroke();
    }
  }
  const size = radius * (species.label.length > 4 ? 0.62 : species.label.length > 3 ? 0.78 : 0.9);
  pen.fillStyle = ink;
  pen.font = `600 ${size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillText(species.label, 0, radius * 0.06);
}

/**
 * Pictures of all species at one size and screen density.
 * @param {Species[]} allSpecies @param {number} radius @param {number} density @param {Theme} theme
 */
export function makeGlyphs(allSpecies, radius, density, theme) {
  const half = Math.ceil((radius * 1.5 + 2) * density);
  /** @type {Map<string, HTMLCanvasElement>} */
  const pictures = new Map();
  for (const species of allSpecies) {
    const picture = document.createElement("canvas");
    picture.width = picture.height = 2 * half;
    const pen = /** @type {CanvasRenderingContext2D} */ (picture.getContext("2d"));
    pen.translate(half, half);
    pen.scale(density, density);
    drawParticle(pen, species, radius, theme);
    pictures.set(species.formula, picture);
  }
  const size = (2 * half) / density;
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
