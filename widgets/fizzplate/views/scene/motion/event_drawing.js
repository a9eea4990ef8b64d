// An event at an electrode as it is drawn: ions arrive, electrons hop, and the product forms or leaves.

import { ARRIVAL_S, EXCHANGE_S, releasedReach, releasedSpacing } from "./events.js";
import { stackOf } from "./faces.js";
import { COLOURED } from "./bubbles.js";
import { clamp } from "../vessels/vessel.js";
import { materialColour } from "../theme.js";

/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./events.js").DischargeEvent} DischargeEvent */
/** @typedef {ReturnType<typeof import("../glyphs.js").makeGlyphs>} Glyphs */
/** @typedef {import("../theme.js").Theme} Theme */

const TWO_ATOMS = ["H2", "O2", "Cl2", "Br2"];
const LEAVING = 1.6; // in an ion's radii from its product: where what leaves the electrode begins
const PAIRED = 0.35; // of a product's time: by then its atoms have paired
const PALE = 0.42; // of what water gives, until it matters
const ELECTRON = 0.3; // of an ion's radius
const IN_A_LIMB = 0.85; // a molecule is wider than an ion: beside a rod in a limb it is drawn smaller
const ATOM = 0.62;
const GROWN = 0.25; // by which a molecule's bubble becomes larger than it: it stays clear of glass
const LEAVES = 1.6; // in an ion's radii: how far what dissolves goes from its electrode

/**
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent[]} events @param {Glyphs} glyphs @param {Layout} layout @param {Theme} theme
 */
export function drawEvents(pen, events, glyphs, layout, theme) {
  for (const event of events) {
    if (event.age < EXCHANGE_S) drawArrival(pen, event, layout, glyphs, theme);
    else drawProduct(pen, event, layout, glyphs, theme);
    if (event.age >= ARRIVAL_S - 0.1 && event.age < EXCHANGE_S + 0.1) drawExchange(pen, event, layout, theme);
  }
}

/** Ions come to the face, or an atom of the electrode stands there. @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {Layout} layout @param {Glyphs} glyphs @param {Theme} theme */
function drawArrival(pen, event, layout, glyphs, theme) {
  const near = clamp(event.age / ARRIVAL_S, 0, 1);
  const eased = near * near * (3 - 2 * near);
  if (!event.ions.length) drawAtom(pen, event.faceX, event.y, ATOM * layout.ionRadius, theme.colour(materialColour(event.material)), theme);
  for (const ion of event.ions) {
    if (event.fromWater) pen.globalAlpha = PALE + (1 - PALE) * eased; // water's own come forward
    glyphs.draw(pen, ion.formula, ion.fromX + (ion.x - ion.fromX) * eased, ion.fromY + (ion.y - ion.fromY) * eased, stackOf(layout, event.ions.length).scale);
    pen.globalAlpha = 1;
  }
}

/** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} r @param {string} fill @param {Theme} theme */
function drawAtom(pen, x, y, r, fill, theme) {
  pen.beginPath();
  pen.arc(x, y, r, 0, 2 * Math.PI);
  pen.fillStyle = fill;
  pen.fill();
  pen.lineWidth = 1.2;
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.stroke();
}

/**
 * Electrons hop from the electrode to the ion, or from the ion to the electrode.
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {Layout} layout @param {Theme} theme
 */
