// The scene: everything that is drawn of one run on one canvas, by one clock.

import { drawBubbles, makeBubbles } from "./bubbles.js";
import { arrow, drawCircuit, electronPathPx, lampLight } from "./circuit.js";
import { drawElectrodes } from "./deposit.js";
import { drawEvents, makeEvents } from "./events.js";
import { makeGlyphs } from "./glyphs.js";
import { indicatorShade, writePH } from "./indicator.js";
import { makeCrowd } from "./ions.js";
import { layOut } from "./layout.js";
import { fieldAt, placeInTime, sampleAt } from "./record.js";
import { readTheme } from "./theme.js";
import { seededRandom } from "./random.js";
import { clamp, modelPlace } from "./vessel.js";

/** @typedef {import("./record.js").RunRecord} RunRecord */

const SEED = 20;
const JUMP_S = 0.35; // of playing: more than that between frames is a jump on the ruler
const DENSEST = 3;
const TINT = 0.55; // opacity of a liquid that lets no light of some band through

/**
 * Parts of red, green and blue light that a mixture lets through, by Beer and Lambert.
 * @param {{absorbance: number[], concentration: number}[]} colours
 */
export function letThrough(colours) {
  return [0, 1, 2].map(
    (band) => 10 ** -colours.reduce((sum, c) => sum + c.absorbance[band] * c.concentration, 0),
  );
}

/**
 * @param {HTMLCanvasElement} canvas @param {RunRecord} firstRecord
 * @param {ReturnType<typeof import("./clock.js").createClock>} clock
 * @param {{reducedMotion?: boolean, indicator?: string}} [options]
 */
