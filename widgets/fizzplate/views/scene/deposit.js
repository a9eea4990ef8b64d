// Electrodes, the layer that grows on them, and an anode that thins. The layer is drawn far thicker
// than it is, by a factor that is said, from its mass, its density and the wetted surface.

import { layOut } from "./vessels/layout.js";
import { seededRandom } from "./motion/random.js";
import { forScales, sampleAt } from "./record.js";
import { materialColour } from "./theme.js";
import { clamp } from "./vessels/vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {import("./vessels/vessel.js").Layout} Layout */

const GRAIN_SEED = 11;
const LOOSE_DARKNESS = 0.5;
const MAX_LAYER_SHARE = 0.42; // of the rod's width, for the thickest layer of the run
const MAX_LOSS_SHARE = 0.3; // of the rod's width, for the most that a face loses
const MIN_SEEN_PX = 0.2;
const MIN_GRAINED_PX = 1.2; // of a firm layer, from which its crystals show
const SHEEN = 0.14; // opacity of the light on a rod
const MUCH_THICKER = 2.5; // than without a change: a layer may be drawn so, before the scale is another
const MAX_ENLARGEMENT = 5000; // a deposit thinner than that shows is not made to look like a layer

/**
 * Volumes (cm3) of the solids on an electrode at a time, the one that settled first first; negative: lost by the electrode.
 * @param {RunRecord} record @param {number} side @param {number} timeS
 */
function solidsAt(record, side, timeS) {
  const { layers, layerTint, layerGCm3 } = record.header.electrodes[side];
  const electrode = record.electrode(side);
  if (!layers) return [{ tint: layerTint, cm3: sampleAt(electrode.layerG, record, timeS) / layerGCm3, first: 0 }];
  return layers
    .map(({ formula, tint, gCm3 }) => {
      const grams = electrode.massG(formula);
      return { tint, cm3: sampleAt(grams, record, timeS) / gCm3, first: grams.findIndex((each) => each > 0) };
    })
    .sort((a, b) => a.first - b.first);
}

/** Real thickness (m) of the layer on an electrode at a time; negative where it has thinned. @param {RunRecord} record @param {number} side @param {number} timeS */
export function thicknessM(record, side, timeS) {
  const cm3 = solidsAt(record, side, timeS).reduce((sum, each) => sum + each.cm3, 0);
  return (cm3 / record.header.wettedCm2) * 1e-2;
}

/** Pixels for a metre between the electrodes. @param {RunRecord} record @param {Layout} layout */
const pxPerM = (record, layout) => layout.gapPx / record.positionM[record.positionM.length - 1];

const DEFAULT_SIZE = /** @type {const} */ ([1000, 560]);
/** @type {WeakMap<RunRecord, number>} */
const enlarged = new WeakMap();

/**
 * How many times thicker than the drawing's own scale the layers are drawn, a round number for the whole
 * run, both electrodes and every size of the picture; 0 where there is none.
 * @param {RunRecord} record
 */
export function layerEnlarged(record) {
  const known = enlarged.get(record);
  if (known !== undefined) return known;
  const [own, kept] = [enlargementOf(record), enlargementOf(forScales(record))];
  const shown = kept > 0 && kept <= MUCH_THICKER * own ? kept : own;
  enlarged.set(record, shown);
  return shown;
}

/** @param {RunRecord} record */
function enlargementOf(record) {
  const layout = layOut(...DEFAULT_SIZE, record.header.vessel);
  let most = Infinity;
  let thickest = 0;
  for (const side of [0, 1]) {
    for (const timeS of record.timeS) {
      const realM = thicknessM(record, side, timeS);
      const realPx = Math.abs(realM) * pxPerM(record, layout);
      const share = realM > 0 ? MAX_LAYER_SHARE : MAX_LOSS_SHARE;
      thickest = Math.max(thickest, realPx || 0);
      if (realPx > 0) most = Math.min(most, (share * layout.electrodes[side].width) / realPx);
    }
  }
  const factor = most === Infinity ? 0 : Math.min(roundBelow(most), MAX_ENLARGEMENT);
  return factor * thickest > MIN_SEEN_PX ? factor : 0;
}

/** The next 1, 2 or 5 with noughts that is not larger. @param {number} value */
function roundBelow(value) {
  const power = 10 ** Math.floor(Math.log10(value));
  return [5, 2, 1].map((lead) => lead * power).find((round) => round <= value) ?? power;
}

/**
 * Thickness of the layer in pixels at each electrode: negative where the rod has thinned.
 * @param {RunRecord} record @param {Layout} layout @param {number} timeS
 */
export function layersPx(record, layout, timeS) {
  const perM = layerEnlarged(record) * pxPerM(record, layout);
  return [0, 1].map((side) => (perM ? thicknessM(record, side, timeS) * perM : 0));
}

