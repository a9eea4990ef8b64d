// A set of questions: answered one after the other, marked in the page with a reason for every mark, looked
// back on by topic. Answers are kept in this browser and nowhere else.

import { make, pressable, sayWhenFull } from "../bench/ask.js";
import { mountLifeline } from "../bench/lifeline.js";
import { mountRoom } from "../bench/room.js";
import { makeTiles } from "../workshop/tiles.js";
import { markAnswer } from "./mark.js";

const ANSWERS = "fizzplate.revise.1";
const MOST_SETS = 30; // that are remembered

function readAnswers() {
  try {
    const kept = JSON.parse(localStorage.getItem(ANSWERS) ?? "{}");
    return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
  } catch {
    return {};
  }
}
function keepAnswers(name, answers) {
  const kept = readAnswers();
  delete kept[name];
  kept[name] = answers;
  for (const old of Object.keys(kept).slice(0, -MOST_SETS)) delete kept[old];
  try {
    localStorage.setItem(ANSWERS, JSON.stringify(kept));
  } catch {
    // a private window keeps nothing beyond itself
  }
}

/** What is answered with: options, a field, or a list to tick. @returns {{node: HTMLElement, value: () => string}} */
function answering(asked, index, given, changed) {
  if (asked.kind === "choice" || asked.kind === "list") {
    const box = make("fieldset", "", "fp-ask");
    box.append(make("legend", asked.kind === "choice" ? "Pick one" : "Tick what your own answer holds"));
    const ticked = new Set(given.split(" "));
    const many = asked.kind === "list";
    const inputs = (many ? asked.points.map(({ says }) => says) : asked.options.map(({ text }) => text)).map((text, k) => {
      const label = make("label", "", "fp-option");
      const input = document.createElement("input");
      input.type = many ? "checkbox" : "radio";
      input.name = `fp-quiz-${index}`;
      input.value = many ? String(k + 1) : text;
      input.checked = many ? ticked.has(input.value) : given === text;
      input.addEventListener("change", changed);
      label.append(input, make("span", text));
      box.append(label);
      return input;
    });
    return { node: box, value: () => inputs.filter((each) => each.checked).map((each) => each.value).join(" ") };
  }
  const long = asked.kind === "text";
  const field = /** @type {HTMLInputElement} */ (make(long ? "textarea" : "input"));
  if (!long) field.type = "text";
  field.maxLength = long ? 2000 : 200;
  field.value = given;
  field.spellcheck = false;
  field.autocomplete = "off";
  field.addEventListener("input", changed);
  const label = make("label", asked.kind === "number" ? `Your answer, with its unit` : "Your answer");
  label.append(field);
  const box = make("div", "", "fp-ask fp-workshop");
  box.append(label, sayWhenFull(field));
  if (asked.task) box.append(makeTiles(field, asked.task.tiles, "Tiles"));
  return { node: box, value: () => field.value };
}

function verdict(asked, marked, ownJudgement) {
  const box = make("div", "", "fp-verdicts");
  const earned = marked.lines.filter((line) => line.earned).length;
  box.append(make("p", `${earned} of ${asked.marks} mark${asked.marks === 1 ? "" : "s"}.`, "fp-marks"));
  for (const { earned: won, reason } of marked.lines) box.append(make("p", `${won ? "✓" : "○"} ${reason}`));
  if (marked.remark && marked.lines.every((line) => line.reason !== marked.remark)) box.append(make("p", marked.remark));
  if (earned < asked.marks || asked.kind === "text") {
    box.append(make("p", `A full answer: ${asked.answer.replace(/\.$/, "")}.`), ...(asked.kind === "choice" ? [] : [make("p", asked.why)]));
  }
  if (asked.kind === "text" && earned < asked.marks) {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "checkbox";
    input.checked = ownJudgement.given;
    input.addEventListener("change", () => ownJudgement.set(input.checked));
    label.append(input, make("span", "My answer says all of it in other words (own judgement)"));
    box.append(label);
  }
  if (asked.watch) {
    const link = /** @type {HTMLAnchorElement} */ (make("p", "", "fp-note"));
    link.textContent = `A cell that shows it: ${asked.watch}`;
    box.append(link);
  }
  return box;
}

