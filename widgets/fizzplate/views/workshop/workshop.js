// The half-equation workshop: build an equation from tiles or type it, check atoms and charge separately, take hints one
// by one, then add the equations of both electrodes. It needs no program behind the page.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton, sayWhenFull } from "../kit/elements.js";
import { subscribe } from "../kit/subscription.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { isUnread, judge } from "./judge.js";
import { makeTiles } from "./tiles.js";

const TAB_KEY = "workshop.2";

function mountTask(title, task, species, { texts, key, onSolved }) {
  const part = make("section", "", "fp-equation-task");
  part.setAttribute("aria-label", title);
  const label = make("label", task.prompt);
  const field = /** @type {HTMLInputElement} */ (make("input"));
  field.type = "text";
  field.maxLength = 200;
  field.autocomplete = "off";
  field.spellcheck = false;
  field.placeholder = "A+ + e- -> A"; // how it is typed: no answer of any cell
  field.value = texts.get(key) ?? "";
  field.addEventListener("input", () => {
    texts.set(key, field.value);
    setWrong(field, "");
  });
  label.append(field);
  const tiles = makeTiles(field, task.tiles, `Tiles, ${title}`);
  const verdict = make("div", "", "fp-verdicts");
  verdict.setAttribute("role", "status");
  verdict.id = `fp-verdict-${key.replaceAll(/\W/g, "-")}`;
  let hintCount = 0;

  function say(sentences, { isWrong = false } = {}) {
    verdict.replaceChildren(...sentences.map((text) => make("p", text)));
    setWrong(field, isWrong ? verdict.id : "");
  }
  function check() {
    const { code, sentences } = judge(field.value, task, species);
    part.dataset.code = code;
    say(sentences, { isWrong: isUnread(code) });
    if (code === "right") onSolved();
  }
  function hint() {
    hintCount = Math.min(hintCount + 1, task.hints.length);
    say(task.hints.slice(0, hintCount));
    hintButton.disabled = hintCount === task.hints.length;
  }
  const hintButton = makeButton("Hint", hint);
  field.addEventListener("keydown", (event) => {
    if (event.key === "Enter") check();
  });
  const row = make("div", "", "fp-options");
  row.append(makeButton("Check", check), hintButton, makeButton("Clear", () => {
    field.value = "";
    texts.delete(key);
    delete part.dataset.code;
    say([]);
    field.focus();
  }));
  part.append(make("h3", title), label, sayWhenFull(field), tiles, row, verdict);
  return part;
}

/** @param {HTMLSelectElement} choice @param {string[]} names of cells */
function fillMenu(choice, names) {
  const held = choice.value;
  choice.replaceChildren(new Option("Choose a cell", ""), ...names.map((name) => new Option(name, name)));
  choice.value = names.includes(held) ? held : "";
}

class Workshop {
  constructor(model, el) {
    const before = keptInTab(TAB_KEY) ?? {};
    this.model = model;
    this.texts = new Map(before.written); // of each task's field, whichever cell is shown
    this.followed = before.followed ?? ""; // the page's own cell when it was last turned to, or offered
    this.owns = new Map(before.owns); // own cells that are none of the list, which what is written may be for
    this.root = make("section", "", "fp-workshop");
    this.root.setAttribute("aria-label", "Half-equation workshop");
    const label = make("label", "Cell ");
    this.choice = /** @type {HTMLSelectElement} */ (make("select"));
    label.append(this.choice);
    this.offer = make("p", "", "fp-workshop-offer");
    this.offer.setAttribute("role", "status");
    this.parts = make("div", "", "fp-equation-tasks");
    this.done = make("p", "", "fp-note");
    this.done.setAttribute("role", "status");
    this.root.append(make("h2", "Half-equation workshop"), label, this.offer, this.parts, this.done);
    el.append(this.root);
    this.follow();
    if (before.cell !== undefined) this.choice.value = before.cell;
    else if (!this.own.label) this.choice.value = model.get("data").cells[0].label;
    this.choice.addEventListener("change", () => this.show());
    this.show();
  }

  /** The page's own cell; a page without one has its cells in the menu only. */
  get own() { return this.model.get("own") ?? {}; }

  get hasWork() { return [...this.texts].some(([key, text]) => key.startsWith(`${this.choice.value}|`) && text.trim()); }

  keep() { keepInTab(TAB_KEY, { written: [...this.texts], cell: this.choice.value, followed: this.followed, owns: [...this.owns] }); }

  /** Turn to the page's own cell, unless something is written for the one that is shown. Tell whether it did. */
  follow() {
    const { own } = this;
    if (own.cell) this.owns.set(own.label, own);
    fillMenu(this.choice, [...this.owns.keys(), ...this.model.get("data").cells.map(({ label }) => label)]);
    const now = `${own.label} ${own.mayTell}`;
    if (!own.label || now === this.followed) return false;
    this.followed = now;
    const { hasWork } = this;
    if (!hasWork) this.choice.value = own.mayTell ? own.label : "";
    return !hasWork;
  }

  /** Offer the page's own cell where another is shown, or say what it waits for. */
  showOffer() {
    const { own, choice } = this;
    this.offer.replaceChildren();
    if (!own.label || choice.value === own.label) return;
    if (!own.mayTell) {
      this.offer.append(`The half-equations of the cell above, ${own.label}, can be written here once both its electrodes have been shown. `);
      return;
    }
    const turn = makeButton("Turn to it", () => {
      choice.value = own.label;
      this.show();
      choice.focus();
    });
    this.offer.append(`The cell above holds ${own.label}. What you have written here stays. `, turn);
  }

  show() {
    const { species, tasks, cells, titles } = this.model.get("data");
    const { choice, done } = this;
    const own = this.owns.get(choice.value);
    const cell = own?.cell ?? cells.find(({ label }) => label === choice.value) ?? {};
    const solved = new Set();
    done.textContent = "";
    this.showOffer();
    const names = Object.keys(titles).filter((name) => cell[name]);
    this.parts.replaceChildren(...names.map((name) => mountTask(titles[name], { ...tasks, ...own?.tasks }[cell[name]], species, {
      texts: this.texts,
      key: `${choice.value}|${name}`,
      onSolved() {
        solved.add(name);
        done.textContent = solved.size === names.length ? "All equations of this cell are right." : "";
      },
    })));
  }
}

export function renderWorkshop({ model, el }) {
  const workshop = new Workshop(model, el);
  const keep = () => workshop.keep();
  addEventListener("pagehide", keep);
  const unsubscribe = subscribe(model, {
    "change:data": () => workshop.show(),
    "change:own": () => (workshop.follow() ? workshop.show() : workshop.showOffer()),
  });
  return () => {
    unsubscribe();
    removeEventListener("pagehide", keep);
    workshop.root.remove();
  };
}
