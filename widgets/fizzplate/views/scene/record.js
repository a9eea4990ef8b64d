// A run as it arrives: a header of plain data, and one block of 32-bit floats.

/**
 * @typedef {{formula: string, label: string, charge: number, tint: string, dissolved: boolean}} Species
 * @typedef {{
 *   formula: string, label: string, charge: number, kind: "solid"|"gas"|"ion"|"dissolved", electrons: number, tint: string,
 *   metal: string, isWeighed?: boolean, consumed: {formula: string, count: number}, released: {formula: string, label: string, count: number}[]
 * }} Product consumed: what comes to the electrode to make one of it; released: what is left over beside it
 * @typedef {{formula: string, tint: string, gCm3: number}} Layer
 * @typedef {{material: string, role: string, layerTint: string, layerGCm3: number, layers?: Layer[], spongy: boolean, pool?: string, products: Product[]}} ElectrodeHeader
 *   layerTint, layerGCm3: of what settles most; layers: every solid that settles there or is lost; pool: of a metal in a melt, whether it "sinks" or "floats"
 * @typedef {{
 *   solution: string, name: string, vessel: string, minutes: number, idle: boolean, supplyV: number|null,
 *   lamp: {volts: number, amps: number}|null, species: Species[], electrodes: ElectrodeHeader[],
 *   liquidColours: {formula: string, absorbance: number[]}[], filmM: number, wettedCm2: number,
 *   hazes: {formula: string, tint: string}[], melt?: {caption: string}|null,
 *   indicators: Record<string, [number, number[]][]>, names: [string, string], slots: Record<string, string>,
 *   index: Record<string, {offset: number, length: number}>, poured?: string[],
 *   unchanged?: {minutes: number, idle: boolean, species: Species[], electrodes: ElectrodeHeader[], index: Record<string, {offset: number, length: number}>}
 * }} Header poured: ions that were put in, at the start or later; unchanged: of a run that was changed while it went on, the
 *   same without changes, as far as scales go by it; names: of cathode and anode beside a drawing; slots: what the board calls them in a sentence
 */

/** @typedef {{before: number, after: number, part: number}} Instant between which samples a time lies */

/**
 * @param {Header} header
 * @param {DataView} view bytes of all arrays; its own offset into the buffer is honoured
 * @returns {RunRecord}
 */
export function decodeRecord(header, view) {
  const { unchanged } = header;
  /** @type {RunRecord|null} */
  const forItsScales = unchanged ? { ...decode({ ...header, ...unchanged }, view), unchanged: null } : null;
  return { ...decode(header, view), unchanged: forItsScales };
}

/** The run by which a picture's scales go: what was seen before a change looks the same after it. @param {RunRecord} record @returns {RunRecord} */
export const forScales = (record) => record.unchanged ?? record;

/** @param {Header} header @param {DataView} view */
function decode(header, view) {
  // the block may start anywhere in its buffer, a Float32Array only at a multiple of four
  const bytes = new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  const aligned = view.byteOffset % 4 ? bytes.slice() : bytes;
  const floats = new Float32Array(aligned.buffer, aligned.byteOffset, aligned.byteLength >> 2);

  /** @param {string} name @returns {Float32Array|null} */
  const find = (name) => {
    const place = header.index[name];
    return place ? floats.subarray(place.offset, place.offset + place.length) : null;
  };
  const timeS = find("time_s") ?? new Float32Array(1);
  const none = new Float32Array(timeS.length);
  const positionM = find("position_m") ?? new Float32Array(2);
  const nowhere = new Float32Array(timeS.length * positionM.length);
  /** @param {string} name */
  const byTime = (name) => find(name) ?? none;

  return {
    header,
    timeS,
    positionM,
    currentA: byTime("current_A"),
    supplyV: byTime("supply_V"),
    voltageV: byTime("voltage_V"),
    lampV: byTime("lamp_V"),
    chargeC: byTime("charge_C"),
    swapped: byTime("swapped"),
    volumeCm3: byTime("volume_cm3"),
    pH: find("pH") ?? nowhere,
    /** @param {string} formula */
    concentration: (formula) => find(`c:${formula}`) ?? nowhere,
    /** @param {string} formula */
    haze: (formula) => find(`h:${formula}`) ?? nowhere,
    /** @param {string} formula */
    settledMolM3: (formula) => byTime(`settled_mol_m3:${formula}`),
    /** @param {string} formula */
    drift: (formula) => find(`v:${formula}`) ?? nowhere,
    /** @param {number} side */
    electrode: (side) => ({
      /** @param {string} formula */
      share: (formula) => byTime(`${side}:share:${formula}`),
      /** @param {string} formula */
      amountMol: (formula) => byTime(`${side}:amount_mol:${formula}`),
      /** @param {string} formula */
      massG: (formula) => byTime(`${side}:mass_g:${formula}`),
      /** @param {string} formula */
      gasCm3: (formula) => byTime(`${side}:gas_cm3:${formula}`),
      /** @param {string} formula */
      collectedCm3: (formula) => byTime(`${side}:collected_cm3:${formula}`),
      /** @param {string} formula */
      bubblesCm3: (formula) => byTime(`${side}:bubbles_cm3:${formula}`),
      film: byTime(`${side}:film`),
      layerG: byTime(`${side}:layer_g`),
      looseG: byTime(`${side}:loose_g`),
      pH: byTime(`${side}:pH`),
    }),
  };
}

