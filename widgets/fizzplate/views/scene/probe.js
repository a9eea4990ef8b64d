// A test of the gas, as it is done in class: on a tube of collected gas that was taken away from the cell. It has a strip of
// the picture for itself, beside the vessel and its wires, on the side of the electrode where the gas was collected.

/** @typedef {import("./vessels/vessel.js").Box} Box */
/** @typedef {import("./theme.js").Theme} Theme */
/** @typedef {{side: number, test: string, picture: string, age: number}} Probe */

export const PROBE_S = 2.4; // until it has shown what it shows
/** @type {Record<string, string[]>} colours that a paper or a liquid goes through */
const TURNS = {
  bleach: ["#6f8fd0", "#d0697a", "#f4f1ea"],
  redden: ["#6f8fd0", "#b98aa8"],
  "blue-black": ["#f4f1ea", "#23263f"],
  cloudy: ["#e6eef2", "#ffffff"],
};

/** A colour between those that it goes through. @param {string[]} colours @param {number} part 0 to 1 */
export function turned(colours, part) {
  const place = Math.min(Math.max(part, 0), 1) * (colours.length - 1);
  const k = Math.min(Math.floor(place), colours.length - 2);
  const [a, b] = [colours[k], colours[k + 1]].map((hex) =>
    [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16)),
  );
  return `rgb(${a.map((value, band) => Math.round(value + (place - k) * (b[band] - value))).join(",")})`;
}

const SHARE = { wide: 0.19, narrow: 0.25 }; // of the picture's width
const NARROW_PX = 560;
const LEAST_PX = 84;

/** Width of the strip that a test takes. @param {number} width of the picture */
export const stripOf = (width) => Math.max(width * (width < NARROW_PX ? SHARE.narrow : SHARE.wide), LEAST_PX);

const WIDE = 120; // of the drawing, in its own units; the tube's middle is in their middle
const HIGH = 176;
const MIDDLE = WIDE / 2;
const TUBE = { radius: 15, mouth: 44, bottom: 128 };
const RESULT = { line: 144, size: 18 };
const CAPTION = { lines: ["tube of gas,", "away from the cell"], line: 160, apart: 13, size: 11, leastPx: 10, leastScale: 0.7 };

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Box} box the strip @param {Theme} theme */
export function drawProbe(pen, probe, box, theme) {
  const part = Math.min(probe.age / PROBE_S, 1);
  const scale = Math.min(box.width / WIDE, box.height / HIGH);
  pen.save();
  pen.translate(box.x + (box.width - WIDE * scale) / 2, box.y + (box.height - HIGH * scale) / 2);
  pen.scale(scale, scale);
  pen.lineWidth = 1.6;
  pen.strokeStyle = theme.colour("--fp-ink");
  HELD[probe.test]?.(pen, probe, { out: probe.side === 0 ? -1 : 1, part, theme });
  pen.fillStyle = theme.colour("--fp-quiet");
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.font = `${Math.max(CAPTION.size, CAPTION.leastPx / scale)}px ${theme.font}`;
  if (scale >= CAPTION.leastScale) CAPTION.lines.forEach((line, k) => pen.fillText(line, MIDDLE, CAPTION.line + k * CAPTION.apart, WIDE - 8));
  pen.restore();
}

/** @typedef {{out: number, part: number, theme: Theme}} Place out: away from the cell, -1 or 1; part: how far the test is */

/** What is held at the tube, by the test's key in the table of gas tests. @type {Record<string, (pen: CanvasRenderingContext2D, probe: Probe, place: Place) => void>} */
const HELD = {
  "lighted splint": (pen, probe, place) => drawSplint(pen, probe, place, true),
  "glowing splint": (pen, probe, place) => drawSplint(pen, probe, place, false),
  "damp blue litmus": (pen, probe, place) => drawPaper(pen, probe, place, "#6f8fd0"),
  "damp starch-iodide paper": (pen, probe, place) => drawPaper(pen, probe, place, "#f4f1ea"),
  limewater: drawLimewater,
};

