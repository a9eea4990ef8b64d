// The half-equation workshop: build an equation from tiles or type it, check atoms and charge separately, take hints one
// by one, then add the equations of both electrodes. It needs no program behind the page.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton, sayWhenFull } from "../kit/elements.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { isUnread, judge } from "./judge.js";
import { makeTiles } from "./tiles.js";

const TAB_KEY = "workshop.1";

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
  verdict.id = `fp-verdict-${key.replaceAll(" ", "-")}`;
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

export function renderWorkshop({ model, el }) {
  const before = keptInTab(TAB_KEY) ?? {};
  const texts = new Map(before.written); // of each task's field, whichever cell is shown
  const keep = () => keepInTab(TAB_KEY, { written: [...texts], cell: choice.value });
  addEventListener("pagehide", keep);
  const root = make("section", "", "fp-workshop");
  root.setAttribute("aria-label", "Half-equation workshop");
  const label = make("label", "Cell ");
  const choice = /** @type {HTMLSelectElement} */ (make("select"));
  model.get("data").cells.forEach((cell, k) => choice.append(new Option(cell.label, String(k))));
  if (choice.options[before.cell]) choice.value = before.cell;
  label.append(choice);
  const parts = make("div", "", "fp-equation-tasks");
  const done = make("p", "", "fp-note");
  done.setAttribute("role", "status");
  root.append(make("h2", "Half-equation workshop"), label, parts, done);
  el.append(root);

  function show() {
    const { species, tasks, cells, titles } = model.get("data");
    const cell = cells[Number(choice.value)];
    const solved = new Set();
    done.textContent = "";
    const names = Object.keys(titles).filter((name) => cell[name]);
    parts.replaceChildren(...names.map((name) => mountTask(titles[name], tasks[cell[name]], species, {
      texts,
      key: `${choice.value} ${name}`,
      onSolved() {
        solved.add(name);
        done.textContent = solved.size === names.length ? "All equations of this cell are right." : "";
      },
    })));
  }
  choice.addEventListener("change", show);
  model.on("change:data", show);
  show();
  return () => {
    model.off("change:data", show);
    removeEventListener("pagehide", keep);
    root.remove();
  };
}
