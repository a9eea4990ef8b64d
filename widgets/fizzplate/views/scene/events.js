// What happens at the electrodes: ions arrive and are discharged, atoms settle, molecules form.
// One event makes one atom or molecule; every event stands for the same amount made, so the events
// of all products come in the exact proportions of the run.

import { SHOW_S } from "./clock.js";
import { roundFigure } from "./ions.js";
import { sampleAt } from "./record.js";
import { clamp } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessel.js").Layout} Layout */
/** @typedef {{formula: string, x: number, y: number, fromX: number, fromY: number}} Arriving */
/** @typedef {{side: number, product: string, kind: string, tint: string, electrons: number, oxidation: boolean, x: number, y: number, age: number, ions: Arriving[]}} DischargeEvent */

const EVENTS_A_SECOND = 1.1; // at the busier electrode, while the run plays at its usual speed
const LASTS_S = 2.0;
const TWO_ATOMS = ["H2", "O2", "Cl2"];
const PAIRED = 0.35; // of a product's time: by then its atoms have paired
export const ARRIVAL_S = 0.6;
export const EXCHANGE_S = 1.0;

/** Amount (mol) that one drawn atom or molecule stands for. @param {RunRecord} record */
export function amountOfOneEvent(record) {
  if (record.header.idle) return 0; // nothing to speak of happens
  let most = 0;
  record.header.electrodes.forEach((electrode, side) => {
    let made = 0;
    for (const { formula } of electrode.products) {
      made += last(record.electrode(side).amountMol(formula));
    }
    most = Math.max(most, made);
  });
  return roundFigure(most / (EVENTS_A_SECOND * SHOW_S));
}

/** @param {Float32Array} values */
const last = (values) => values[values.length - 1] ?? 0;

/**
 * How many events of a product have happened by a time.
 * @param {RunRecord} record @param {number} side @param {string} product @param {number} timeS
 * @param {number} oneMol
 */
export function eventsBy(record, side, product, timeS, oneMol) {
  if (!oneMol) return 0;
  return Math.floor(sampleAt(record.electrode(side).amountMol(product), record, timeS) / oneMol);
}

/**
 * @param {RunRecord} record @param {Layout} layout @param {import("./ions.js").Crowd} crowd
 * @param {() => number} random
 */
export function makeEvents(record, layout, crowd, random) {
  const oneMol = amountOfOneEvent(record);
  /** @type {DischargeEvent[]} */
  const live = [];

  /** @param {number} side */
  function spot(side) {
    const rod = layout.electrodes[side];
    const inner = random() < layout.innerShare;
    const faceX = (side === 0) === inner ? rod.x + rod.width : rod.x;
    // room for four ions above one another
    const room = 2 * layout.ionRadius;
    const low = layout.liquidTop + room;
    const y = low + random() * Math.max(rod.y + rod.height - low - room, 1);
    return { x: faceX, y, out: faceX > rod.x ? 1 : -1 };
  }

  /** A place in the liquid before a face. @param {number} x @param {number} y @param {number} out */
  function start(x, y, out) {
    for (const steps of [3.6, 2.4, 1.3]) {
      const fromX = x + out * layout.ionRadius * steps;
      if (layout.inside(fromX, y)) return { fromX, fromY: y };
    }
    return { fromX: x + out * layout.ionRadius * 1.15, fromY: y };
  }

  return {
    live,
    oneMol,
    /** Start the events between two times. @param {number} fromS @param {number} toS */
    start(fromS, toS) {
      record.header.electrodes.forEach((electrode, side) => {
        for (const product of electrode.products) {
          const due =
            eventsBy(record, side, product.formula, toS, oneMol) -
            eventsBy(record, side, product.formula, fromS, oneMol);
          for (let each = 0; each < clamp(due, 0, 4); each += 1) {
            const { x, y, out } = spot(side);
            const { formula, count } = product.consumed;
            const reach = layout.ionRadius;
            const arriving = [];
            for (let k = 0; k < count; k += 1) {
              const ofWater = formula === "H+" || formula === "OH-"; // the crowd shows pH with these
              const turn = (k - (count - 1) / 2) * reach * 1.15;
              const before = x + out * reach * 1.15;
              const taken = ofWater ? null : crowd.takeNearest(formula, before, y + turn);
              arriving.push({
                formula,
                ...(taken ? { fromX: taken.x, fromY: taken.y } : start(x, y + turn, out)),
                x: before,
                y: y + turn,
              });
            }
            live.push({
              side,
              product: product.formula,
              kind: product.kind,
              tint: product.tint,
              electrons: product.electrons,
              oxidation: (side === 1) !== sampleAt(record.swapped, record, toS) > 0.5,
              x: x + out * reach * 1.15,
              y,
              age: 0,
              ions: arriving,
            });
          }
        }
      });
    },
    /** @param {number} passedS */
    age(passedS) {
      for (const event of live) event.age += passedS;
      for (let k = live.length - 1; k >= 0; k -= 1) if (live[k].age > LASTS_S) live.splice(k, 1);
    },
    clear() {
      live.length = 0;
    },
  };
}

/** @typedef {ReturnType<typeof makeEvents>} Events */

/**
 * @param {CanvasRenderingContext2D} pen @param {Events} events
 * @param {ReturnType<typeof import("./glyphs.js").makeGlyphs>} glyphs @param {Layout} layout
 * @param {import("./theme.js").Theme} theme @param {(formula: string) => string} molecule
 */
export function drawEvents(pen, events, glyphs, layout, theme, molecule) {
  const r = layout.ionRadius;
  for (const event of events.live) {
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
 * @param {number} r @param {import("./theme.js").Theme} theme
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
 * @param {import("./theme.js").Theme} theme
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
 * @param {number} r @param {import("./theme.js").Theme} theme
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
 * @param {Layout} layout @param {ReturnType<typeof import("./glyphs.js").makeGlyphs>} glyphs
 * @param {import("./theme.js").Theme} theme @param {(formula: string) => string} molecule
 */
function drawProduct(pen, event, surfaceX, layout, glyphs, theme, molecule) {
  const part = clamp((event.age - EXCHANGE_S) / (LASTS_S - EXCHANGE_S), 0, 1);
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
  pen.globalAlpha = 1;
}
