// A test of the gas, drawn over the cell: a splint, a paper or limewater held at an electrode.

/** @typedef {import("./vessels/vessel.js").Layout} Layout */
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

/**
 * @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Layout} layout @param {Theme} theme
 */
export function drawProbe(pen, probe, layout, theme) {
  const rod = layout.electrodes[probe.side];
  const out = probe.side === 0 ? 1 : -1; // towards the middle, where there is room
  const x = rod.x + rod.width / 2 + out * (rod.width * 0.5 + 46);
  const y = layout.liquidTop - 34;
  const part = Math.min(probe.age / PROBE_S, 1);
  pen.save();
  const scale = Math.max(0.62, layout.width / 720); // seen from the back row
  pen.translate(x, y);
  pen.scale(scale, scale);
  pen.translate(-x, -y);
  pen.lineWidth = 1.6;
  pen.strokeStyle = theme.colour("--fp-ink");
  HELD[probe.test]?.(pen, probe, { x, y, out, part, theme });
  pen.restore();
}

/** @typedef {{x: number, y: number, out: number, part: number, theme: Theme}} Place where it is held, and how far it is */

/** What is held there, by the test's key in the table of gas tests. @type {Record<string, (pen: CanvasRenderingContext2D, probe: Probe, place: Place) => void>} */
const HELD = {
  "lighted splint": (pen, probe, place) => drawSplint(pen, probe, place, true),
  "glowing splint": (pen, probe, place) => drawSplint(pen, probe, place, false),
  "damp blue litmus": (pen, probe, place) => drawPaper(pen, probe, place, "#6f8fd0"),
  "damp starch-iodide paper": (pen, probe, place) => drawPaper(pen, probe, place, "#f4f1ea"),
  limewater: drawTube,
};

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place @param {boolean} lit */
function drawSplint(pen, probe, { x, y, out, part, theme }, lit) {
  pen.strokeStyle = "#a9814f";
  pen.lineWidth = 5;
  pen.beginPath();
  pen.moveTo(x + out * 64, y - 40);
  pen.lineTo(x, y);
  pen.stroke();
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
    pen.ellipse(x, y - 11 * flame, 7 * Math.sqrt(flame), 14 * flame, 0, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  } else {
    pen.fillStyle = picture === "out" && part > 0.5 ? "#6b675f" : "#d05a2a";
    pen.beginPath();
    pen.arc(x, y, 5, 0, 2 * Math.PI);
    pen.fill();
  }
  if ((picture === "pop" || picture === "bang") && part > 0.35) {
    const reach = (picture === "bang" ? 44 : 26) * Math.min((part - 0.35) / 0.3, 1);
    pen.strokeStyle = theme.colour("--fp-ink");
    pen.lineWidth = 2;
    pen.beginPath();
    for (let k = 0; k < 9; k += 1) {
      const angle = (k / 9) * 2 * Math.PI;
      pen.moveTo(x + 0.55 * reach * Math.cos(angle), y - 10 + 0.55 * reach * Math.sin(angle));
      pen.lineTo(x + reach * Math.cos(angle), y - 10 + reach * Math.sin(angle));
    }
    pen.stroke();
    pen.fillStyle = theme.colour("--fp-ink");
    pen.font = `700 17px ${theme.font}`;
    pen.textAlign = "center";
    pen.fillText(picture === "bang" ? "bang" : "squeaky pop", x, y - 62);
  }
}

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place @param {string} plain its colour before */
function drawPaper(pen, probe, { x, y, part }, plain) {
  const colours = TURNS[probe.picture] ?? [plain, plain];
  pen.fillStyle = turned(colours, part);
  pen.beginPath();
  pen.roundRect(x - 10, y - 52, 20, 58, 3);
  pen.fill();
  pen.stroke();
}

/** @param {CanvasRenderingContext2D} pen @param {Probe} probe @param {Place} place */
function drawTube(pen, probe, { x, y, part, theme }) {
  const colours = TURNS[probe.picture] ?? ["#e6eef2", "#e6eef2"];
  pen.fillStyle = turned(colours, part);
  pen.beginPath();
  pen.roundRect(x - 13, y - 22, 26, 26, [0, 0, 12, 12]);
  pen.fill();
  pen.strokeStyle = theme.colour("--fp-ink");
  pen.beginPath();
  pen.moveTo(x - 13, y - 54);
  pen.lineTo(x - 13, y - 9);
  pen.arc(x, y - 9, 13, Math.PI, 0, true);
  pen.lineTo(x + 13, y - 54);
  pen.stroke();
}