/** @typedef {ReturnType<typeof decode> & {unchanged: RunRecord|null}} RunRecord unchanged: the same run without changes */

/**
 * Where a time lies between the samples.
 * @param {{timeS: Float32Array}} record @param {number} timeS
 * @returns {Instant}
 */
export function placeInTime(record, timeS) {
  const times = record.timeS;
  const last = times.length - 1;
  if (last <= 0 || timeS <= times[0]) return { before: 0, after: 0, part: 0 };
  if (timeS >= times[last]) return { before: last, after: last, part: 0 };
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] <= timeS) low = middle;
    else high = middle;
  }
  return { before: low, after: high, part: (timeS - times[low]) / (times[high] - times[low]) };
}

/**
 * The value of an array over the samples at a time, in between by proportion.
 * @param {Float32Array} values @param {{timeS: Float32Array}} record @param {number} timeS
 */
export function sampleAt(values, record, timeS) {
  const { before, after, part } = placeInTime(record, timeS);
  return values[before] * (1 - part) + values[after] * part;
}

/**
 * From when on, until a time, the wires have stood as they do then, but no sooner than another time: no ion knows before that they will be swapped.
 * @param {RunRecord} record @param {number} timeS @param {number} earliestS
 */
export function wiredSince({ timeS: times, swapped }, timeS, earliestS) {
  let sinceS = earliestS;
  for (let k = 1; k < times.length; k += 1) {
    const turnS = (times[k - 1] + times[k]) / 2;
    if (swapped[k] !== swapped[k - 1] && turnS <= timeS) sinceS = Math.max(sinceS, turnS);
  }
  return sinceS;
}

/**
 * How much liquid there is at a time, and at most in the run, in proportion to the start. It is poured in at once.
 * @param {RunRecord} record @param {number} timeS @returns {import("./vessels/vessel.js").Filling}
 */
export function fillingAt(record, timeS) {
  const { volumeCm3 } = record;
  const [first] = volumeCm3;
  if (!(first > 0)) return { now: 1, most: 1 };
  const { before, after, part } = placeInTime(record, timeS);
  return { now: volumeCm3[part < 1 ? before : after] / first, most: Math.max(...volumeCm3) / first };
}

/**
 * When an amount that grows from nothing passes each whole multiple of a step.
 * @param {ArrayLike<number>} amounts by sample @param {{timeS: Float32Array}} record @param {number} step
 */
export function timesOfPassing(amounts, record, step) {
  /** @type {number[]} */
  const times = [];
  if (!(step > 0)) return times;
  for (let k = 1; k < amounts.length; k += 1) {
    const [before, after] = [amounts[k - 1], amounts[k]];
    for (let level = (times.length + 1) * step; level <= after; level = (times.length + 1) * step) {
      const part = Math.max(level - before, 0) / (after - before);
      times.push(record.timeS[k - 1] + part * (record.timeS[k] - record.timeS[k - 1]));
    }
  }
  return times;
}

/**
 * The value of an array over samples and places at a time and a place.
 * @param {Float32Array} values
 * @param {{timeS: Float32Array, positionM: Float32Array}} record
 * @param {Instant} when
 * @param {number} positionM
 */
export function fieldAt(values, record, when, positionM) {
  const places = record.positionM;
  const count = places.length;
  let low = 0;
  let high = count - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (places[middle] <= positionM) low = middle;
    else high = middle;
  }
  const gap = places[high] - places[low];
  const part = gap > 0 ? Math.min(Math.max((positionM - places[low]) / gap, 0), 1) : 0;
  /** @param {number} sample */
  const row = (sample) =>
    values[sample * count + low] * (1 - part) + values[sample * count + high] * part;
  return row(when.before) * (1 - when.part) + row(when.after) * when.part;
}