/** The open tube, with a liquid at its bottom or without. @param {CanvasRenderingContext2D} pen @param {Theme} theme @param {string} [liquid] its colour */
function drawTube(pen, theme, liquid) {
  const { radius, mouth, bottom } = TUBE;
  const [left, right, turn] = [MIDDLE - radius, MIDDLE + radius, bottom - radius];
  if (liquid) {
    pen.fillStyle = liquid;
    pen.beginPath();
    pen.roundRect(left, turn - 18, 2 * radius, radius + 18, [0, 0, radius, radius]);
    pen.fill();
  }
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 1.6;
  pen.beginPath();
  pen.moveTo(left - 3, mouth);
  pen.lineTo(left, mouth + 3);
  pen.lineTo(left, turn);
  pen.arc(MIDDLE, turn, radius, Math.PI, 0, true);
  pen.lineTo(right, mouth + 3);
  pen.lineTo(right + 3, mouth);
  pen.stroke();
}

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place @param {boolean} lit */
function drawSplint(pen, probe, { out, part, theme }, lit) {
  const y = TUBE.mouth + (lit ? -4 : 14); // a glowing splint is put into the tube
  pen.strokeStyle = "#a9814f";
  pen.lineWidth = 5;
  pen.beginPath();
  pen.moveTo(MIDDLE + out * (lit ? 52 : 30), y - (lit ? 30 : 56));
  pen.lineTo(MIDDLE, y);
  pen.stroke();
  drawTube(pen, theme);
  const { picture } = probe;
  // how high the flame stands: a glowing splint has none until it is relit
  const start = lit ? 1 : 0;
  const end = { pop: 1, bang: 1, relight: 1.3, brighter: 1.8, out: 0, nothing: start }[picture] ?? start;
  const flame = start + (end - start) * part;
  if (flame > 0.05) {
    pen.fillStyle = theme.colour("--fp-glow");
    pen.strokeStyle = theme.colour("--fp-ion-ink");
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.ellipse(MIDDLE, y - 11 * flame, 7 * Math.sqrt(flame), 14 * flame, 0, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  } else {
    pen.fillStyle = picture === "out" && part > 0.5 ? "#6b675f" : "#d05a2a";
    pen.beginPath();
    pen.arc(MIDDLE, y, 5, 0, 2 * Math.PI);
    pen.fill();
  }
  if ((picture === "pop" || picture === "bang") && part > 0.35) drawPop(pen, picture, part, theme);
}

/** @param {CanvasRenderingContext2D} pen @param {string} picture @param {number} part @param {Theme} theme */
function drawPop(pen, picture, part, theme) {
  const [x, y] = [MIDDLE, TUBE.mouth - 12];
  const reach = (picture === "bang" ? 44 : 32) * Math.min((part - 0.35) / 0.3, 1);
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.lineWidth = 2;
  pen.beginPath();
  for (let k = 0; k < 9; k += 1) {
    const angle = (k / 9) * 2 * Math.PI;
    pen.moveTo(x + 0.6 * reach * Math.cos(angle), y + 0.6 * reach * Math.sin(angle));
    pen.lineTo(x + reach * Math.cos(angle), y + reach * Math.sin(angle));
  }
  pen.stroke();
  pen.fillStyle = theme.colour("--fp-ink");
  pen.font = `700 ${RESULT.size}px ${theme.font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillText(picture === "bang" ? "bang" : "squeaky pop", x, RESULT.line, WIDE - 8);
}

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place @param {string} plain its colour before */
function drawPaper(pen, probe, { part, theme }, plain) {
  const colours = TURNS[probe.picture] ?? [plain, plain];
  pen.fillStyle = turned(colours, part);
  pen.beginPath();
  pen.roundRect(MIDDLE - 10, TUBE.mouth - 36, 20, 58, 3); // in the mouth of the tube
  pen.fill();
  pen.stroke();
  drawTube(pen, theme);
}

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place */
function drawLimewater(pen, probe, { part, theme }) {
  const colours = TURNS[probe.picture] ?? ["#e6eef2", "#e6eef2"];
  drawTube(pen, theme, turned(colours, part));
}
