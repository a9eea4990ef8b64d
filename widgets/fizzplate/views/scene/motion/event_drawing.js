// An event at an electrode as it is drawn: ions arrive, electrons hop, and the product forms or leaves.

import { EVENT_S } from "./events.js";
import { clamp } from "../vessels/vessel.js";

/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./events.js").DischargeEvent} DischargeEvent */

const TWO_ATOMS = ["H2", "O2", "Cl2"];
const PAIRED = 0.35; // of a product's time: by then its atoms have paired
const ARRIVAL_S = 0.6;
export const EXCHANGE_S = 1.0;

/**
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent[]} events
 * @param {ReturnType<typeof import("../glyphs.js").makeGlyphs>} glyphs @param {Layout} layout
 * @param {import("../theme.js").Theme} theme @param {(formula: string) => string} molecule
 */
export function drawEvents(pen, events, glyphs, layout, theme, molecule) {
  const r = layout.ionRadius;
  for (const event of events) {
    const rod = layout.electrodes[event.side];
    const surfaceX = event.x > rod.x + rod.width / 2 ? rod.x + rod.width : rod.x;
    if (event.age < EXCHANGE_S) {
      const near = clamp(event.age / ARRIVAL_S, 0, 1);
      const eased = near * near * (3 - 2 * near);
      for (const ion of event.ions) {
        const x = ion.fromX + (ion.x - ion.fromX) * eased;
        const y = ion.fromY + (ion.y - ion.fromY) * eased;
        glyphs.draw(pen, ion.formula, x, y);
      }
    }
    if (event.age >= ARRIVAL_S - 0.1 && event.age < EXCHANGE_S + 0.1) {
      drawExchange(pen, event, surfaceX, r, theme);
    }
    if (event.age >= EXCHANGE_S) drawProduct(pen, event, surfaceX, layout, glyphs, theme, molecule);
  }
}

/**
 * Electrons hop from the electrode to the ion, or from the ion to the electrode.
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {number} surfaceX
 * @param {number} r @param {import("../theme.js").Theme} theme
 */
function drawExchange(pen, event, surfaceX, r, theme) {
  const part = clamp((event.age - ARRIVAL_S) / (EXCHANGE_S - ARRIVAL_S), 0, 1);
  const hop = event.oxidation ? 1 - part : part;
  for (let k = 0; k < event.electrons; k += 1) {
    const y = event.y + (k - (event.electrons - 1) / 2) * r * 0.7;
    const inside = surfaceX + Math.sign(surfaceX - event.x) * r * 0.5;
    drawElectron(pen, inside + (event.x - inside) * hop, y, r * 0.36, theme);
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} r
 * @param {import("../theme.js").Theme} theme
 */
export function drawElectron(pen, x, y, r, theme) {
  pen.beginPath();
  pen.arc(x, y, r, 0, 2 * Math.PI);
  pen.fillStyle = theme.colour("--fp-panel");
  pen.fill();
  pen.lineWidth = 1.4;
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.stroke();
  pen.beginPath();
  pen.moveTo(x - r * 0.5, y);
  pen.lineTo(x + r * 0.5, y);
  pen.stroke();
}

/**
 * Two atoms come together and make a molecule.
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {number} part 0 to 1
 * @param {number} r @param {import("../theme.js").Theme} theme
 */
function drawPairing(pen, event, part, r, theme) {
  pen.fillStyle = theme.colour(event.product === "Cl2" ? event.tint : "--fp-bubble");
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.lineWidth = 1.3;
  for (const side of [-1, 1]) {
    pen.beginPath();
    // apart they stand where their ions stood, in the end as the molecule is drawn
    pen.arc(event.x + side * part * r * 0.5, event.y + side * (1 - part) * r * 0.8, r * 0.58, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {number} surfaceX
 * @param {Layout} layout @param {ReturnType<typeof import("../glyphs.js").makeGlyphs>} glyphs
 * @param {import("../theme.js").Theme} theme @param {(formula: string) => string} molecule
 */
function drawProduct(pen, event, surfaceX, layout, glyphs, theme, molecule) {
  const part = clamp((event.age - EXCHANGE_S) / (EVENT_S - EXCHANGE_S), 0, 1);
  const r = layout.ionRadius;
  pen.globalAlpha = part < 0.7 ? 1 : (1 - part) / 0.3;
  if (event.kind === "solid") {
    pen.beginPath();
    pen.arc(event.x + (surfaceX - event.x) * part, event.y, r * 0.62, 0, 2 * Math.PI);
    pen.fillStyle = theme.colour(event.tint);
    pen.fill();
    pen.lineWidth = 1.2;
    pen.strokeStyle = theme.colour("--fp-ion-ink");
    pen.stroke();
  } else if (event.kind === "gas" && part < PAIRED && TWO_ATOMS.includes(event.product)) {
    drawPairing(pen, event, part / PAIRED, r, theme);
  } else if (event.kind === "gas") {
    const risen = Math.max(part - PAIRED, 0) / (1 - PAIRED);
    const rise = Math.min(risen * risen * r * 3.2, Math.max(event.y - layout.liquidTop - r, 0));
    pen.save();
    pen.translate(event.x, event.y - rise);
    glyphs.draw(pen, molecule(event.product), 0, 0, 0.95);
    pen.restore();
  } else {
    const out = Math.sign(event.x - surfaceX) || 1;
    glyphs.draw(pen, event.product, event.x + out * part * r * 2.4, event.y);
  }
  drawReleased(pen, event, surfaceX, part, r, glyphs);
  pen.globalAlpha = 1;
}

/**
 * What is left over leaves the electrode for the liquid, above one another as the ions came.
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {number} surfaceX @param {number} part 0 to 1
 * @param {number} r @param {ReturnType<typeof import("../glyphs.js").makeGlyphs>} glyphs
 */
function drawReleased(pen, event, surfaceX, part, r, glyphs) {
  const out = Math.sign(event.x - surfaceX) || 1;
  const middle = (event.released.length - 1) / 2;
  event.released.forEach((formula, k) => {
    glyphs.draw(pen, formula, event.x + out * r * (1.4 + 2 * part), event.y + (k - middle) * r * 1.7);
  });
}
