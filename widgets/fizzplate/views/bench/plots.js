// The charts come drawn; the page lays the ruler's cursor over them and lets the curves grow.

const SVG = "http://www.w3.org/2000/svg";

function element(name, attributes, parent) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  parent.append(made);
  return made;
}

function mountPlot(node, chart) {
  const figure = document.createElement("figure");
  figure.className = "fp-chart";
  figure.innerHTML = chart.svg;
  node.append(figure);
  const svg = figure.querySelector("svg");
  svg.setAttribute("preserveAspectRatio", "xMinYMid meet");
  const { left, right, top, bottom } = chart.box;
  const clip = element("clipPath", { id: `${chart.name}-grown` }, svg);
  const window = element("rect", { x: left - 4, y: 0, width: 0, height: bottom + 8 }, clip);
  for (const curve of svg.querySelectorAll('g[id*="curve"]')) {
    const future = curve.cloneNode(true);
    future.removeAttribute("id");
    future.setAttribute("class", "fp-future");
    curve.before(future);
    curve.setAttribute("clip-path", `url(#${chart.name}-grown)`);
  }
  const cursor = element("line", { class: "fp-cursor", y1: top, y2: bottom }, svg);
  return (fraction) => {
    const x = left + fraction * (right - left);
    window.setAttribute("width", String(x - left + 4));
    cursor.setAttribute("x1", String(x));
    cursor.setAttribute("x2", String(x));
  };
}

export function mountPlots(node, charts, durationS) {
  node.replaceChildren();
  if (charts.length === 0) {
    const empty = document.createElement("p");
    empty.className = "fp-empty";
    empty.textContent = "Gas made, metal gained and pH are drawn here once the switch is closed.";
    node.append(empty);
  }
  const moves = charts.map((chart) => mountPlot(node, chart));
  return { update: (timeS) => moves.forEach((move) => move(timeS / durationS)) };
}
