// A field for each question of a round: what is chosen or written can be read from it, and put back.

/** @typedef {{name: string, kind: string, label: string, stem: string, options: string[], unit: string, judge: any}} Part */
/** @typedef {{node: HTMLElement, read: () => any, write: (value: any) => void}} Field read gives undefined where nothing is answered */

const MAX_TEXT = 140;
const MAX_EQUATION = 200;
const MAX_SIZE = 1e12; // of a number, as the server allows
const SIGNS = [" + ", " → ", "2", "3", "4"];

/** @param {string} name @param {string} [text] @param {string} [className] */
export function make(name, text = "", className = "") {
  const node = document.createElement(name);
  if (text) node.textContent = text;
  if (className) node.className = className;
  return node;
}

/** A graph. @param {{drawn: string, said: string}} picture SVG, and what it shows in words */
export function pictureOf({ drawn, said }) {
  const image = /** @type {HTMLImageElement} */ (make("img"));
  image.alt = said;
  image.src = `data:image/svg+xml,${encodeURIComponent(drawn)}`;
  return image;
}

/** @param {Part} part @param {string} kind radio or checkbox */
function options(part, kind) {
  const node = make("fieldset");
  node.append(make("legend", part.label));
  const inputs = part.options.map((text, k) => {
    const label = make("label", "", "option");
    const input = /** @type {HTMLInputElement} */ (make("input"));
    input.type = kind;
    input.name = part.name;
    input.value = String(k);
    label.append(input, make("span", text));
    node.append(label);
    return input;
  });
  const mark = () => inputs.forEach((each) => each.closest(".option").classList.toggle("chosen", each.checked));
  node.addEventListener("change", mark);
  return { node, inputs, mark };
}

/** @param {Part} part @returns {Field} */
function choice(part) {
  const { node, inputs, mark } = options(part, "radio");
  return {
    node,
    read() {
      const at = inputs.findIndex((each) => each.checked);
      return at < 0 ? undefined : at;
    },
    write(value) {
      inputs.forEach((each, k) => (each.checked = k === value));
      mark();
    },
  };
}

/** @param {Part} part @returns {Field} */
function several(part) {
  const { node, inputs, mark } = options(part, "checkbox");
  return {
    node,
    read() {
      const all = inputs.map((each, k) => (each.checked ? k : -1)).filter((k) => k >= 0);
      return all.length ? all : undefined;
    },
    write(value) {
      inputs.forEach((each, k) => (each.checked = value.includes(k)));
      mark();
    },
  };
}

/** @param {Part} part @param {string} tag @param {number} longest */
function line(part, tag, longest) {
  const node = make("div", "", "field");
  const label = make("label", "", "label");
  const input = /** @type {HTMLInputElement} */ (make(tag));
  if (tag === "input") input.type = "text";
  input.maxLength = longest;
  input.autocomplete = "off";
  input.id = `part-${part.name}`;
  label.textContent = part.label;
  label.htmlFor = input.id;
  node.append(label, input);
  return { node, input };
}

/** @param {Part} part @returns {Field} */
function shortText(part) {
  const { node, input } = line(part, "textarea", MAX_TEXT);
  const left = make("p", `${MAX_TEXT} characters at most. The class sees this only if your teacher shows it.`, "note");
  input.addEventListener("input", () => (left.textContent = `${MAX_TEXT - input.value.length} characters left`));
  node.append(left);
  return { node, read: () => input.value.trim() || undefined, write: (value) => (input.value = value) };
}

/** @param {Part} part @returns {Field} a number that cannot be read, or is larger than any amount, is NaN */
function number(part) {
  const { node, input } = line(part, "input", 20);
  input.inputMode = "decimal";
  const row = make("div", "", "number");
  row.append(input, make("span", part.unit));
  if (part.unit) input.setAttribute("aria-label", `${part.label}, ${part.unit}`);
  node.append(row);
  const read = () => {
    const typed = input.value.trim().replace(",", ".").replace("−", "-");
    if (!typed) return undefined;
    const value = /^-?\d*\.?\d+(e-?\d+)?$/i.test(typed) ? Number(typed) : NaN;
    return Math.abs(value) <= MAX_SIZE ? value : NaN;
  };
  return { node, read, write: (value) => (input.value = String(value)) };
}

/** @param {Part} part @param {(text: string, judge: any) => {fault: string}} judge @returns {Field} */
function equation(part, judge) {
  const { node, input } = line(part, "input", MAX_EQUATION);
  input.setAttribute("autocapitalize", "off");
  input.spellcheck = false;
  const tiles = make("div", "", "tiles");
  tiles.setAttribute("role", "group");
  tiles.setAttribute("aria-label", "Tiles to build it from");
  const all = [...part.judge.tiles.map((each) => [each.label, each.text]), ...SIGNS.map((sign) => [sign.trim(), sign])];
  for (const [label, sign] of all) {
    const button = /** @type {HTMLButtonElement} */ (make("button", label));
    button.type = "button";
    button.addEventListener("click", () => {
      const at = input.selectionStart ?? input.value.length;
      const end = input.selectionEnd ?? at;
      input.value = (input.value.slice(0, at) + sign + input.value.slice(end)).slice(0, MAX_EQUATION);
      input.setSelectionRange(at + sign.length, at + sign.length);
      input.dispatchEvent(new Event("input", { bubbles: true })); // as if it had been typed
    });
    tiles.append(button);
  }
  node.append(tiles);
  return {
    node,
    read() {
      const written = input.value.trim();
      return written ? { fault: judge(written, part.judge).fault, written } : undefined;
    },
    write: (value) => (input.value = value.written),
  };
}

const MAKERS = { choice, several, text: shortText, number, equation };

/** @param {Part} part @param {(text: string, judge: any) => {fault: string}} judge of half-equations @returns {Field} */
export const makeField = (part, judge) => MAKERS[part.kind](part, judge);
