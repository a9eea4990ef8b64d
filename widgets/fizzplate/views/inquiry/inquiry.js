// The investigations. What a learner concludes stays in this browser and can be cleared.

import { make, makeButton, sayWhenFull } from "../kit/elements.js";
import { readRecord, writeStored } from "../kit/local_storage.js";
import { subscribe } from "../kit/subscription.js";
import { markPoint } from "../quiz/words.js";

const STORAGE_KEY = "fizzplate.inquiry.1";
const MAX_LENGTH = 1500; // characters of a conclusion
const POINTER = ".fp-pointer:has(p)"; // what it says of that
const TO_VARY = ".fp-to-vary :is(input, select)"; // the control that the program has pointed out

function buildLayout() {
  const root = make("section", "", "fp-inquiry");
  root.setAttribute("aria-label", "Investigations");
  const choice = /** @type {HTMLSelectElement} */ (make("select"));
  const choiceLabel = make("label", "Investigation ");
  choiceLabel.append(choice);
  const question = make("p", "", "fp-question");
  const variable = make("p");
  const result = make("p");
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = 4;
  field.maxLength = MAX_LENGTH;
  const fieldLabel = make("label", "My conclusion");
  fieldLabel.append(field);
  const buttons = make("div", "", "fp-options");
  const answer = make("div", "", "fp-model-answer");
  answer.setAttribute("role", "status");
  const progress = make("p", "", "fp-note");
  root.append(make("h2", "Investigations"), choiceLabel, question, variable, result, fieldLabel, sayWhenFull(field), buttons, answer, progress);
  return { root, choice, question, variable, result, field, buttons, answer, progress };
}

class Inquiry {
  constructor(model, el) {
    this.model = model;
    this.items = model.get("items");
    this.conclusions = readRecord(STORAGE_KEY);
    this.answeredName = ""; // the investigation whose model answer is shown
    this.layout = buildLayout();
    const { root, choice, field, buttons } = this.layout;
    for (const item of this.items) choice.append(new Option(item.name));
    choice.addEventListener("change", () => this.show());
    field.addEventListener("input", () => this.conclude(field.value.slice(0, MAX_LENGTH)));
    buttons.append(
      makeButton("Set it up", () => this.request("setup_request")),
      makeButton("Show a model answer", () => this.compare()),
      makeButton("Clear my progress", () => this.clear()),
    );
    el.append(root);
    this.unsubscribe = subscribe(model, {
      "change:answers": () => this.showAnswer(),
      "change:set_up_of": () => this.goToCell(),
      "change:items": () => {
        this.items = model.get("items");
        this.describe();
      },
    });
    this.showProgress();
    this.show();
  }

  get item() { return this.items[this.layout.choice.selectedIndex]; }
  isConcluded({ name }) { return Boolean(this.conclusions[name]?.trim()); }

  /** Ask the program for something of the investigation at hand. @param {string} trait */
  request(trait) {
    this.model.set(trait, { name: this.item.name, at: Date.now() });
    this.model.save_changes();
  }

  /** Lead to the cell that was set up, and to the control to change there. */
  goToCell() {
    const field = /** @type {HTMLElement|null} */ (document.querySelector(TO_VARY));
    document.querySelector(POINTER)?.scrollIntoView({ block: "start" });
    field?.focus();
  }

  conclude(text) {
    this.conclusions[this.item.name] = text;
    this.save();
  }

  clear() {
    if (!confirm("Forget all conclusions?")) return;
    this.conclusions = {};
    this.save();
    this.show();
  }

  save() {
    writeStored(STORAGE_KEY, this.conclusions);
    this.showProgress();
  }

  /** Show the model answer, once there is a conclusion to compare with it. */
  compare() {
    const { field, answer } = this.layout;
    if (!field.value.trim()) {
      answer.textContent = "Write a conclusion of your own first.";
      field.focus();
      return;
    }
    this.answeredName = this.item.name;
    if (this.model.get("answers")[this.answeredName]) this.showAnswer();
    else {
      answer.textContent = "Calculating …";
      this.request("answer_request");
    }
  }

  /** Show the model answer, and beside it which of its points the conclusion makes. */
  showAnswer() {
    if (this.answeredName !== this.item.name) return;
    const { answer, field } = this.layout;
    const text = this.model.get("answers")[this.answeredName];
    if (!text) return;
    const points = this.model.get("points")[this.answeredName] ?? [];
    const list = make("ul", "", "fp-compared-points");
    const lines = points.map((point) => ({ point, earned: markPoint(point, field.value).earned }));
    for (const { point, earned } of lines) list.append(make("li", `${earned ? "✓ You say" : "– Not in your words"}: ${point.statement}.`));
    const count = lines.filter(({ earned }) => earned).length;
    answer.replaceChildren(make("p", text), make("p", `Your conclusion makes ${count} of ${lines.length} points, as far as words can tell:`), list);
  }

  showProgress() {
    const { items, layout } = this;
    const count = items.filter((item) => this.isConcluded(item)).length;
    layout.progress.textContent = `${count} of ${items.length} investigations concluded. Your conclusions stay in this browser only.`;
    [...layout.choice.options].forEach((option, k) => {
      option.text = `${this.isConcluded(items[k]) ? "✓ " : ""}${items[k].name}`;
    });
  }

  describe() {
    const { question, variable, result } = this.layout;
    question.textContent = this.item.question;
    variable.textContent = `Vary: ${this.item.vary}`;
    result.textContent = `Look for: ${this.item.lookFor}`;
  }

  show() {
    this.describe();
    this.layout.field.value = this.conclusions[this.item.name] ?? "";
    this.answeredName = "";
    this.layout.answer.textContent = "";
  }

  destroy() {
    this.unsubscribe();
    this.layout.root.remove();
  }
}

export function renderInquiry({ model, el }) {
  const inquiry = new Inquiry(model, el);
  return () => inquiry.destroy();
}
