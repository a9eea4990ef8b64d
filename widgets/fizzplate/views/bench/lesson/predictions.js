// Predict before the switch is closed; observe before what is expected is shown. Both can be passed over.

import { make, makeButton, sayWhenFull } from "../../kit/elements.js";
import { say } from "../../kit/say.js";
import { within } from "../../kit/store.js";
import { entryOf, sideOf } from "./run_stages.js";
import { compareObservation, judgePrediction } from "./feedback.js";

/** @typedef {import("../../kit/store.js").Store} Store */

const WHAT_FORMS = { cathode: "What forms at the {cathode_in_full}?", anode: "What forms at the {anode_in_full}?" };
const WHAT_IS_SEEN = { cathode: "What do you see at the {cathode_in_full}?", anode: "What do you see at the {anode_in_full}?" };

/** One choice for the page, or a count of hands for each product. */
function predictionForm(question, entry, role, keep, slots, key) {
  const box = make("fieldset", "", "fp-task fp-prediction");
  box.append(make("legend", say(WHAT_FORMS[role], slots)));
  const options = make("div", "", "fp-options");
  const chosen = entry[`${role}:predicted`] ?? "";
  const hands = entry[`${role}:hands`] ?? {};
  const isCounting = entry.counting === true;
  for (const option of question.options) {
    const label = make("label", "", "fp-option");
    const input = document.createElement("input");
    if (isCounting) {
      input.type = "number";
      input.min = "0";
      input.max = "99";
      input.value = String(hands[option] ?? "");
      input.addEventListener("change", () => {
        hands[option] = Math.min(99, Math.max(0, Math.round(Number(input.value) || 0)));
        const most = Math.max(...Object.values(hands));
        const leading = Object.keys(hands).find((each) => hands[each] === most);
        keep({ [`${role}:hands`]: hands, [`${role}:predicted`]: most > 0 ? leading : "" });
      });
    } else {
      input.type = "radio";
      input.name = `fp-predict-${role} ${key}`;
      input.checked = option === chosen;
      input.addEventListener("change", () => keep({ [`${role}:predicted`]: option }));
    }
    label.append(input, make("span", option));
    options.append(label);
  }
  box.append(options);
  return box;
}

/** The ions that the class says come to an electrode. */
function travelForm(ions, entry, role, keep) {
  const box = make("details", "", "fp-task fp-migration");
  box.append(make("summary", "Which ions travel here?"));
  const options = make("div", "", "fp-options");
  const named = new Set(entry[`${role}:travel`] ?? []);
  for (const { label } of ions) {
    const option = make("label", "", "fp-option");
    const input = document.createElement("input");
    input.type = "checkbox";
    input.checked = named.has(label);
    input.addEventListener("change", () => {
      if (input.checked) named.add(label);
      else named.delete(label);
      keep({ [`${role}:travel`]: [...named] });
    });
    option.append(input, make("span", label));
    options.append(option);
  }
  box.append(options);
  return box;
}

/** What is seen, in own words or picked. */
export function observationField(question, entry, role, keep, slots, onChange = () => {}) {
  const box = make("div", "", "fp-task fp-observation");
  const field = /** @type {HTMLTextAreaElement} */ (make("textarea"));
  field.rows = 2;
  field.maxLength = 500;
  const name = `${entryOf(question, role)}:observed`;
  field.value = entry[name] ?? "";
  const label = make("label", say(WHAT_IS_SEEN[role], slots));
  label.append(field);
  const full = sayWhenFull(field);
  const phrases = /** @type {HTMLSelectElement} */ (make("select"));
  phrases.setAttribute("aria-label", "Phrases to pick from");
  phrases.append(new Option("or pick a phrase", ""), ...question.phrases.map((text) => new Option(text, text)));
  field.addEventListener("input", () => {
    keep({ [name]: within(field.value) });
    onChange();
  });
  phrases.addEventListener("change", () => {
    if (!phrases.value) return;
    field.value = phrases.value;
    keep({ [name]: phrases.value });
    onChange();
  });
  box.append(label, full, phrases);
  return { box, field };
}

