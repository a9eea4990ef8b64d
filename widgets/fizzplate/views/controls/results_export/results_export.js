// Results to take away.

import { make, makeButton } from "../../kit/elements.js";
import { saveFile } from "../../kit/files.js";
import { savePicture, standAlone } from "../../kit/pictures.js";

export function renderResultsExport({ model, el }) {
  const root = make("section", "", "fp-options fp-export");
  root.setAttribute("aria-label", "Save or print the results");
  const drawings = () => [...(el.closest(".fp-page")?.querySelectorAll(".fp-graph svg") ?? [])];
  root.append(
    makeButton("Save results as CSV", () => saveFile("results.csv", "text/csv", model.get("csv"))),
    makeButton("Save charts as SVG", () =>
      drawings().forEach((svg, k) => saveFile(`chart-${k + 1}.svg`, "image/svg+xml", standAlone(svg)))),
    makeButton("Save charts as PNG", () => drawings().forEach((svg, k) => savePicture(`chart-${k + 1}.png`, svg))),
    makeButton("Print the report", () => print()),
  );
  el.append(root);
  return () => root.remove();
}
