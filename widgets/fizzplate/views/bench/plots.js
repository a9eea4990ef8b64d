// The charts, drawn by Python: the page lays the ruler's cursor over them and lets the curves grow, or moves the lines of
// a chart along the cell. Figures and drawing can be saved.

import { fieldAt, placeInTime } from "../scene/record.js";
import { modelPlace } from "../scene/vessels/vessel.js";
import { saveFile } from "../kit/files.js";
import { clockText } from "../kit/format.js";
import { savePicture, standAlone } from "../kit/pictures.js";
import { makeSvg } from "../kit/svg.js";

const PROFILE_POINTS = 60;

function offerFiles(figure, chart, svg, title) {
  const offer = document.createElement("div");
  offer.className = "fp-chart-files";
  for (const [label, act] of [
    ["CSV", () => saveFile(`${chart.name}.csv`, "text/csv", chart.csv)],
    ["PNG", () => savePicture(`${chart.name}.png`, svg)],
    ["SVG", () => saveFile(`${chart.name}.svg`, "image/svg+xml", standAlone(svg))],
  ]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    button.setAttribute("aria-label", `Save ${label}: ${title}`);
    button.addEventListener("click", act);
    offer.append(button);
  }
  figure.append(offer);
}

/** A drawing with the ids of its own bench: two benches of a page draw charts of the same name. */
function withOwnIds(svg, owner) {
  return svg.replace(/(\bid="|href="#|url\(#|aria-(?:labelledby|describedby)=")/g, `$1${owner}-`);
}

/** Move the lines of a chart along the cell to a time. */
function profileMover(svg, chart, record) {
  const { left, right, top, bottom } = chart.box;
  const gapM = record.positionM[record.positionM.length - 1];
  const lines = chart.profile.species.map((formula, k) => ({
    path: svg.querySelector(`[id$="curve-${k}"] path`),
    values: record.concentration(formula),
  }));
  return (timeS) => {
    const when = placeInTime(record, timeS);
    for (const { path, values } of lines) {
      const points = Array.from({ length: PROFILE_POINTS + 1 }, (_, k) => {
        const share = k / PROFILE_POINTS;
        const place = modelPlace(share, gapM, record.header.filmM);
        const c = Math.max(0, fieldAt(values, record, when, place)) / 1000;
        const height = (c / chart.profile.highest) * (bottom - top);
        return `${(left + share * (right - left)).toFixed(1)} ${(bottom - height).toFixed(1)}`;
      });
      path?.setAttribute("d", `M ${points.join(" L ")}`);
    }
  };
}

/** A thin line at each time at which something was changed. */
function drawMarks(svg, { left, right, top, bottom }, durationS, marks) {
  for (const { atS, text } of marks) {
    const x = left + (atS / durationS) * (right - left);
    const line = makeSvg("line", { class: "fp-chart-mark", stroke: "currentColor", x1: x, x2: x, y1: top, y2: bottom }, svg);
    makeSvg("title", {}, line).textContent = `${clockText(atS)}: ${text}`;
  }
}

function growingMover(svg, chart, durationS, owner) {
  const clipId = `${owner}-${chart.name}-clip`;
  const { left, right, top, bottom } = chart.box;
  const clip = makeSvg("clipPath", { id: clipId }, svg);
  const window = makeSvg("rect", { x: left - 4, y: 0, width: 0, height: bottom + 8 }, clip);
  for (const curve of svg.querySelectorAll('g[id*="curve"]')) {
    const future = curve.cloneNode(true);
    future.removeAttribute("id");
    future.classList.add("fp-future");
    curve.before(future);
    curve.setAttribute("clip-path", `url(#${clipId})`);
  }
  const cursor = makeSvg("line", { class: "fp-cursor", y1: top, y2: bottom }, svg);
  return (timeS) => {
    const x = left + (timeS / durationS) * (right - left);
    window.setAttribute("width", String(x - left + 4));
    cursor.setAttribute("x1", String(x));
    cursor.setAttribute("x2", String(x));
  };
}

function mountPlot(node, chart, record, durationS, owner, marks) {
  const figure = document.createElement("figure");
  figure.className = chart.further ? "fp-chart fp-further" : "fp-chart";
  figure.innerHTML = withOwnIds(chart.svg, owner);
  node.append(figure);
  const svg = figure.querySelector("svg");
  svg.setAttribute("preserveAspectRatio", "xMinYMid meet");
  if (!chart.profile) drawMarks(svg, chart.box, durationS, marks);
  offerFiles(figure, chart, svg, svg.querySelector("title")?.textContent ?? chart.name);
  return chart.profile ? profileMover(svg, chart, record) : growingMover(svg, chart, durationS, owner);
}

/**
 * @param node where they stand @param charts @param record of the run @param {number} durationS
 * @param {boolean} on whether the cell is switched on @param {string} bench number of the bench on its page
 * @param {{atS: number, text: string}[]} [marks] what was changed, and when
 */
export function mountPlots(node, charts, record, durationS, on, bench, marks = []) {
  node.replaceChildren();
  if (charts.length === 0 && !on) {
    const empty = document.createElement("p");
    empty.className = "fp-empty";
    empty.textContent = "Close the switch to see charts of gas made, metal gained and pH.";
    node.append(empty);
  }
  const moves = charts.map((chart) => mountPlot(node, chart, record, durationS, `bench-${bench}`, marks));
  return { update: (timeS) => moves.forEach((move) => move(timeS)) };
}
