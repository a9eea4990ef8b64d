// The page to take away: the widgets' own drawing code over runs that lie in the file.

import { keepFocus } from "../../views/web/address/focus.js";
import { renderBench } from "../../views/bench/bench.js";
import { mountScreenSwitches } from "../../views/kit/screen.js";
import { renderQuiz } from "../../views/quiz/quiz.js";
import { renderWorkshop } from "../../views/workshop/workshop.js";
import { mountBar } from "./bar.js";
import { createModel } from "./model.js";
import { openPlain, openRuns } from "./unpack.js";

const PARTS = ["cell", "equations", "questions", "about"];
const TOO_OLD = "This browser is too old for this page. Use a browser from 2023 or later.";
const NO_MORE = "The file holds no more questions like this one.";

/** @param {string} id */
const partOf = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @param {HTMLElement} page @param {string} name */
function hostIn(page, name) {
  const host = document.createElement("div");
  host.className = name;
  page.append(host);
  return host;
}

/** One part is shown at a time; the address says which. */
function followAddress() {
  function show() {
    const id = PARTS.includes(location.hash.slice(1)) ? location.hash.slice(1) : PARTS[0];
    for (const each of PARTS) partOf(each).hidden = each !== id;
    for (const link of document.querySelectorAll(".fp-taken-head a")) {
      if (link.getAttribute("href") === `#${id}`) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    scrollTo(0, 0);
  }
  addEventListener("hashchange", show);
  show();
}

/**
 * What the lesson's steps ask a program for: the switch closed or open, or the next solution.
 * @param {import("./model.js").Model} model @param {{onSwitch: (isOn: boolean) => void, onNext: () => void}} answers
 */
function answerSteps(model, { onSwitch, onNext }) {
  model.on("change:request", () => {
    const { what } = model.get("request");
    if (what === "next") onNext();
    else if (what) onSwitch(what === "on");
  });
}

/** What a bench is before its first run is unpacked. @param {any} species of equations */
const emptyBench = (species) => ({ show_count: 0, place: "", species, charts: [], lesson: {}, in_steps: true, next_label: "", request: {} });

/**
 * The cell: a list, menus, a switch and the bench.
 * @param {{cells: import("./bar.js").Offer[], open: number}} plain @param {string[]} blocks
 * @param {any} species of equations
 */
function mountCell(plain, blocks, species) {
  const { cells } = plain;
  const page = partOf("cell");
  const opened = /** @type {(Promise<Record<string, () => any>[]>|undefined)[]} */ ([]);
  const model = createModel(emptyBench(species));
  let [at, variant, on] = [plain.open, cells[plain.open].own, false];
  const last = cells.map(({ own }) => ({ variant: own, on: false })); // how each cell was left
  const run = /** @type {Set<number>} */ (new Set()); // cells that were switched on
  let request = 0;
  const bar = mountBar(page, cells, { onCell: choose, onVariant: (to) => vary(to, false), onSwitch: () => vary(variant, !on) });
  const host = hostIn(page, "fp-bench-host");

  /** @param {number} to a cell, as it was left */
  function choose(to) {
    at = to;
    ({ variant, on } = last[at]);
    show(on);
  }
  /** @param {number} to a run of the cell @param {boolean} isOn */
  function vary(to, isOn) {
    [variant, on] = [to, isOn];
    show();
  }
  async function show(again = false) {
    last[at] = { variant, on };
    if (on) run.add(at);
    bar.show(at, variant, on, run);
    const mine = (request += 1);
    bar.setBusy(true);
    const runs = await (opened[at] ??= openRuns(blocks[at]));
    if (mine !== request) return; // another cell was chosen meanwhile
    const state = runs[variant][on ? "on" : "rest"]();
    const following = cells[at + 1]?.label ?? "";
    model.change({ ...state, next_label: following, lesson: { ...state.lesson, again }, show_count: model.get("show_count") + 1 }, "show_count");
    bar.setBusy(false);
  }
  answerSteps(model, { onSwitch: (isOn) => vary(variant, isOn), onNext: () => choose(Math.min(at + 1, cells.length - 1)) });
  model.on("change:reset", () => {
    // a new class: nothing has been run
    run.clear();
    last.forEach((each) => (each.on = false));
    on = false;
    show();
  });
  renderBench({ model, el: host });
  show();
  return {
    /** Switch on the cell that a question refers to. @param {string} key as links write it */
    watch(key) {
      const to = cells.findIndex(({ keys }) => keys.includes(key));
      if (to < 0) return;
      [at, variant, on] = [to, cells[to].keys.indexOf(key), true];
      location.hash = "cell";
      show();
    },
  };
}

/**
 * @param {{state: Record<string, any>, alike: Record<string, any[]>}} quiz
 * @param {(key: string) => void} watch
 */
function mountQuestions({ state, alike }, watch) {
  const model = createModel(state);
  const take = ({ like, unlike }) => {
    const place = (alike[like] ?? []).findIndex(({ text }) => !unlike.includes(text));
    return place < 0 ? null : alike[like].splice(place, 1)[0];
  };
  model.respond((message) => {
    if (message.again) return { round: message.again.map(take) };
    const more = take(message);
    return more ? { more } : { said: NO_MORE };
  });
  model.on("change:watch", () => {
    const key = model.get("watch");
    if (!key) return;
    watch(key);
    model.change({ watch: "", watch_count: model.get("watch_count") + 1 }, "watch_count");
  });
  renderQuiz({ model, el: hostIn(partOf("questions"), "fp-quiz-host") });
}

export async function startTakeAway() {
  followAddress();
  keepFocus(/** @type {Element} */ (document.querySelector("main")));
  const notice = /** @type {HTMLElement} */ (document.querySelector(".fp-taken-notice[role]"));
  if (!("DecompressionStream" in globalThis)) {
    notice.textContent = TOO_OLD;
    notice.hidden = false;
    return;
  }
  const plain = JSON.parse(partOf("fp-plain").textContent ?? "");
  const [shared, ...blocks] = [...document.querySelectorAll(".fp-block")].map((block) => block.textContent ?? "");
  const { quiz, workshop, species } = await openPlain(shared);
  const { watch } = mountCell(plain, blocks, species);
  const more = hostIn(partOf("equations"), "fp-more");
  const desk = hostIn(more, "fp-workshop-host");
  renderWorkshop({ model: createModel({ data: workshop }), el: desk });
  mountQuestions(quiz, watch);
  for (const id of ["equations", "about"]) {
    const switches = hostIn(partOf(id), "fp-screen-switches");
    switches.setAttribute("role", "group");
    switches.setAttribute("aria-label", "Room");
    mountScreenSwitches(switches, null, () => {}, ["Dim room", "Projector size"]);
  }
}
