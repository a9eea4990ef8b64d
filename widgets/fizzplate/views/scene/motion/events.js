// What happens at the electrodes: ions or molecules of water arrive and react, atoms settle, molecules form.
// One event makes one atom or molecule; every event stands for the same amount made, so the events
// of all products come in the exact proportions of the run. Which are seen, and where, follows from the
// run and the time alone.

import { SHOW_S, defaultTimeLapse } from "./clock.js";
import { roundFigure } from "./scale.js";
import { streamOf } from "./random.js";
import { sampleAt, timesOfPassing } from "../record.js";
import { clamp } from "../vessels/vessel.js";

/** @typedef {import("../record.js").RunRecord} RunRecord */
/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number}} Arriving */
/** @typedef {{side: number, product: string, kind: string, tint: string, electrons: number, oxidation: boolean, x: number, y: number, age: number, ions: Arriving[], released: string[]}} DischargeEvent released: formulae of what leaves the electrode beside the product */

/** @typedef {{name: string, formula: string, x: number, y: number, inRunS: number}} Called */

const EVENT_SEED = 53;
const EVENTS_PER_S = 1.1; // at the busier electrode, while the run plays at its usual speed
const EVENT_S = 2.0;
const CALL_S = 0.6; // before an event its ions are on their way
const TWO_ATOMS = ["H2", "O2", "Cl2"];
const PAIRED = 0.35; // of a product's time: by then its atoms have paired
export const ARRIVAL_S = 0.6;
export const EXCHANGE_S = 1.0;

/** Amount (mol) that one drawn atom or molecule stands for. @param {RunRecord} record */
export function amountOfOneEvent(record) {
  if (record.header.idle) return 0; // almost nothing happens
  let most = 0;
  record.header.electrodes.forEach((electrode, side) => {
    let made = 0;
    for (const { formula } of electrode.products) {
      made += last(record.electrode(side).amountMol(formula));
    }
    most = Math.max(most, made);
  });
  return roundFigure(most / (EVENTS_PER_S * SHOW_S));
}

/** @param {Float32Array} values */
const last = (values) => values[values.length - 1] ?? 0;

/** A place in the liquid before a face. @param {Layout} layout @param {number} x @param {number} y @param {number} out */
function approach(layout, x, y, out) {
  const r = layout.ionRadius;
  for (const steps of [3.6, 2.4, 1.3]) {
    const fromX = x + out * r * steps;
    if (layout.inside(fromX, y)) return { fromX, fromY: y };
  }
  return { fromX: x + out * r * 1.15, fromY: y };
}

/** Where on a rod an event takes place, and which way is out of it. @param {Layout} layout @param {number} side @param {() => number} random */
function placeOnFace(layout, side, random) {
  const r = layout.ionRadius;
  const rod = layout.electrodes[side];
  const isRight = (side === 0) === random() < layout.innerShare;
  const [faceX, out] = isRight ? [rod.x + rod.width, 1] : [rod.x, -1];
  // room for four ions above one another
  const low = layout.liquidTop + 2 * r;
  const y = low + random() * Math.max(rod.y + rod.height - low - 2 * r, 1);
  return { faceX, out, x: faceX + out * r * 1.15, y };
}

/**
 * @param {RunRecord} record @param {Layout} layout @param {number} side
 * @param {import("../record.js").Product} product @param {number} startS @param {() => number} random
 */
function arrange(record, layout, side, product, startS, random) {
  const { faceX, out, x, y } = placeOnFace(layout, side, random);
  const { formula, count } = product.consumed;
  const spacing = layout.ionRadius * (count > 2 ? 1.15 : 1.6); // four find room, two can be read
  const ions = Array.from({ length: count }, (_, k) => {
    const ionY = y + (k - (count - 1) / 2) * spacing;
    return { formula, ...approach(layout, faceX, ionY, out), x, y: ionY };
  });
  return {
    startS,
    side,
    product: product.formula,
    kind: product.kind,
    tint: product.tint,
    electrons: product.electrons,
    oxidation: (side === 1) !== sampleAt(record.swapped, record, startS) > 0.5,
    x,
    y,
    ions,
    released: product.released.flatMap((each) => Array(each.count).fill(each.formula)),
  };
}

/** Every event of a run. @param {RunRecord} record @param {Layout} layout @param {number} oneMol amount of one event */
function arrangeAll(record, layout, oneMol) {
  return record.header.electrodes.flatMap((electrode, side) =>
    electrode.products.flatMap((product, which) =>
      timesOfPassing(record.electrode(side).amountMol(product.formula), record, oneMol).map((startS, number) =>
        arrange(record, layout, side, product, startS, streamOf(EVENT_SEED + 2 * which + side, number)),
      ),
    ),
  );
}

/** @param {RunRecord} record @param {Layout} layout */
export function makeEvents(record, layout) {
  const oneMol = amountOfOneEvent(record);
  const paceS = defaultTimeLapse(record.timeS[record.timeS.length - 1]); // of the run, in a second of the picture
  const all = arrangeAll(record, layout, oneMol);
  return {
    oneMol,
    /** Those that can be seen at a time. @param {number} timeS @returns {DischargeEvent[]} */
    at: (timeS) =>
      all
        .filter(({ startS }) => startS <= timeS && timeS <= startS + EVENT_S * paceS)
        .map((event) => ({ ...event, age: (timeS - event.startS) / paceS })),
    /**
     * Ions that are soon to be discharged: where they are to be, and how soon.
     * @param {number} timeS @returns {Called[]}
     */
    calls(timeS) {
      /** @type {Called[]} */
      const found = [];
      all.forEach(({ startS, ions }, number) => {
        if (startS <= timeS || startS > timeS + CALL_S * paceS) return;
        ions.forEach(({ formula, fromX, fromY }, k) => {
          // the crowd shows pH with the ions of water, and water is no part of it
          if (formula === "H+" || formula === "OH-" || formula === "H2O") return;
          found.push({ name: `${number}.${k}`, formula, x: fromX, y: fromY, inRunS: startS - timeS });
        });
      });
      return found;
    },
  };
}

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