/** What is seen; then it is compared, or shown as it is if nothing is written. */
function observationForm(question, entry, role, keep, show, slots) {
  const showButton = makeButton("", show);
  const name = () => { showButton.textContent = field.value.trim() ? "Compare" : "Show"; };
  const { box, field } = observationField(question, entry, role, keep, slots, name);
  name();
  const row = make("div", "", "fp-options");
  row.append(showButton);
  box.append(row);
  return box;
}

/** What the class predicted and saw, compared with what is expected. */
function feedback(question, entry, role, ions, traps) {
  const box = make("div", "", "fp-task fp-feedback");
  const add = (text) => box.append(make("p", text));
  const own = entryOf(question, role);
  const predicted = entry[`${own}:predicted`];
  if (predicted) add(`Predicted: ${predicted} (${judgePrediction(predicted, question)}).`);
  const travel = entry[`${own}:travel`] ?? [];
  if (travel.length) {
    const right = ions.filter(({ goes }) => goes === role).map(({ label }) => label);
    const same = right.length === travel.length && right.every((ion) => travel.includes(ion));
    add(`You said that these ions travel here: ${travel.join(", ")}. ${same ? "Those are all of them." : `They are ${right.join(", ")}.`}`);
  }
  const observed = entry[`${own}:observed`];
  if (observed) {
    const { mentioned, missing, trapped } = compareObservation(observed, question.points, traps);
    add(`You wrote: “${observed}”. ${mentioned.length ? `You mentioned: ${mentioned.join(", ")}. ` : ""}${missing.length ? `You left out: ${missing.join(", ")}.` : ""}`);
    trapped.forEach(add);
    add(`Expected: ${question.observation}.`);
  }
  return box.childElementCount ? box : null;
}

/**
 * @param sideCards nodes of both side cards @param lesson of the run @param {Store} store
 * @param {import("../../kit/say.js").Slots} slots the board's names for the electrodes
 * @param {{enabled: boolean, reveal: (index: number) => void}} options reveal: what an electrode does may be shown now
 */
export function mountPredictions(sideCards, lesson, store, slots, { enabled, reveal }) {
  const { ask, ions, traps } = lesson.classroom;
  const key = lesson.key;
  const keep = (changes) => store.change(key, changes);
  const cards = ask.map((_, index) => sideCards[sideOf(lesson, index)]);

  const shown = new Set(); // electrodes whose products have been shown

  function draw(role, index) {
    const entry = store.of(key);
    const node = cards[index];
    node.querySelectorAll(".fp-task, .fp-task-caution").forEach((each) => each.remove());
    const question = ask[index];
    const waiting = enabled && lesson.on && question.points && !entry[`${entryOf(question, role)}:shown`];
    const parts = [];
    if (enabled && !lesson.on) {
      parts.push(predictionForm(question, entry, role, keep, slots, key), travelForm(ions, entry, role, keep));
      parts.push(make("p", "Predict, then switch on.", "fp-task fp-instruction"));
    } else if (waiting) {
      parts.push(observationForm(question, entry, role, keep, () => show(index), slots));
      parts.push(make("p", lesson.generalCaution, "fp-note fp-caution fp-task-caution"));
    } else if (enabled && lesson.on && question.points) parts.push(feedback(question, entry, role, ions, traps));
    node.querySelector("header").after(...parts.filter(Boolean));
    if (waiting || (enabled && !lesson.on) || shown.has(index)) return;
    shown.add(index);
    reveal(index);
  }
  const roles = ask.map((each) => each.role);
  /** Show what an electrode does, and go on reading there. @param {number} index */
  function show(index) {
    keep({ [`${entryOf(ask[index], roles[index])}:shown`]: true });
    draw(roles[index], index);
    const next = cards[index].querySelector(".fp-feedback") ?? cards[index].querySelector(".fp-product");
    next.tabIndex = -1;
    next.focus();
  }
  const countButton = makeButton(store.of(key).counting ? "One choice" : "Count hands", () => {
    keep({ counting: !store.of(key).counting });
    countButton.textContent = store.of(key).counting ? "One choice" : "Count hands";
    roles.forEach(draw);
    sideCards[0].querySelector(".fp-prediction")?.append(countButton);
    countButton.focus();
  });
  countButton.classList.add("fp-for-teachers");
  roles.forEach(draw);
  sideCards[0].querySelector(".fp-prediction")?.append(countButton);
  return { showAll: () => roles.map((_, index) => index).filter((index) => !shown.has(index)).reverse().forEach(show) };
}
