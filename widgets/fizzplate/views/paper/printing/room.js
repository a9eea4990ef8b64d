// How much room a paper gives to its answers, so that its last page holds more than a few lines.

/** What lies between the margins of a page (@page fp-paper), in mm. @type {Record<string, [number, number]>} */
const BETWEEN_MARGINS_MM = { A4: [176, 264], Letter: [181.9, 246.4] };
const ROUNDED_MM = 4;
const ENOUGH = 0.5; // of the last page
const LESS = [0.95, 0.9, 0.85, 0.8, 0.75, 0.7];
const MORE = [1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.8, 2, 2.25, 2.5];

/** @typedef {{room: number, pages: number, filled: number}} Layout the pages with so much room, and the share of the last one that is filled */

/** The rules that hold in print, for a document that is not printed. @param {CSSRuleList} rules @returns {string} */
function rulesInPrint(rules) {
  return [...rules]
    .map((rule) => {
      if (rule instanceof CSSPageRule) return "";
      if (!(rule instanceof CSSMediaRule)) return rule.cssText;
      if (rule.conditionText.includes("screen")) return "";
      return rule.conditionText.includes("print") ? rulesInPrint(rule.cssRules) : rule.cssText;
    })
    .join("\n");
}

/** A frame that lays a sheet out as on paper: each page is a column, which breaks where a page does. @param {HTMLElement} sheet @param {[number, number]} sizeMm */
function frameWith(sheet, [widthMm, heightMm]) {
  const frame = document.createElement("iframe");
  frame.style.cssText = `position: absolute; left: -9999px; border: 0; visibility: hidden; width: ${widthMm}mm; height: ${heightMm}mm;`;
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  document.body.append(frame);
  const page = /** @type {Document} */ (frame.contentDocument);
  page.open();
  page.write("<!doctype html>"); // without it a table has another size of letters
  page.close();
  page.documentElement.dataset.fpPrint = "sheet";
  const style = page.createElement("style");
  style.textContent = [...document.styleSheets].map((each) => rulesInPrint(each.cssRules)).join("\n");
  page.head.append(style);
  let node = /** @type {HTMLElement} */ (sheet.cloneNode(true));
  for (let shell = sheet.parentElement; shell && shell !== document.body; shell = shell.parentElement) {
    const copy = /** @type {HTMLElement} */ (shell.cloneNode(false));
    copy.append(node);
    node = copy;
  }
  page.body.append(node);
  page.body.style.margin = "0";
  const paper = /** @type {HTMLElement} */ (page.querySelector(".fp-paper"));
  paper.style.cssText = `width: ${widthMm}mm; columns: ${widthMm}mm; column-gap: 0; column-fill: auto;`;
  return { frame, paper };
}

/** @param {HTMLElement} paper laid out in columns @param {number} room @param {number} heightMm @returns {Layout} */
function layoutOn(paper, room, heightMm) {
  paper.style.height = `${heightMm}mm`;
  paper.style.setProperty("--fp-room", String(room));
  const { left, top, width, height } = paper.getBoundingClientRect();
  const end = /** @type {DOMRect} */ ([...(paper.lastElementChild ?? paper).getClientRects()].at(-1));
  return { room, pages: Math.round((end.left - left) / width) + 1, filled: (end.bottom - top) / height };
}

/** The worse of the layouts on a page and on one a little shorter, as a printer may round. @param {HTMLElement} paper @param {number} room @param {number} heightMm */
function layoutWith(paper, room, heightMm) {
  const [whole, shorter] = [heightMm, heightMm - ROUNDED_MM].map((each) => layoutOn(paper, room, each));
  return shorter.pages > whole.pages || (shorter.pages === whole.pages && shorter.filled < whole.filled) ? shorter : whole;
}

/** The room that fills the last page best, with the fewest pages: less where that saves a page. @param {(room: number) => Layout} layOut */
export function bestRoom(layOut) {
  const usual = layOut(1);
  if (usual.pages === 1 || usual.filled >= ENOUGH) return usual;
  for (const room of LESS) {
    const less = layOut(room);
    if (less.pages < usual.pages) return less;
  }
  let best = usual;
  for (const room of MORE) {
    const more = layOut(room);
    if (more.pages > usual.pages) break;
    if (more.filled > best.filled) best = more;
    if (best.filled >= ENOUGH) break;
  }
  return best;
}

/** Give a paper the room that fills its last page sensibly. @param {HTMLElement} sheet @param {string} paperSize */
export function giveRoom(sheet, paperSize) {
  if (!sheet.querySelector(".fp-paper")) return;
  const size = BETWEEN_MARGINS_MM[paperSize];
  const { frame, paper } = frameWith(sheet, size);
  try {
    sheet.style.setProperty("--fp-room", String(bestRoom((room) => layoutWith(paper, room, size[1])).room));
  } finally {
    frame.remove();
  }
}
