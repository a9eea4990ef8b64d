// What one size of the picture is made of: where everything stands, how each particle looks, and who moves in it.

import { makeBubbles } from "./motion/bubbles.js";
import { makeEvents } from "./motion/events.js";
import { makeCrowd } from "./motion/ions.js";
import { makeVisits } from "./motion/visits.js";
import { makeWater } from "./motion/water.js";
import { makeGlyphs } from "./glyphs.js";
import { makeFlakes } from "./liquid/haze.js";
import { roomForPH } from "./liquid/indicator.js";
import { particlesOf } from "./particles.js";
import { fillingAt } from "./record.js";
import { stripOf } from "./probe.js";
import { layOut, layOutBeside } from "./vessels/layout.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */
/** @typedef {"few"|"many"|"water"} Particles large ions, smaller ones up to 400, or with molecules of water */
/** @typedef {"seen"|"explained"} Surface what is drawn at an electrode: what the eye sees, or what happens there */
/** @typedef {ReturnType<typeof buildStage>} Stage */
/** @typedef {Pick<HTMLCanvasElement, "clientWidth"|"clientHeight"|"width"|"height">} Place a canvas, or the size of one that is not on the page */

const MAX_DENSITY = 3;
const ONE_OF_TWO = 0.0202; // radius of an ion in the page's width, so that its label is read from afar in either of two pictures
const BESIDE_SIGNS = 1.2; // room in the liquid that a sign takes, and that beside it is too narrow for an ion

/** What was not in the solution from the start, and was not poured in, has no formula on it. @param {RunRecord} record @param {import("./record.js").Species} species */
function withoutName(record, species) {
  const { formula } = species;
  const places = record.positionM.length;
  const fromTheStart = record.concentration(formula).subarray(0, places).some((c) => c > 0);
  const isKnown = fromTheStart || (record.header.poured ?? []).includes(formula);
  return ["H+", "OH-", "H2O"].includes(formula) || (isKnown && species.charge) ? species : { ...species, label: "" };
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
 * The picture's parts: the vessel's, how far from the left it begins, and, seen from there, the strip of a test, if there is one.
 * @param {{width: number, height: number}} size @param {string} vessel @param {boolean} many
 * @param {import("./vessels/vessel.js").Filling} filling @param {{testSide: number, least: number}} options least: radius of an ion (px)
 */
export function divide({ width, height }, vessel, many, filling, { testSide, least }) {
  if (testSide < 0) return { layout: layOut(width, height, vessel, many, filling, least), left: 0, aside: null };
  const strip = stripOf(width);
  return {
    layout: layOutBeside(width, strip, height, vessel, many, filling, least),
    left: testSide === 0 ? strip : 0,
    aside: { x: testSide === 0 ? -strip : width - strip, y: 0, width: strip, height },
  };
}

/** What happens at an electrode happens above a sign that stands below it. @param {import("./vessels/vessel.js").Layout} layout @param {import("./motion/spacing.js").Zone[]} signs */
function aboveSigns(layout, signs) {
  if (!layout.level || !signs.length) return layout;
  const rodEnd = layout.electrodes[0].y + layout.electrodes[0].height - 0.4 * layout.ionRadius;
  const aboveAll = Math.min(...signs.map(({ top }) => top)) - 1.1 * layout.ionRadius;
  return { ...layout, lowest: Math.min(layout.lowest ?? rodEnd, aboveAll) };
}

/**
 * @param {Place} canvas @param {RunRecord} record
 * @param {{particles: Particles, surface: Surface, theme: import("./theme.js").Theme, timeS: number, indicator: string, testSide: number, isOneOfTwo: boolean}} look
 *   testSide: beside which electrode a test is to be seen, or -1; isOneOfTwo: whether two pictures share the page's width
 */
export function buildStage(canvas, record, { particles, surface, theme, timeS, indicator, testSide, isOneOfTwo }) {
  const width = canvas.clientWidth || 600;
  const height = canvas.clientHeight || 340;
  const density = Math.min(globalThis.devicePixelRatio || 1, MAX_DENSITY);
  canvas.width = Math.round(width * density);
  canvas.height = Math.round(height * density);
  const many = particles === "many";
  const filling = fillingAt(record, timeS);
  const least = isOneOfTwo ? ONE_OF_TWO * globalThis.innerWidth : 0;
  const { layout: plain, left, aside } = divide({ width, height }, record.header.vessel, many, filling, { testSide, least });
  const signs = record.header.indicators[indicator] ? roomForPH(record, plain, theme) : [];
  const layout = aboveSigns(plain, signs);
  const events = makeEvents(record, layout);
  const explained = surface === "explained";
  const visits = makeVisits(record, layout, explained, explained ? events.places() : []);
  /** @param {number} at */
  const calls = (at) => [...(explained ? events.calls(at) : []), ...visits.calls(at)];
  /** @param {number} at */
  const zones = (at) => [...(explained ? events.zones(at) : []), ...signs];
  const signsArea = signs.reduce((sum, each) => sum + (each.right - each.left) * (each.bottom - each.top), 0);
  const room = { ...layout, isOneOfTwo, liquidArea: layout.liquidArea - BESIDE_SIGNS * signsArea };
  const crowd = makeCrowd(record, room, { many, filled: filling.now, calls, blocked: visits.blocked, zones });
  return {
    width,
    height,
    layout,
    left,
    aside,
    testSide,
    filling,
    density,
    crowd,
    glyphs: glyphsOf(record, layout.ionRadius, { surface, density, theme }),
    events,
    bubbles: makeBubbles(record, layout),
    water: particles === "water" && !record.header.melt ? makeWater(layout) : null,
    flakes: makeFlakes(layout),
  };
}