export function renderQuiz({ model, el }) {
  const root = make("section", "", "fp-quiz");
  root.setAttribute("aria-label", "Questions");
  const switches = make("div", "", "fp-room");
  switches.setAttribute("role", "group");
  switches.setAttribute("aria-label", "Room");
  const room = mountRoom(switches, null, () => {}, ["Dim room", "Projector size"]);
  const ownsPage = document.body.dataset.voila !== undefined;
  el.append(root, switches);
  const lifeline = mountLifeline(root, model);
  const frame = make("div");
  root.append(frame);
  /** @type {{given: string, done: boolean, own?: boolean}[]} */
  let answers = [];
  let at = 0;

  const set = () => model.get("questions");
  const marks = () => set().map((asked, k) => (answers[k]?.done ? markAnswer(asked, answers[k].given, model.get("species")) : null));
  const earnedOf = (asked, marked, k) => (answers[k]?.own ? asked.marks : marked.lines.filter((line) => line.earned).length);

  function keep() {
    keepAnswers(model.get("name"), answers);
  }
  function lookBack() {
    const box = make("div", "", "fp-lookback");
    const marked = marks();
    /** @type {Map<string, [number, number]>} */
    const topics = new Map();
    set().forEach((asked, k) => {
      if (!marked[k]) return;
      const [won, of] = topics.get(asked.topic) ?? [0, 0];
      topics.set(asked.topic, [won + earnedOf(asked, marked[k], k), of + asked.marks]);
    });
    if (!topics.size) return box;
    const table = document.createElement("table");
    table.createCaption().textContent = "A look back, by topic";
    for (const [topic, [won, of]] of topics) {
      const row = table.insertRow();
      const name = make("th", topic);
      name.setAttribute("scope", "row");
      const bar = make("td");
      const meter = document.createElement("meter");
      [meter.min, meter.max, meter.value] = [0, of, won];
      meter.setAttribute("aria-label", `${topic}: ${won} of ${of}`);
      bar.append(meter);
      row.append(name, bar, make("td", `${won} of ${of}`));
    }
    const total = [...topics.values()].reduce(([a, b], [won, of]) => [a + won, b + of], [0, 0]);
    box.append(make("h2", "Result"), make("p", `${total[0]} of ${total[1]} marks so far.`), table);
    const again = set().flatMap((asked, k) => (marked[k] && earnedOf(asked, marked[k], k) < asked.marks ? [k] : []));
    if (again.length) {
      box.append(pressable("Again what was not right", () => {
        for (const k of again) answers[k] = { given: "", done: false };
        at = again[0];
        keep();
        draw();
      }));
    }
    return box;
  }
  function draw() {
    const questions = set();
    frame.replaceChildren();
    if (!questions.length) return;
    at = Math.min(at, questions.length - 1);
    const asked = questions[at];
    const own = (answers[at] ??= { given: "", done: false });
    const card = make("div", "", "fp-question-card");
    card.append(
      make("h2", `Question ${at + 1} of ${questions.length}`),
      make("p", `${asked.topic}, ${asked.marks} mark${asked.marks === 1 ? "" : "s"}`, "fp-note"),
      make("p", asked.text, "fp-question"),
    );
    const field = answering(asked, at, own.given, () => {
      own.given = field.value();
      keep();
    });
    card.append(field.node);
    const said = make("div");
    said.setAttribute("role", "status");
    const showMarks = () => {
      const marked = markAnswer(asked, own.given, model.get("species"));
      said.replaceChildren(verdict(asked, marked, { given: Boolean(own.own), set(value) {
        own.own = value;
        keep();
        back.replaceChildren(lookBack());
      } }));
      back.replaceChildren(lookBack());
    };
    const row = make("div", "", "fp-options");
    const move = (by) => () => {
      at = Math.min(Math.max(at + by, 0), questions.length - 1);
      draw();
      frame.querySelector("h2")?.scrollIntoView({ block: "nearest" });
    };
    const before = pressable("Back", move(-1));
    before.disabled = at === 0;
    const next = pressable("Next question", move(1));
    next.disabled = at === questions.length - 1;
    row.append(pressable("Mark it", () => {
      own.given = field.value();
      own.done = true;
      keep();
      showMarks();
    }), before, next);
    card.append(row, said);
    const back = make("div");
    frame.append(card, back);
    if (own.done) showMarks();
    else back.replaceChildren(lookBack());
  }
  const link = ownsPage ? location.search : "";
  function start() {
    answers = readAnswers()[model.get("name")] ?? [];
    at = Math.max(0, answers.findIndex((each) => !each?.done));
    draw();
  }
  function changedSet() {
    if (ownsPage) history.replaceState(null, "", new URL(`?${model.get("query")}`, location.href).href);
    start();
  }
  model.on("change:name", changedSet);
  start();
  if (link && link !== `?${model.get("query")}`) {
    model.set("opened", link);
    model.save_changes();
  }
  return () => {
    model.off("change:name", changedSet);
    room.destroy();
    lifeline.destroy();
    root.remove();
    switches.remove();
  };
}