function drawExchange(pen, event, layout, theme) {
  const r = layout.ionRadius;
  const part = clamp((event.age - ARRIVAL_S) / (EXCHANGE_S - ARRIVAL_S), 0, 1);
  const hop = event.oxidation ? 1 - part : part;
  const out = Math.sign(event.x - event.faceX);
  const inside = event.faceX - out * r * 0.72;
  const outside = event.faceX + out * r * 0.12; // at the ion's edge, beside its label
  const apart = r * (event.electrons > 2 ? 0.95 : 0.75);
  const half = ((event.electrons - 1) / 2) * apart;
  const { y: top, height } = layout.electrodes[event.side];
  const middle = Math.min(event.y, top + height - ELECTRON * r - half); // none hops beside the end of a short rod
  for (let k = 0; k < event.electrons; k += 1) {
    const y = middle - half + k * apart;
    drawElectron(pen, inside + (outside - inside) * hop, y, r * ELECTRON, theme);
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} r
 * @param {Theme} theme
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
 * @param {number} r @param {Theme} theme
 */
function drawPairing(pen, event, part, r, theme) {
  pen.fillStyle = theme.colour(COLOURED[event.product] ? event.tint : "--fp-bubble");
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.lineWidth = 1.3;
  for (const side of [-1, 1]) {
    pen.beginPath();
    // apart they stand where their ions stood, in the end as the molecule is drawn
    pen.arc(event.x + side * part * r * 0.56, event.y + side * (1 - part) * r * 0.95, r * 0.66, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
}

/** @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {Layout} layout @param {Glyphs} glyphs @param {Theme} theme */
function drawProduct(pen, event, layout, glyphs, theme) {
  const part = clamp((event.age - EXCHANGE_S) / (event.endAge - EXCHANGE_S), 0, 1);
  const r = layout.ionRadius;
  const out = Math.sign(event.x - event.faceX) || 1;
  const size = layout.level ? 1 : IN_A_LIMB;
  pen.globalAlpha = part < 0.75 ? 1 : (1 - part) / 0.25;
  if (event.kind === "solid") {
    const settled = clamp(part / 0.5, 0, 1);
    drawAtom(pen, event.x + (event.faceX + out * ATOM * 0.8 * r - event.x) * settled, event.y, r * ATOM, theme.colour(event.tint), theme);
  } else if (event.kind === "gas" && part < PAIRED && TWO_ATOMS.includes(event.product)) {
    drawPairing(pen, event, part / PAIRED, r, theme);
  } else if (event.kind === "gas") {
    const risen = Math.max(part - PAIRED, 0) / (1 - PAIRED);
    const rise = Math.min(risen * risen * r * 2, Math.max(event.y - layout.liquidTop - r, 0));
    drawGrowingBubble(pen, event, { y: event.y - rise, r: r * size * (1 + GROWN * risen), part: risen }, theme);
    glyphs.draw(pen, event.product, event.x, event.y - rise, 0.95 * size);
  } else {
    glyphs.draw(pen, event.product, event.x + out * part * r * roomBefore(layout, event, out), event.y, size);
  }
  drawReleased(pen, event, out, part, layout, glyphs);
  pen.globalAlpha = 1;
}

/** How far (in an ion's radii) a product can go before there is glass. @param {Layout} layout @param {DischargeEvent} event @param {number} out */
function roomBefore(layout, { x, y }, out) {
  const r = layout.ionRadius;
  return [LEAVES, 0.75 * LEAVES, 0.5 * LEAVES, 0.25 * LEAVES].find((far) => layout.inside(x + out * far * r, y)) ?? 0;
}

/** A molecule of a gas is soon in a bubble. @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {{y: number, r: number, part: number}} bubble part: 0 to 1 @param {Theme} theme */
function drawGrowingBubble(pen, { x, product, tint }, { y, r, part }, theme) {
  if (part <= 0) return;
  const before = pen.globalAlpha;
  pen.globalAlpha = before * part * 0.8;
  pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.lineWidth = 1.1;
  pen.beginPath();
  pen.arc(x, y, r, 0, 2 * Math.PI);
  pen.fillStyle = theme.colour("--fp-bubble");
  pen.fill();
  if (COLOURED[product]) {
    pen.globalAlpha *= COLOURED[product];
    pen.fillStyle = theme.colour(tint);
    pen.fill();
  }
  pen.globalAlpha = before * part * 0.8;
  pen.stroke();
  pen.globalAlpha = before;
}

/**
 * What is left over leaves the electrode for the liquid, above one another as the ions came.
 * @param {CanvasRenderingContext2D} pen @param {DischargeEvent} event @param {number} out @param {number} part 0 to 1
 * @param {Layout} layout @param {Glyphs} glyphs
 */
function drawReleased(pen, event, out, part, layout, glyphs) {
  const { released } = event;
  const r = layout.ionRadius;
  const x = event.x + out * r * (LEAVING + (releasedReach(layout) - LEAVING) * part);
  const middle = (released.length - 1) / 2;
  const apart = releasedSpacing(layout, released.length) * r;
  released.forEach((formula, k) => {
    glyphs.draw(pen, formula, x, event.y + (k - middle) * apart, stackOf(layout, released.length).scale);
  });
}
