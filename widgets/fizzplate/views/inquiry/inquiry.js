// The investigations. What is concluded stays in this browser and can be cleared.

import { make, makeButton, sayWhenFull } from "../kit/elements.js";

const KEPT = "fizzplate.inquiry.1";
const LONGEST_CONCLUSION = 1500;

function readKept() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? "{}");
    return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
  } catch {
    return {};
  }
}

export function renderInquiry({ model, el }) {
  let kept = readKept();
  let items = model.get("items");
  let answered = ""; // the investigation whose model answer stands here
  const root = make("section", "", "fp-inquiry");
  root.setAttribute("aria-label", "Investigations");
  const label = make("label", "Investigation ");
  const choice = /** @type {HTMLSelectElement} */ (make("select"));
  label.append(choice);
  const question = make("p", "", "fp-question");
  const vary = make("p");
  const look = make("p");
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = 4;
  field.maxLength = LONGEST_CONCLUSION;
  const conclude = make("label", "My conclusion");
  conclude.append(field);
  const answer = make("p", "", "fp-model-answer");
  answer.setAttribute("role", "status");
  const progress = make("p", "", "fp-note");

  function keep() {
    try {
      localStorage.setItem(KEPT, JSON.stringify(kept));
    } catch {
      // a private window keeps nothing beyond itself
    }
    name();
  }
  function name() {
    const done = items.filter((item) => kept[item.name]?.trim()).length;
    progress.textContent = `${done} of ${items.length} investigations concluded. Your conclusions stay in this browser only.`;
    [...choice.options].forEach((option, k) => {
      option.text = `${kept[items[k].name]?.trim() ? "✓ " : ""}${items[k].name}`;
    });
  }
  const now = () => items[choice.selectedIndex];
  const request = (trait) => () => {
    model.set(trait, { name: now().name, at: Date.now() });
    model.save_changes();
  };
  function describe() {
    const item = now();
    question.textContent = item.question;
    vary.textContent = `Vary: ${item.vary}`;
    look.textContent = `Look for: ${item.lookFor}`;
  }
  function show() {
    describe();
    const item = now();
    field.value = kept[item.name] ?? "";
    answered = "";
    answer.textContent = "";
  }
  const shown = () => {
    if (answered === now().name) answer.textContent = model.get("answers")[answered] ?? "";
  };
  for (const item of items) choice.append(new Option(item.name));
  choice.addEventListener("change", show);
  field.addEventListener("input", () => {
    kept[now().name] = field.value.slice(0, LONGEST_CONCLUSION);
    keep();
  });
  const worded = () => {
    items = model.get("items");
    describe();
  };
  model.on("change:answers", shown);
  model.on("change:items", worded);
  const row = make("div", "", "fp-options");
  const compare = makeButton("Show a model answer", () => {
    if (!field.value.trim()) {
      answer.textContent = "Write a conclusion of your own first.";
      field.focus();
      return;
    }
    answered = now().name;
    if (model.get("answers")[answered]) shown();
    else {
      answer.textContent = "Calculating …";
      request("answer_request")();
    }
  });
  row.append(makeButton("Set it up", request("setup_request")), compare, makeButton("Clear my progress", () => {
    if (!confirm("Forget all conclusions?")) return;
    kept = {};
    keep();
    show();
  }));
  root.append(make("h2", "Investigations"), label, question, vary, look, conclude, sayWhenFull(field), row, answer, progress);
  el.append(root);
  name();
  show();
  return () => {
    model.off("change:answers", shown);
    model.off("change:items", worded);
    root.remove();
  };
}