export function mountScene(canvas, firstRecord, clock, options = {}) {
  const { reducedMotion = false } = options;
  let indicator = options.indicator ?? "";
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  let record = firstRecord;
  let theme = readTheme(canvas);
  let lastS = clock.timeS;
  let frame = 0;
  let lastFrame = 0;
  /** @type {ReturnType<typeof build>|null} */
  let stage = null;

  const atRest = () => !(record.chargeC[record.chargeC.length - 1] > 0);

  function build() {
    const width = canvas.clientWidth || 600;
    const height = canvas.clientHeight || 340;
    const density = Math.min(globalThis.devicePixelRatio || 1, DENSEST);
    canvas.width = Math.round(width * density);
    canvas.height = Math.round(height * density);
    const layout = layOut(width, height, record.header.vessel);
    const random = seededRandom(SEED);
    const crowd = makeCrowd(record, layout, random);
    const shown = [...record.header.species];
    const made = record.header.electrodes.flatMap((electrode) => electrode.products);
    for (const { formula, label, kind, tint } of made) {
      if (kind === "solid" || shown.some((each) => each.formula === formula)) continue;
      const gas = kind === "gas" && formula !== "Cl2";
      shown.push({ formula, label, charge: 0, tint: gas ? "--fp-bubble" : tint, dissolved: true });
    }
    for (const [formula, label, charge, tint] of /** @type {const} */ ([
      ["H+", "H⁺", 1, "--fp-ion-h"],
      ["OH-", "OH⁻", -1, "--fp-ion-oh"],
    ])) {
      if (!shown.some((each) => each.formula === formula)) {
        shown.push({ formula, label, charge, tint, dissolved: false });
      }
    }
    crowd.redraw(placeInTime(record, clock.timeS));
    return {
      layout,
      density,
      crowd,
      glyphs: makeGlyphs(shown, layout.ionRadius, density, theme),
      events: makeEvents(record, layout, crowd, random),
      bubbles: makeBubbles(record, layout, random),
    };
  }

  /** @param {number} timeS */
  function follow(timeS) {
    if (!stage) return;
    const passed = timeS - lastS;
    const jumped = passed < 0 || passed > JUMP_S * clock.timeLapse;
    if (reducedMotion || jumped) {
      stage.events.clear();
      stage.bubbles.clear();
      stage.crowd.redraw(placeInTime(record, timeS));
    } else if (passed > 0) {
      stage.events.start(lastS, timeS);
      stage.bubbles.start(lastS, timeS);
    }
    lastS = timeS;
    if (reducedMotion || !frame) draw();
    wake();
  }

  const moving = () => !reducedMotion && (clock.playing || atRest());

  function wake() {
    if (!frame && moving() && !document.hidden) {
      lastFrame = 0;
      frame = requestAnimationFrame(animate);
    }
  }

  /** @param {number} now */
  function animate(now) {
    frame = 0;
    if (!stage || !moving() || document.hidden) return;
    const passedS = lastFrame ? clamp((now - lastFrame) / 1000, 0, 0.1) : 0;
    lastFrame = now;
    stage.crowd.move(placeInTime(record, clock.timeS), passedS);
    stage.events.age(passedS);
    stage.bubbles.move(passedS);
    draw();
    frame = requestAnimationFrame(animate);
  }

  function draw() {
    if (!stage) return;
    const { layout, density, crowd, glyphs, events, bubbles } = stage;
    const timeS = clock.timeS;
    pen.setTransform(density, 0, 0, density, 0, 0);
    pen.clearRect(0, 0, layout.width, layout.height);
    drawLiquid(timeS);
    drawElectrodes(pen, record, layout, theme, timeS);
    for (const list of crowd.ions.values()) {
      for (const ion of list) {
        const opacity = crowd.opacity(ion);
        if (opacity < 1) pen.globalAlpha = opacity;
        glyphs.draw(pen, ion.formula, ion.x, ion.y);
        if (opacity < 1) pen.globalAlpha = 1;
      }
    }
    if (reducedMotion && !atRest()) drawDriftArrows(timeS);
    drawEvents(pen, events, glyphs, layout, theme, (formula) => formula);
    drawBubbles(pen, bubbles.live, theme);
    if (record.header.indicators[indicator]) {
      writePH(pen, record, layout, theme, placeInTime(record, timeS));
    }
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.lineWidth = 2.4;
    layout.outline(pen);
    pen.stroke();
    drawCircuit(pen, record, layout, theme, timeS);
    drawWords(timeS);
  }

  /** @param {number} timeS */
  function drawLiquid(timeS) {
    const { layout } = /** @type {NonNullable<typeof stage>} */ (stage);
    pen.save();
    layout.trace(pen);
    pen.clip();
    const { x, y, width, height } = layout.bounds;
    pen.fillStyle = theme.colour("--fp-liquid");
    pen.fillRect(x, y, width, height);
    const when = placeInTime(record, timeS);
    const colours = record.header.liquidColours.map(({ formula, absorbance }) => ({
      values: record.concentration(formula),
      absorbance,
    }));
    if (colours.length) {
      const gapM = record.positionM[record.positionM.length - 1];
      layout.fill(pen, (along) => {
        const place = modelPlace(along, gapM, record.header.filmM);
        const light = letThrough(colours.map(({ values, absorbance }) => ({
          absorbance,
          concentration: Math.max(0, fieldAt(values, record, when, place)),
        })));
        const rgb = light.map((part) => Math.round(255 * part)).join(",");
        return `rgba(${rgb},${(TINT * (1 - Math.min(...light))).toFixed(3)})`;
      });
    }
    const scale = record.header.indicators[indicator];
    if (scale) layout.fill(pen, indicatorShade(record, scale, when));
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.globalAlpha = 0.35;
    pen.lineWidth = 2;
    pen.beginPath();
    pen.moveTo(x, y);
    pen.lineTo(x + width, y);
    pen.stroke();
    pen.restore();
  }

  /** @param {number} timeS */
  function drawDriftArrows(timeS) {
    const { layout, crowd } = /** @type {NonNullable<typeof stage>} */ (stage);
    if (!layout.level) return;
    const when = placeInTime(record, timeS);
    pen.strokeStyle = theme.colour("--fp-ink");
    for (const each of record.header.species) {
      const drift = record.drift(each.formula);
      const real = fieldAt(drift, record, when, record.positionM[record.positionM.length - 1] / 2);
      if (!real) continue;
      for (const ion of crowd.ions.get(each.formula) ?? []) {
        const way = Math.sign(real) * layout.direction(ion.x, ion.y).x;
        const start = ion.x + way * layout.ionRadius;
        arrow(pen, start, ion.y + layout.ionRadius * 0.9, start + way * layout.ionRadius * 0.9);
      }
    }
  }

  /** @param {number} timeS */
  function drawWords(timeS) {
    const { layout, glyphs } = /** @type {NonNullable<typeof stage>} */ (stage);
    const size = clamp(layout.width / 66, 10.5, 17);
    const swapped = sampleAt(record.swapped, record, timeS) > 0.5;
    pen.textBaseline = "middle";
    pen.textAlign = "center";
    layout.electrodes.forEach((rod, side) => {
      const cathode = (side === 0) !== swapped;
      pen.font = `700 ${clamp(rod.width * 0.8, 13, 26)}px ${theme.font}`;
      const dark = record.header.electrodes[side].material === "graphite";
      pen.fillStyle = dark ? "#fdfaf2" : theme.colour("--fp-ion-ink");
      pen.fillText(cathode ? "−" : "+", rod.x + rod.width / 2, rod.y + rod.width * 0.55);
      pen.font = `600 ${size}px ${theme.font}`;
      pen.fillStyle = theme.colour("--fp-ink");
      const name = cathode ? "cathode" : "anode";
      const outside = side === 0 ? rod.x - 8 : rod.x + rod.width + 8;
      pen.textAlign = side === 0 ? "right" : "left";
      const room = side === 0 ? outside : layout.width - outside;
      if (pen.measureText(name).width > room - 2) {
        // no room beside the rod: towards the middle then
        pen.textAlign = side === 0 ? "left" : "right";
        const inner = side === 0 ? rod.x + rod.width + 6 : rod.x - 6;
        pen.fillText(name, inner, rod.y + size * 0.9);
      } else {
        pen.fillText(name, outside, rod.y + size * 0.9);
      }
      pen.textAlign = "center";
    });
    pen.font = `${size * 0.86}px ${theme.font}`;
    pen.fillStyle = theme.colour("--fp-quiet");
    if (layout.caption) pen.fillText(layout.caption, layout.width / 2, layout.height - size * 0.9);
    if (layout.narrow) return;
    pen.textAlign = "left";
    pen.fillText("number of H⁺ and OH⁻", 14, size * 1.1);
    pen.fillText("shows pH, not amount", 14, size * 2.2);
    pen.textAlign = "right";
    if (record.header.filmM) {
      pen.fillText("the layer at each electrode", layout.width - 14, size * 1.1);
      pen.fillText("is drawn wider than it is", layout.width - 14, size * 2.2);
    }
    if (!layout.level) return;
    const y = layout.height - size * 5.2;
    for (const side of [0, 1]) {
      const away = side === 0 ? 1 : -1;
      const from = side === 0 ? layout.bounds.x - 12 : layout.width - layout.bounds.x + 12;
      const to = side === 0 ? 14 : layout.width - 14;
      const cathode = (side === 0) !== swapped;
      pen.textAlign = side === 0 ? "left" : "right";
      pen.fillStyle = theme.colour("--fp-quiet");
      pen.strokeStyle = theme.colour("--fp-ink");
      pen.fillText(cathode ? "to the cathode" : "to the anode", to, y);
      arrow(pen, from, y + size * 1.1, to);
      const travellers = record.header.species
        .filter((each) => Math.sign(each.charge) === (cathode ? 1 : -1) && !each.dissolved)
        .slice(0, 3);
      travellers.forEach((each, k) => {
        const step = layout.ionRadius * 1.75;
        glyphs.draw(pen, each.formula, to + away * (step * 0.5 + k * step), y + size * 3, 0.74);
      });
    }
    pen.textAlign = "center";
  }

  const resized = new ResizeObserver(() => {
    stage = build();
    draw();
    wake();
  });
  resized.observe(canvas);
  document.addEventListener("visibilitychange", wake);
  const unsubscribe = clock.subscribe(follow);
  stage = build();
  draw();
  wake();

  return {
    draw,
    /** @param {RunRecord} next */
    setRecord(next) {
      record = next;
      lastS = clock.timeS;
      stage = build();
      draw();
      wake();
    },
    /** @param {string} name of an indicator in the run's header, or nothing */
    setIndicator(name) {
      indicator = name;
      draw();
    },
    refreshTheme() {
      theme = readTheme(canvas);
      stage = build();
      draw();
    },
    summary() {
      const { crowd, events, bubbles, layout } = /** @type {NonNullable<typeof stage>} */ (stage);
      const swapped = sampleAt(record.swapped, record, clock.timeS) > 0.5;
      const off = sampleAt(record.currentA, record, clock.timeS) < 5e-7;
      return {
        counts: crowd.counts(),
        driftScale: atRest() ? 0 : crowd.driftScale,
        eventMol: events.oneMol,
        eventStandsFor: events.oneMol
          ? `each atom or molecule made stands for ${eventAmountText(events.oneMol)}`
          : "",
        bubbleCm3: bubbles.oneCm3,
        bubblesDrawn: [...bubbles.drawn],
        electronDirection: off ? 0 : swapped ? -1 : 1,
        electronPathPx: electronPathPx(record, clock.timeS),
        lampLight: lampLight(record, clock.timeS),
        ionRadius: layout.ionRadius,
      };
    },
    destroy() {
      cancelAnimationFrame(frame);
      frame = 0;
      stage = null;
      unsubscribe();
      resized.disconnect();
      document.removeEventListener("visibilitychange", wake);
    },
  };
}

/** @param {number} mol */
function eventAmountText(mol) {
  if (mol >= 1e-3) return `${+(mol * 1e3).toPrecision(1)} mmol`;
  if (mol >= 1e-6) return `${+(mol * 1e6).toPrecision(1)} µmol`;
  return `${+(mol * 1e9).toPrecision(1)} nmol`;
}
