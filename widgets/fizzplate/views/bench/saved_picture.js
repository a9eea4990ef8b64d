// The picture as a file, for slides and worksheets: it names no more than the page does, the solution and the time.

import { clockText } from "../kit/format.js";
import { saveFile } from "../kit/files.js";

const BETWEEN = 0.02; // two pictures, as a share of one's width

/** A name that any file system takes. @param {string} label as on the page */
const plain = (label) => label.normalize("NFKC").replace(/\s*\+\s*/g, "+").replace(/[^\w+.]+/g, "-");

/**
 * Pictures in a row. @param {HTMLCanvasElement[]} pictures of equal size, one or two
 * @param {string} ground colour
 */
function inOneRow(pictures, ground) {
  const [{ width, height }] = pictures;
  const apart = Math.round(BETWEEN * width);
  const whole = document.createElement("canvas");
  [whole.width, whole.height] = [pictures.length * (width + apart) - apart, height];
  const pen = /** @type {CanvasRenderingContext2D} */ (whole.getContext("2d"));
  pen.fillStyle = ground;
  pen.fillRect(0, 0, whole.width, height);
  pictures.forEach((picture, index) => pen.drawImage(picture, index * (width + apart), 0));
  return whole;
}

/**
 * Save what is drawn of one cell, or of two side by side with their names, also where the page has room for one only.
 * @param {{label: string, scene: ReturnType<typeof import("../scene/scene.js").mountScene>}[]} cells @param {number|null} timeS none: switched off
 */
export function savePicture(cells, timeS) {
  const time = timeS === null ? [] : [clockText(timeS)];
  const { size } = (cells.find(({ scene }) => scene.isSeen) ?? cells[0]).scene;
  const pictures = cells.map(({ label, scene }) => scene.still([label, ...time].join(", "), size));
  const name = [...cells.map(({ label }) => plain(label)), ...time.map((each) => each.replaceAll(" ", ""))].join("-");
  const whole = pictures.length > 1 ? inOneRow(pictures, cells[0].scene.theme.colour("--fp-panel")) : pictures[0];
  whole.toBlob((dots) => dots && saveFile(`${name}.png`, "image/png", dots), "image/png");
}
