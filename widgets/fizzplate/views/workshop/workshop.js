// The half-equation workshop: build from tiles or type, check atoms and charge apart, take hints in steps, then
// add both electrodes up. It needs no program behind the page.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton, sayWhenFull } from "../kit/elements.js";
import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { isUnread, judge } from "./judge.js";
import { makeTiles } from "./tiles.js";

const KEPT = "workshop.1";

function mountTask(title, task, species, { written, place, solved }) {
  const part = make("section", "", "fp-equation-task");
  part.setAttribute("aria-label", title);
  const label = make("label", task.asks);
  const field = /** @type {HTMLInputElement} */ (make("input"));
  field.type = "text";
  field.maxLength = 200;
  field.autocomplete = "off";
  field.spellcheck = false;
  field.placeholder = "A+ + e- -> A"; // how it is typed: no answer of any cell
  field.value = written.get(place) ?? "";
  field.addEventListener("input", () => {
    written.set(place, field.value);
    setWrong(field, "");
  });
  label.append(field);
  const tiles = makeTiles(field, task.tiles, `Tiles, ${title}`);
  const verdict = make("div", "", "fp-verdicts");
  verdict.setAttribute("role", "status");
  verdict.id = `fp-verdict-${place.replaceAll(" ", "-")}`;
  let hinted = 0;

  function say(sentences, { isWrong = false } = {}) {
    verdict.replaceChildren(...sentences.map((text) => make("p", text)));
    setWrong(field, isWrong ? verdict.id : "");
  }
  function check() {
    const { code, says } = judge(field.value, task, species);
    part.dataset.code = code;
    say(says, { isWrong: isUnread(code) });
    if (code === "right") solved();
  }
  function hint() {
    const shown = task.hints.slice(0, (hinted = Math.min(hinted + 1, task.hints.length)));
    say(shown);
    ask.disabled = hinted === task.hints.length;
  }
  const ask = makeButton("Hint", hint);
  field.addEventListener("keydown", (event) => {
    if (event.key === "Enter") check();
  });
  const row = make("div", "", "fp-options");
  row.append(makeButton("Check", check), ask, makeButton("Clear", () => {
    field.value = "";
    written.delete(place);
    delete part.dataset.code;
    say([]);
    field.focus();
  }));
  part.append(make("h3", title), label, sayWhenFull(field), tiles, row, verdict);
  return part;
}

export function renderWorkshop({ model, el }) {
  const before = keptInTab(KEPT) ?? {};
  const written = new Map(before.written); // what was typed for each task, whichever cell is shown
  const leave = () => keepInTab(KEPT, { written: [...written], cell: choice.value });
  addEventListener("pagehide", leave);
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
    const named = Object.keys(titles).filter((name) => cell[name]);
    parts.replaceChildren(...named.map((name) => mountTask(titles[name], tasks[cell[name]], species, {
      written,
      place: `${choice.value} ${name}`,
      solved() {
        solved.add(name);
        done.textContent = solved.size === named.length ? "All equations of this cell are right." : "";
      },
    })));
  }
  choice.addEventListener("change", show);
  model.on("change:data", show);
  show();
  return () => {
    model.off("change:data", show);
    removeEventListener("pagehide", leave);
    root.remove();
  };
}
