// Opens the file's blocks: plain data, and the numbers of records. packing.py says how they are packed.

/** @typedef {[number, number, number, number]} Scale of an array: its length, the width of a row, the least value and the step of a code */

const FIGURES = 4; // of a chart's table

/** @param {any} value @param {string[]} lines @returns {any} */
function unfold(value, lines) {
  if (Array.isArray(value)) return value.map((part) => unfold(part, lines));
  if (value === null || typeof value !== "object") return value;
  if (Array.isArray(value.$)) {
    let place = 0;
    return value.$.map((/** @type {number} */ change) => lines[(place += change)]).join("\n");
  }
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, unfold(part, lines)]));
}

const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#$%:()*+-;,=.?@^_\x60{|}~"; // of base85, as packing.py writes it

/** @param {string} text in base85: four bytes in five letters */
function bytesOf(text) {
  const values = new Uint8Array(128);
  [...LETTERS].forEach((letter, value) => (values[letter.charCodeAt(0)] = value));
  const view = new DataView(new ArrayBuffer(4 * Math.ceil(text.length / 5)));
  for (let at = 0; at < text.length; at += 5) {
    let number = 0;
    for (let k = at; k < at + 5; k += 1) number = 85 * number + (k < text.length ? values[text.charCodeAt(k)] : 84);
    view.setUint32((4 * at) / 5, number);
  }
  return new Uint8Array(view.buffer, 0, Math.floor((4 * text.length) / 5));
}

/** @param {string} text */
async function decompress(text) {
  const packed = bytesOf(text);
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  const whole = new Uint8Array(await new Response(stream).arrayBuffer());
  const length = new DataView(whole.buffer).getUint32(0, true);
  const plain = JSON.parse(new TextDecoder().decode(whole.subarray(4, 4 + length)));
  return { plain, lines: /** @type {string[]} */ (plain.lines), bytes: whole.subarray(4 + length) };
}

/** Reads arrays one after the other. @param {Uint8Array} bytes low bytes of all codes, then the high bytes @param {number} from */
function reader(bytes, from) {
  const count = bytes.length / 2;
  let place = from;
  /** @param {Scale} scale */
  return ([length, width, least, step]) => {
    const codes = new Uint16Array(length);
    const values = new Float32Array(length);
    for (let k = 0; k < length; k += 1) {
      const folded = bytes[place + k] + 256 * bytes[count + place + k];
      const change = folded % 2 ? -(folded + 1) / 2 : folded / 2;
      const before = k >= width ? codes[k - width] : k ? codes[k - 1] : 0;
      codes[k] = before + change; // beyond sixteen bits it begins anew, as packed
      values[k] = least + step * codes[k];
    }
    place += length;
    return values;
  };
}

/** A record as Python hands it over: where each array lies, and all of them in one piece. @param {any} packed @param {(scale: Scale) => Float32Array} read */
function recordOf({ scales }, read) {
  /** @type {Record<string, {offset: number, length: number}>} */
  const index = {};
  const pieces = [];
  let offset = 0;
  for (const [name, scale] of Object.entries(scales)) {
    if (typeof scale === "string") index[name] = index[scale]; // the same array under another name
    else {
      const values = read(scale);
      pieces.push(values);
      index[name] = { offset, length: values.length };
      offset += values.length;
    }
  }
  const values = new Float32Array(offset);
  let place = 0;
  for (const piece of pieces) {
    values.set(piece, place);
    place += piece.length;
  }
  return { index, array_bytes: new DataView(values.buffer) };
}

/** @param {string} head @param {Float32Array[]} columns */
function tableOf(head, columns) {
  const rows = Array.from(columns[0], (_, k) => columns.map((column) => Number(column[k].toPrecision(FIGURES))).join(","));
  return `${[head, ...rows].join("\n")}\n`;
}

/** Plain data alone. @param {string} text */
export async function openPlain(text) {
  const { plain, lines } = await decompress(text);
  return unfold(plain, lines);
}

/**
 * The runs of a cell; each is unpacked when it is first shown, since all at once would take long.
 * @param {string} text
 * @returns {Promise<Record<string, () => any>[]>} what the bench shows of each run, at "rest" and "on"
 */
export async function openRuns(text) {
  const { plain, lines, bytes } = await decompress(text);
  let begins = 0;
  return plain.runs.map((/** @type {Record<string, any>} */ states) =>
    Object.fromEntries(["rest", "on"].map((state) => {
      const from = begins;
      const packed = states[state];
      const arrays = [
        ...Object.values(packed.scales),
        ...packed.charts.flatMap((/** @type {any} */ each) => each.columns),
        ...packed.certainty.flatMap((/** @type {any} */ each) => each.ranges),
      ];
      begins += arrays.reduce((sum, scale) => sum + (typeof scale === "string" ? 0 : scale[0]), 0);
      return [state, () => {
        const read = reader(bytes, from);
        const { index, array_bytes } = recordOf(packed, read);
        const charts = packed.charts.map((/** @type {any} */ { columns, ...chart }) => {
          const whole = unfold(chart, lines);
          return { ...whole, csv: tableOf(whole.csv, columns.map(read)) };
        });
        const certainty = packed.certainty.map((/** @type {any} */ { ranges, ...side }) => {
          const [low, high] = ranges.length ? ranges.map(read) : [[], []];
          return { ...unfold(side, lines), low, high };
        });
        return { header: { ...unfold(packed.header, lines), index }, array_bytes, lesson: unfold(packed.lesson, lines), charts, certainty };
      }];
    })),
  );
}