/**
 * The layer on an electrode, as thick against its rod as in the picture: in widths of the rod, negative where that has thinned.
 * @param {RunRecord} record @param {number} side @param {number} timeS
 * @returns {{thick: number, loose: number, film: number, solids: {tint: string, part: number}[]}} loose: share of it; film: of the face,
 *   darkened by one; solids: the innermost first, and their shares
 */
export function layerOf(record, side, timeS) {
  const layout = layOut(...DEFAULT_SIZE, record.header.vessel);
  const solids = solidsAt(record, side, timeS).filter(({ cm3 }) => cm3 > 0);
  const whole = solids.reduce((sum, { cm3 }) => sum + cm3, 0);
  const { layerG, looseG, film } = record.electrode(side);
  return {
    thick: layersPx(record, layout, timeS)[side] / layout.electrodes[side].width,
    loose: clamp(sampleAt(looseG, record, timeS) / sampleAt(layerG, record, timeS) || 0, 0, 1),
    film: sampleAt(film, record, timeS) || 0,
    solids: solids.map(({ tint, cm3 }) => ({ tint, part: cm3 / whole })),
  };
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout
 * @param {import("./theme.js").Theme} theme @param {number} timeS
 */
export function drawElectrodes(pen, record, layout, theme, timeS) {
  const layers = layersPx(record, layout, timeS);
  layers.forEach((layer, side) => {
    if (layer > MIN_SEEN_PX) drawLayer(pen, record, layout, theme, { side, timeS, layer });
    drawRod(pen, record, layout, theme, { side, timeS, lost: Math.max(-layer, 0) });
  });
  return layers;
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout @param {import("./theme.js").Theme} theme
 * @param {{side: number, timeS: number, layer: number}} of layer: its thickness (px)
 */
function drawLayer(pen, record, layout, theme, { side, timeS, layer }) {
  const rod = layout.electrodes[side];
  const wet = rod.y + rod.height - layout.liquidTop;
  const { material } = record.header.electrodes[side];
  const settled = solidsAt(record, side, timeS).filter(({ cm3 }) => cm3 > 0);
  const whole = settled.reduce((sum, { cm3 }) => sum + cm3, 0);
  const tint = settled.at(-1)?.tint ?? "";
  const { layerG, looseG } = record.electrode(side);
  const loose = layer * clamp(sampleAt(looseG, record, timeS) / sampleAt(layerG, record, timeS), 0, 1);
  const firm = layer - loose;
  pen.fillStyle = theme.colour(tint);
  rounded(pen, rod.x - firm, layout.liquidTop + 3, rod.width + 2 * firm, wet - 3 + firm, 4);
  pen.fill();
  if (materialColour(material) === tint) {
    pen.lineWidth = 1;
    pen.setLineDash([3, 3]);
    pen.strokeStyle = theme.colour("--fp-ion-ink");
    pen.stroke();
    pen.setLineDash([]);
  }
  // what settled before lies within, in its own colour
  let within = whole;
  for (let k = settled.length - 1; k > 0; k -= 1) {
    within -= settled[k].cm3;
    const inner = (firm * within) / whole;
    pen.fillStyle = theme.colour(settled[k - 1].tint);
    rounded(pen, rod.x - inner, layout.liquidTop + 3, rod.width + 2 * inner, wet - 3 + inner, 4);
    pen.fill();
  }
  pen.fillStyle = theme.colour(tint);
  if (firm > MIN_GRAINED_PX) grainy(pen, rod, layout.liquidTop, wet, firm, layout.stroke, theme);
  if (loose <= MIN_SEEN_PX) return;
  pen.save();
  layout.trace(pen); // nothing settles above the liquid
  pen.clip();
  grains(pen, rod, layout.liquidTop, wet, firm, loose);
  pen.fillStyle = theme.colour(tint);
  pen.fill();
  pen.fillStyle = pen.strokeStyle = theme.colour("--fp-ion-ink");
  pen.globalAlpha = LOOSE_DARKNESS;
  pen.fill(); // loose metal looks dark
  pen.lineWidth = 0.6;
  pen.stroke();
  pen.restore();
}

/**
 * @param {CanvasRenderingContext2D} pen @param {RunRecord} record @param {Layout} layout @param {import("./theme.js").Theme} theme
 * @param {{side: number, timeS: number, lost: number}} of lost: how much thinner (px) each wet face is
 */
function drawRod(pen, record, layout, theme, { side, timeS, lost }) {
  const rod = layout.electrodes[side];
  const wetTop = layout.liquidTop;
  const [from, to, below] = [rod.x + lost, rod.x + rod.width - lost, rod.y + rod.height - lost];
  const end = Math.min(0.14 * rod.width, 6 * layout.stroke);
  pen.fillStyle = theme.colour(materialColour(record.header.electrodes[side].material));
  rounded(pen, rod.x, rod.y, rod.width, wetTop - rod.y + 4, end);
  pen.fill();
  rounded(pen, from, wetTop, to - from, below - wetTop, [0, 0, end, end]);
  pen.fill();
  shadeFilm(pen, sampleAt(record.electrode(side).film, record, timeS), theme);
  pen.beginPath();
  pen.moveTo(from, wetTop + 2);
  pen.lineTo(from, below - end);
  pen.quadraticCurveTo(from, below, from + end, below);
  pen.lineTo(to - end, below);
  pen.quadraticCurveTo(to, below, to, below - end);
  pen.lineTo(to, wetTop + 2);
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 1.4 * layout.stroke;
  pen.globalAlpha = 0.5;
  pen.stroke();
  pen.globalAlpha = SHEEN;
  pen.fillStyle = theme.colour("--fp-on-graphite");
  pen.fillRect(rod.x + 0.17 * rod.width, rod.y + end, 0.13 * rod.width, rod.height - 2 * end - lost); // a round rod catches the light
  pen.globalAlpha = 1;
}

/**
 * Darken what has just been filled as far as a film of oxide covers it: too thin to be a layer.
 * @param {CanvasRenderingContext2D} pen @param {number} film from 0 to 1 @param {import("./theme.js").Theme} theme
 */
function shadeFilm(pen, film, theme) {
  if (!(film > 0)) return;
  pen.globalAlpha = film;
  pen.fillStyle = theme.colour("--fp-film");
  pen.fill();
  pen.globalAlpha = 1;
}

/**
 * Small crystals along the outside of a firm layer, and flecks of shade in it, the same in every frame.
 * @param {CanvasRenderingContext2D} pen whose fill has the layer's colour @param {import("./vessels/vessel.js").Box} rod @param {number} top
 * @param {number} wet @param {number} firm thickness (px) @param {number} stroke @param {import("./theme.js").Theme} theme
 */
function grainy(pen, rod, top, wet, firm, stroke, theme) {
  const random = seededRandom(GRAIN_SEED);
  const largest = Math.min(0.5 * firm, 2.4 * stroke);
  const flecks = [];
  pen.beginPath();
  for (let y = top + 4 * stroke; y < top + wet + firm - largest; y += 3 * stroke) {
    for (const outside of [rod.x - firm, rod.x + rod.width + firm]) {
      const radius = largest * (0.3 + 0.7 * random());
      const inward = outside < rod.x ? 1 : -1;
      pen.moveTo(outside + radius + inward * 0.6 * radius, y);
      pen.arc(outside + inward * 0.6 * radius, y, radius, 0, 2 * Math.PI);
      if (random() < 0.3) flecks.push([outside + inward * firm * (0.3 + 0.5 * random()), y]);
    }
  }
  pen.fill();
  pen.fillStyle = theme.colour("--fp-ion-ink");
  pen.globalAlpha = 0.28;
  for (const [x, y] of flecks) pen.fillRect(x, y, 1.2 * stroke, 1.2 * stroke);
  pen.globalAlpha = 1;
}

/**
 * Grains of uneven size along both faces and round the end, the same in every frame.
 * @param {CanvasRenderingContext2D} pen @param {import("./vessels/vessel.js").Box} rod @param {number} top
 * @param {number} wet @param {number} firm thickness (px) of what they lie on @param {number} loose theirs
 */
function grains(pen, rod, top, wet, firm, loose) {
  const random = seededRandom(GRAIN_SEED);
  const largest = clamp(rod.width * 0.09, 1.6, 3.2);
  const around = 2 * wet + rod.width;
  pen.beginPath();
  for (let s = 0; s < around; s += largest * 0.5) {
    const radius = largest * (0.4 + 0.6 * random());
    const out = firm + loose * random() ** 0.7; // fewer far out: a ragged edge
    const along = s + (random() - 0.5) * largest;
    const [x, y] =
      along < wet
        ? [rod.x - out, top + along]
        : along < wet + rod.width
          ? [rod.x + along - wet, top + wet + out]
          : [rod.x + rod.width + out, top + along - wet - rod.width];
    pen.moveTo(x + radius, y);
    pen.arc(x, y, radius, 0, 2 * Math.PI);
  }
}

/**
 * @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} width
 * @param {number} height @param {number|number[]} radius
 */
export function rounded(pen, x, y, width, height, radius) {
  pen.beginPath();
  pen.roundRect(x, y, Math.max(width, 0), Math.max(height, 0), radius);
}
