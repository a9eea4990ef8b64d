// What one size of the picture is made of: where everything stands, how each particle looks, and who moves in it.

import { makeBubbles } from "./motion/bubbles.js";
import { makeEvents } from "./motion/events.js";
import { makeCrowd } from "./motion/ions.js";
import { seededRandom } from "./motion/random.js";
import { makeWater } from "./motion/water.js";
import { makeGlyphs } from "./glyphs.js";
import { makeSpecks } from "./haze.js";
import { particlesOf } from "./particles.js";
import { fillingAt, placeInTime } from "./record.js";
import { layOut } from "./vessels/layout.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {"few"|"many"|"water"} Particles large ions, smaller ones up to 400, or with molecules of water */
/** @typedef {"seen"|"explained"} Surface what is drawn at an electrode: what the eye sees, or what happens there */
/** @typedef {ReturnType<typeof buildStage>} Stage */
/**
 * What wandered, as it stood when it last moved: another size of the picture starts from there.
 * @typedef {{ions: import("./motion/ions.js").Ion[], molecules: import("./motion/water.js").Molecule[], layout: import("./vessels/vessel.js").Layout}} Wanderers
 */

const SEED = 20;
const MAX_DENSITY = 3;

/** What was not in the solution from the start has no formula on it. @param {RunRecord} record @param {import("./record.js").Species} species */
function withoutName(record, species) {
  const { formula } = species;
  const places = record.positionM.length;
  const fromTheStart = record.concentration(formula).subarray(0, places).some((c) => c > 0);
  return ["H+", "OH-", "H2O"].includes(formula) || (fromTheStart && species.charge) ? species : { ...species, label: "" };
}

/**
 * How each particle looks, at so many dots for each unit of the picture.
 * @param {RunRecord} record @param {number} ionRadius
 * @param {{surface: Surface, density: number, theme: import("./theme.js").Theme}} look
 */
export function glyphsOf(record, ionRadius, { surface, density, theme }) {
  const shown = particlesOf(record);
  return makeGlyphs(surface === "seen" ? shown.map((each) => withoutName(record, each)) : shown, ionRadius, density, theme);
}

/**
 * @param {HTMLCanvasElement} canvas @param {RunRecord} record
 * @param {{particles: Particles, surface: Surface, theme: import("./theme.js").Theme, timeS: number, wanderers: Wanderers|null}} look
 */
export function buildStage(canvas, record, { particles, surface, theme, timeS, wanderers }) {
  const width = canvas.clientWidth || 600;
  const height = canvas.clientHeight || 340;
  const density = Math.min(globalThis.devicePixelRatio || 1, MAX_DENSITY);
  canvas.width = Math.round(width * density);
  canvas.height = Math.round(height * density);
  const filling = fillingAt(record, timeS);
  const layout = layOut(width, height, record.header.vessel, particles === "many", filling);
  const crowd = makeCrowd(record, layout, particles === "many");
  const when = placeInTime(record, timeS);
  if (wanderers) crowd.takeOver(wanderers.ions, wanderers.layout, when);
  else crowd.redraw(when);
  return {
    layout,
    filling,
    density,
    crowd,
    glyphs: glyphsOf(record, layout.ionRadius, { surface, density, theme }),
    events: makeEvents(record, layout),
    bubbles: makeBubbles(record, layout),
    water: particles === "water" ? makeWater(layout, seededRandom(SEED), wanderers) : null,
    specks: makeSpecks(layout),
  };
}
