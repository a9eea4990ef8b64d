// Every kind of particle that a run's picture shows: what is dissolved, what forms, and what water gives.

/** @typedef {import("./record.js").Species} Species */

/** @type {Species} */
export const WATER = { formula: "H2O", label: "H₂O", charge: 0, tint: "--fp-bubble", dissolved: false };

/** @type {Species[]} */
const OF_WATER = [
  { formula: "H+", label: "H⁺", charge: 1, tint: "--fp-ion-h", dissolved: false },
  { formula: "OH-", label: "OH⁻", charge: -1, tint: "--fp-ion-oh", dissolved: false },
  WATER,
];

/** @param {import("./record.js").RunRecord} record @returns {Species[]} */
export function particlesOf(record) {
  const formed = record.header.electrodes
    .flatMap(({ products }) => products)
    .filter(({ kind }) => kind !== "solid")
    .map(({ formula, label, kind, tint }) => {
      const colourless = kind === "gas" && formula !== "Cl2" && formula !== "Br2";
      return { formula, label, charge: 0, tint: colourless ? "--fp-bubble" : tint, dissolved: true };
    });
  /** @type {Map<string, Species>} */
  const found = new Map();
  for (const each of [...record.header.species, ...formed, ...OF_WATER]) {
    if (!found.has(each.formula)) found.set(each.formula, each);
  }
  return [...found.values()];
}

/** Whether water reacts at an electrode: the board has oxygen or hydrogen come from it. @param {import("./record.js").RunRecord} record */
export const waterReacts = (record) =>
  record.header.electrodes.some(({ products }) => products.some(({ consumed }) => consumed.formula === WATER.formula));
