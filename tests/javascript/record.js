// A short run made by hand: brine between graphite rods, two minutes, five places.

import { loader } from "./loader.js";

const { decodeRecord } = await loader("scene/")("record.js");

export const SAMPLES = 3;
export const PLACES = 5;

/** @param {{formula: string, label: string, count: number}[]} [released] */
export const gas = (formula, label, electrons, consumed, count, released = []) => ({
  formula, label, kind: "gas", electrons, tint: "--fp-ion-other", metal: "", consumed: { formula: consumed, count }, released,
});

/** A part of what Python sends for the usual wording, and for a board that names electrodes by their signs. */
export const DEFAULT_SLOTS = { cathode: "cathode", the_cathode: "the cathode", cathode_in_full: "cathode", anode: "anode", the_anode: "the anode", anode_in_full: "anode" };
export const SIGN_SLOTS = Object.fromEntries(Object.entries(DEFAULT_SLOTS).map(([slot, text]) => [slot, text.replace("cathode", "negative electrode").replace("anode", "positive electrode")]));

/** What a board shows that has hydrogen and oxygen come from water. */
export const FROM_WATER = [
  gas("H2", "H₂", 2, "H2O", 2, [{ formula: "OH-", label: "OH⁻", count: 2 }]),
  gas("O2", "O₂", 4, "H2O", 2, [{ formula: "H+", label: "H⁺", count: 4 }]),
];

export function madeRecord(shift = 0, changes = {}) {
  const arrays = {
    time_s: [0, 60, 120],
    current_A: [0.05, 0.05, 0.05],
    charge_C: [0, 3, 6],
    lamp_V: [3, 3, 3],
    supply_V: [6, 6, 6],
    swapped: [0, 0, 0],
    position_m: [0, 2e-4, 0.015, 0.0298, 0.03],
    "c:Na+": Array(SAMPLES * PLACES).fill(500),
    "c:Cl-": Array(SAMPLES * PLACES).fill(500),
    "c:H+": Array(SAMPLES * PLACES).fill(1e-4),
    pH: Array(SAMPLES * PLACES).fill(7),
    "v:Na+": Array(SAMPLES * PLACES).fill(-5e-6),
    "v:Cl-": Array(SAMPLES * PLACES).fill(8e-6),
    "0:amount_mol:H2": [0, 1e-5, 2e-5],
    "0:collected_cm3:H2": [0, 0.2, 0.4],
    "0:bubbles_cm3:H2": [0, 0.2, 0.4],
    "1:amount_mol:O2": [0, 0.5e-5, 1e-5],
    "1:collected_cm3:O2": [0, 0.1, 0.2],
    "1:bubbles_cm3:O2": [0, 0.1, 0.2],
    ...changes,
  };
  const index = {};
  const all = [];
  for (const [name, values] of Object.entries(arrays)) {
    index[name] = { offset: all.length, length: values.length };
    all.push(...values);
  }
  const bytes = new Uint8Array(shift + all.length * 4);
  bytes.set(new Uint8Array(new Float32Array(all).buffer), shift);
  const species = [
    { formula: "Na+", label: "Na⁺", charge: 1, tint: "--fp-ion-na", dissolved: false },
    { formula: "Cl-", label: "Cl⁻", charge: -1, tint: "--fp-ion-cl", dissolved: false },
    { formula: "H+", label: "H⁺", charge: 1, tint: "--fp-ion-h", dissolved: false },
  ];
  const header = {
    solution: "NaCl",
    name: "sodium chloride",
    vessel: "beaker",
    minutes: 2,
    idle: false,
    supplyV: 6,
    lamp: { volts: 6, amps: 0.06 },
    species,
    electrodes: [
      { material: "graphite", role: "cathode", layerTint: "", layerGCm3: 2.25, spongy: false, products: [gas("H2", "H₂", 2, "H+", 2)] },
      { material: "graphite", role: "anode", layerTint: "", layerGCm3: 2.25, spongy: false, products: [gas("O2", "O₂", 4, "OH-", 4)] },
    ],
    liquidColours: [],
    hazes: [],
    filmM: 2e-4,
    wettedCm2: 10,
    indicators: {},
    names: ["cathode", "anode"],
    slots: DEFAULT_SLOTS,
    index,
  };
  return decodeRecord(header, new DataView(bytes.buffer, shift));
}
