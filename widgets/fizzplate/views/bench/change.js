// A panel over the picture: change something at the time on the ruler. The program makes a new stage of the run of it, or
// says why it cannot be done; until then everything stays as it is.

import { make, makeButton, write } from "../kit/elements.js";
import { clockText } from "../kit/format.js";
import { setWrong } from "../kit/refusal.js";

/**
 * @typedef {{holds: "V"|"A", supply: string, pours: boolean, salts: [string, string][], strength: string, made: string[], lastS?: number}} Offers
 * made: what has been changed, in that order; lastS: when the last change was
 */

const DROP_CM3 = "1";
const WATER_CM3 = "20";
// which field an argument of the program is typed in
const FIELDS = { supply_V: "amount", current_A: "amount", water_cm3: "amount", added_cm3: "amount", added_mol_dm3: "strength", added: "substance", add: "amount", indicator: "substance" };
let panels = 0; // on the page, for ids

/** @param {Offers} offers @param {string[]} indicators @param {boolean} isOff whether the switch is open @returns {[string, string, [string, string, string|[string, string][]][]][]} kind, words, and its fields: name, label, and what it holds or offers */
function kindsOf({ holds, supply, pours, salts, strength }, indicators, isOff) {
  const poured = /** @type {[string, string, any][]} */ ([
    ["water", "Add water", [["amount", "Water, cm³", WATER_CM3]]],
    ["add", "Add a solution", [["amount", "To add, cm³", DROP_CM3], ["substance", "Solution", salts], ["strength", "Its concentration, mol/dm³", strength]]],
  ]);
  return [
    ["swap", "Swap the wires", []],
    ["switch", isOff ? "Close the switch" : "Open the switch", []],
    [holds, holds === "V" ? "Voltage" : "Current", [["amount", holds === "V" ? "Supply, V" : "Supply, A", supply]]],
    ...(pours ? poured : []),
    ["indicator", "Indicator", [["substance", "A few drops of", indicators.map((name) => [name, name])]]],
  ];
}

/** A field of text, or a menu. @param {string} label @param {string|[string, string][]} holds */
function fieldOf(label, holds) {
  const box = make("label", `${label} `, "fp-change-field");
  const field = /** @type {HTMLInputElement|HTMLSelectElement} */ (make(typeof holds === "string" ? "input" : "select"));
  if (field instanceof HTMLSelectElement) for (const [value, text] of holds) field.append(new Option(text, value));
  else {
    field.type = "text";
    field.inputMode = "decimal";
    field.value = String(holds);
  }
  box.append(field);
  return { box, field };
}

class ChangePanel {
  constructor(node, { offers, indicators, now, isOff, ask, where = "", close }) {
    this.node = node;
    this.offered = () => kindsOf(offers, indicators, isOff());
    this.now = now;
    this.where = where;
    this.ask = ask;
    this.isWaiting = false;
    this.number = (panels += 1);
    this.kinds = this.offered();
    this.fields = /** @type {Map<string, HTMLInputElement|HTMLSelectElement>} */ (new Map());
    this.choice = make("fieldset", "", "fp-change-kinds");
    this.rest = make("div", "", "fp-change-fields");
    this.refusal = make("p", "", "fp-change-refusal");
    this.refusal.id = `fp-change-refusal-${this.number}`;
    this.refusal.setAttribute("role", "alert");
    this.doIt = makeButton("Change it", () => this.send());
    this.doIt.classList.add("fp-change-do");
    const row = make("div", "", "fp-change-row");
    row.append(this.doIt);
    if (offers.made.length) row.append(makeButton(`Take back: ${offers.made.at(-1)}`, () => this.send(true), "take back"));
    row.append(makeButton("Close", close));
    this.head = make("h2");
    node.replaceChildren(this.head, this.choice, this.rest, this.refusal, row);
    node.hidden = true;
    node.onkeydown = (event) => {
      if (event.key === "Escape") close();
      if (event.key === "Enter" && event.target instanceof HTMLInputElement) this.send();
    };
  }

  offerKinds() {
    this.kinds = this.offered();
    this.choice.replaceChildren(make("legend", "What?"));
    this.kinds.forEach(([kind, words], k) => {
      const label = make("label", "", "fp-option");
      const input = /** @type {HTMLInputElement} */ (make("input"));
      input.type = "radio";
      input.name = `fp-change-${this.number}`;
      input.value = kind;
      input.checked = k === 0;
      input.addEventListener("change", () => this.choose(kind));
      label.append(input, make("span", words));
      this.choice.append(label);
    });
    this.choose(this.kinds[0][0]);
  }

  /** @param {string} kind */
  choose(kind) {
    const [, , fields] = /** @type {any[]} */ (this.kinds.find(([each]) => each === kind));
    this.kind = kind;
    this.fields.clear();
    this.refuse("");
    this.rest.replaceChildren(...fields.map(([name, label, holds]) => {
      const { box, field } = fieldOf(label, holds);
      this.fields.set(name, field);
      return box;
    }));
  }

  /** @param {boolean} [back] whether the last change is taken back */
  send(back = false) {
    if (this.isWaiting) return;
    this.isWaiting = true;
    this.refuse("");
    this.doIt.setAttribute("aria-disabled", "true");
    const values = Object.fromEntries([...this.fields].map(([name, field]) => [name, field.value]));
    this.ask(back ? { what: "take back" } : { what: "change", kind: this.kind, atS: this.now(), ...values });
  }

  /** Say why it cannot be done, at the field that it is about. @param {string} text @param {string} [argument] */
  refuse(text, argument = "") {
    this.isWaiting = false;
    this.doIt.removeAttribute("aria-disabled");
    write(this.refusal, text);
    this.refusal.hidden = !text;
    const wrong = text ? this.fields.get(FIELDS[argument]) : undefined;
    for (const field of this.fields.values()) setWrong(field, field === wrong ? this.refusal.id : "");
    wrong?.focus();
    if (text) this.refusal.scrollIntoView?.({ block: "nearest" });
  }

  /** @param {boolean} isOpen */
  toggle(isOpen) {
    this.node.hidden = !isOpen;
    this.choice.replaceChildren();
    this.rest.replaceChildren(); // what can be added is named only while it can be chosen
    if (!isOpen) return;
    this.offerKinds();
    /** @type {HTMLElement} */ (this.choice.querySelector("input:checked")).focus();
  }

  /** @param {number} timeS */
  update(timeS) {
    write(this.head, `Change something${this.where} at ${clockText(timeS)}`);
  }
}

/**
 * @param {HTMLElement} node where it stands
 * @param {{offers: Offers, indicators: string[], now: () => number, isOff: () => boolean, ask: (request: Record<string, any>) => void, where?: string, close: () => void}} options
 *   now: time on the ruler; isOff: whether the switch is open then; ask: the program for a change; where: in which cells, where there are two
 */
export const mountChange = (node, options) => new ChangePanel(node, options);
