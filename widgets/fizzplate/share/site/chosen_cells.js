// Which cells a link asks for, and which runs of the site come nearest to them.

/** @typedef {import("../takeaway/bar.js").Offer & {files: string[], labels: string[]}} SiteOffer what a site has of a cell */
/** @typedef {{offer: SiteOffer, variant: number, wanted: string, isExact: boolean}} Found a cell that was asked for */

const START = "NaCl";
const OTHER = 3; // how far apart two settings are that are words, in steps of a strength by e

/** A cell as links write it, in its parts. @param {string} key */
function partsOf(key) {
  const [solution, ...settings] = key.split(",").map((part) => part.trim());
  return { solution, settings: new Map(settings.filter(Boolean).map((part) => /** @type {[string, string]} */ (part.split(/=(.*)/s).slice(0, 2)))) };
}

/** @param {string|undefined} wanted @param {string|undefined} there @param {string|undefined} usual */
function apart(wanted, there, usual) {
  if (wanted === there) return 0;
  const [a, b] = [Number(wanted ?? usual), Number(there ?? usual)];
  return a > 0 && b > 0 ? Math.abs(Math.log(a / b)) : OTHER;
}

/** How far a cell is from the one that was asked for; infinitely, if the solution is another. @param {string} wanted @param {string} there */
function distance(wanted, there) {
  const [a, b] = [partsOf(wanted), partsOf(there)];
  if (a.solution !== b.solution) return Infinity;
  const usual = /** @type {Record<string, string>} */ ({ c: "0.5", min: "5", V: "6", C: "25" });
  const names = new Set([...a.settings.keys(), ...b.settings.keys()]);
  return [...names].reduce((sum, name) => sum + apart(a.settings.get(name), b.settings.get(name), usual[name]), 0);
}

/** The run that is nearest to a cell. @param {SiteOffer[]} offers @param {string} wanted @returns {Found|null} nothing, if there is none of its solution */
export function nearest(offers, wanted) {
  let best = /** @type {Found|null} */ (null);
  let least = Infinity;
  for (const offer of offers) {
    for (const [variant, key] of offer.keys.entries()) {
      const far = distance(wanted, key);
      if (far < least) [least, best] = [far, { offer, variant, wanted, isExact: far === 0 }];
    }
  }
  return best;
}

/** The cell that is shown where a link names none. @param {SiteOffer[]} offers @returns {string} */
export const firstShown = (offers) => (offers.find(({ key }) => partsOf(key).solution === START) ?? offers[0]).key;

/** What a link asks for. @param {string} search */
export function cellsInLink(search) {
  return (new URLSearchParams(search).get("cells") ?? "").split(";").map((each) => each.trim()).filter(Boolean);
}

/** What is said of cells that the site has no runs of. @param {Found[]} found @param {string[]} lost */
export function saidOf(found, lost) {
  const instead = found.filter(({ isExact }) => !isExact).map(({ wanted, offer, variant }) => `${wanted} was not worked out for this site; the nearest that was is ${offer.solution}, ${offer.settings[variant]}.`);
  return [...instead, ...lost.map((each) => `${each} is not on this site.`)].join(" ");
}

/** A cell of a list as its menus need it. @param {Found} found @returns {SiteOffer} */
export const asListed = ({ offer, variant }) => ({ ...offer, own: variant, label: offer.labels[variant] });
