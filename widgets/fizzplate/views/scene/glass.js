// The vessel's glass: a pale body between two lines, so that it has a thickness.

/** @typedef {import("./vessels/vessel.js").Layout} Layout */

const THICK = 6; // plain lines from outside to outside

/** @param {CanvasRenderingContext2D} pen @param {Layout} layout @param {import("./theme.js").Theme} theme */
export function drawGlass(pen, layout, theme) {
  pen.lineJoin = "round";
  pen.lineCap = "round";
  layout.outline(pen);
  const isFromAbove = !layout.surfaces.length; // then its thickness is not seen
  pen.strokeStyle = theme.colour("--fp-ink");
  const thick = layout.wall ?? THICK;
  pen.lineWidth = (isFromAbove ? 2 : thick) * layout.stroke;
  pen.stroke();
  pen.strokeStyle = theme.colour(layout.wall ? "--fp-line" : "--fp-panel");
  pen.lineWidth = (thick - 2.6) * layout.stroke;
  if (!isFromAbove) pen.stroke();
  pen.lineCap = "butt";
  pen.lineJoin = "miter";
}
