// Drawings taken out of the page: as they are, or as dots.

import { saveFile } from "./files.js";

const PRINT_SCALE = 3; // dots of a saved picture for each unit of the drawing

/** A drawing as a text of its own, with the page's colours. @param {SVGSVGElement} svg */
export function standAlone(svg) {
  const style = getComputedStyle(svg);
  const text = new XMLSerializer().serializeToString(svg);
  return text.replace(/var\((--[\w-]+)\)/g, (whole, property) => style.getPropertyValue(property).trim() || whole);
}

/** Save a drawing as a picture on the page's ground. @param {string} name @param {SVGSVGElement} svg */
export function savePicture(name, svg) {
  const { width, height } = svg.viewBox.baseVal;
  const picture = new Image();
  picture.onload = () => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [width * PRINT_SCALE, height * PRINT_SCALE];
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    pen.fillStyle = getComputedStyle(svg).getPropertyValue("--fp-panel");
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    canvas.toBlob((dots) => dots && saveFile(name, "image/png", dots), "image/png");
  };
  const alone = /** @type {SVGSVGElement} */ (svg.cloneNode(true)); // an image without a size of its own is not drawn everywhere
  alone.setAttribute("width", String(width));
  alone.setAttribute("height", String(height));
  svg.after(alone);
  picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(standAlone(alone))}`;
  alone.remove();
}
