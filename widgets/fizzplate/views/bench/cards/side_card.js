// One electrode's side card: what forms there, why, what is seen, how much so far, how it is tested. All but its head
// comes into the page only when it may be shown.

import { MIN_CURRENT_A, amountText, currentText, massText, percentText, volumeText } from "../../kit/format.js";
import { make, note, write } from "../../kit/elements.js";
import { sampleAt } from "../../scene/record.js";
import { equationOf, headOf } from "./card_parts.js";

const TRACE = 0.012; // of the charge: less is not worth a line
const MIN_BUBBLES_CM3 = 0.02; // less is not seen as bubbles (BUBBLES_CM3 of lesson/rule/narration.py)

function row(term, text, name = "") {
  const wrapper = document.createElement("div");
  const dt = document.createElement("dt");
  const dd = document.createElement("dd");
  dt.textContent = term;
  dd.textContent = text;
  if (name) dd.className = name;
  wrapper.append(dt, dd);
  return wrapper;
}

/** How much of a product there is by a time. @param product with its name @param electrode of the record */
export function madeText(product, electrode, record, timeS) {
  if (product.kind === "gas" && !product.isWeighed) {
    const made = sampleAt(electrode.gasCm3(product.formula), record, timeS);
    const freed = sampleAt(electrode.collectedCm3(product.formula), record, timeS);
    const kept = made > 1e-6 ? 1 - freed / made : 0;
    const some = sampleAt(electrode.bubblesCm3(product.formula), record, timeS) > MIN_BUBBLES_CM3;
    const nearlyAll = some ? ", nearly all of it dissolved" : ", all dissolved so far";
    const stays = kept > 0.95 ? nearlyAll : kept > 0.5 ? ", most of it dissolved" : "";
    return `${volumeText(made)} ${product.name}${stays}`;
  }
  if (product.kind === "solid" || product.isWeighed) {
    const grams = sampleAt(electrode.massG(product.formula), record, timeS);
    return `${massText(Math.max(grams, 0))} ${product.name}`;
  }
  // iron(III), too, is made of what is dissolved
  if (product.kind === "dissolved" || (!product.metal && product.charge > 0)) {
    return `${amountText(sampleAt(electrode.amountMol(product.formula), record, timeS))} ${product.name}`;
  }
  if (!product.metal) return "";
  return `metal dissolved: ${massText(sampleAt(electrode.massG(product.metal), record, timeS))}`;
}

/** What is seen, made and tested, and what the rule says. */
function detailsOf(words, made, howSure, isFolded) {
  const details = document.createElement("details");
  details.open = !isFolded;
  details.innerHTML = "<summary>Seen, made, test</summary><dl></dl>";
  const list = details.querySelector("dl");
  list.append(...words.rows.map(([term, text]) => row(term, text)));
  if (words.on) list.insertBefore(made, list.lastElementChild);
  const foot = document.createElement("footer");
  foot.append(
    ...words.rule.map((text) => note(text)),
    ...words.difference.map((text) => note(text, "fp-difference")),
    howSure,
    ...words.cautions.map((text) => note(text, "fp-caution")),
  );
  details.append(foot);
  return details;
}

/** The products that have taken, or will take by a time, a share of the charge that is worth a line. */
function madeTexts(products, electrode, record, timeS, untilS) {
  const shareAt = (product, atS) => sampleAt(electrode.share(product.formula), record, atS);
  const texts = products
    .filter((product) => shareAt(product, untilS) > TRACE || shareAt(product, timeS) > TRACE)
    .map((product) => madeText(product, electrode, record, timeS))
    .filter(Boolean);
  return [...new Set(texts)]; // two ions of one metal tell the same loss
}

/**
 * @param words what is said of the electrode @param {number} index of it
 * @param {{folded: boolean, place?: string, untilS?: number}} options untilS: when the stage of the run ends, if not with it
 */
export function fillSideCard(node, words, index, record, { folded, place = "", untilS = record.timeS.at(-1) }) {
  node.setAttribute("aria-label", place ? `${words.title}, ${place}` : words.title);
  const share = make("p", "", "fp-share");
  const made = row("Made", "", "fp-made");
  const madeCell = made.querySelector("dd");
  const range = make("p", "", "fp-range");
  range.hidden = true;
  const howSure = make("div", "", "fp-how-sure");
  const details = detailsOf(words, made, howSure, folded);
  let certainty = /** @type {{low: number[], high: number[], wide: number}|null} */ (null);
  node.replaceChildren(headOf(words));
  const electrode = record.electrode(index);
  const products = record.header.electrodes[index].products.map((product, k) => ({ ...product, name: words.names[k] }));

  /** The range of the main product's share, where it is worth a line. */
  function updateRange(timeS, flows) {
    const [low, high] = certainty && flows ? [certainty.low, certainty.high].map((each) => sampleAt(each, record, timeS)) : [0, 0];
    range.hidden = !certainty || high - low < certainty.wide;
    if (!range.hidden) write(range, `not sure: ${Math.round(100 * low)} to ${Math.round(100 * high)}\u00a0%`);
  }

  function update(timeS) {
    if (!words.on) return;
    const currentA = sampleAt(record.currentA, record, timeS);
    const main = products.find(({ formula }) => formula === words.main) ?? products[0];
    updateRange(timeS, currentA >= MIN_CURRENT_A);
    if (!main || currentA < MIN_CURRENT_A) {
      write(share, "almost no current");
      write(madeCell, "nothing");
      return;
    }
    const percent = percentText(sampleAt(electrode.share(main.formula), record, timeS));
    write(share, `${percent} of the charge, now ${currentText(currentA)}`);
    write(madeCell, madeTexts(products, electrode, record, timeS, untilS).join("; ") || "a trace");
  }

  return {
    update,
    sayHowSure: (side) => {
      certainty = side.low.length ? side : null;
      howSure.replaceChildren(...side.sentences.map((text) => note(text, "fp-difference")));
    },
    fold: (isNarrow) => (details.open = !isNarrow),
    reveal: () => node.append(make("p", words.product, "fp-product"), share, range, equationOf(words), details),
  };
}
