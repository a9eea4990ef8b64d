// Lessons kept by name in this browser: what a class predicted, saw and wrote, to be opened on another day.

import { make, makeButton } from "../../kit/elements.js";
import { readRecord, writeStored } from "../../kit/local_storage.js";

/** @typedef {import("../../kit/store.js").Store} Store */

const STORAGE_KEY = "fizzplate.lessons.1";
const MAX_LESSONS = 40;
const MAX_NAME = 60; // characters

const entriesOf = (store) => Object.fromEntries(store.keys().map((key) => [key, store.of(key)]));

/** @param {Store} store @param {(said: string) => void} onChange what is kept, opened or forgotten, as a sentence */
export function mountKeptLessons(store, onChange) {
  const lessons = readRecord(STORAGE_KEY);
  const names = Object.keys(lessons);
  const fold = /** @type {HTMLDetailsElement} */ (make("details", "", "fp-kept-lessons"));
  const row = make("div", "", "fp-options");
  const label = make("label", "Name of this lesson ");
  const field = /** @type {HTMLInputElement} */ (make("input"));
  field.type = "text";
  field.maxLength = MAX_NAME;
  label.append(field);
  const keep = (kept) => writeStored(STORAGE_KEY, kept);

  function keepThis() {
    const name = field.value.trim();
    if (!name) return;
    if (names.length >= MAX_LESSONS && !names.includes(name)) onChange(`No more than ${MAX_LESSONS} lessons are kept. Forget one first.`);
    else onChange(keep({ ...lessons, [name]: entriesOf(store) }) ? `Kept in this browser: ${name}.` : "This browser keeps nothing.");
  }
  row.append(label, makeButton("Keep lesson", keepThis, "keep lesson"));
  fold.append(make("summary", "Kept lessons"), row);
  if (names.length) fold.append(chooser(store, lessons, keep, onChange));
  return fold;
}

/** Open or forget one of the lessons that are kept. */
function chooser(store, lessons, keep, onChange) {
  const row = make("div", "", "fp-options");
  const menu = /** @type {HTMLSelectElement} */ (make("select"));
  menu.setAttribute("aria-label", "Kept lesson");
  for (const name of Object.keys(lessons)) menu.append(new Option(name, name));
  const open = () => {
    store.clear();
    store.restore(lessons[menu.value]);
    onChange(`Opened: ${menu.value}.`);
  };
  const forget = () => {
    keep(Object.fromEntries(Object.entries(lessons).filter(([name]) => name !== menu.value)));
    onChange(`Forgotten: ${menu.value}.`);
  };
  row.append(menu, makeButton("Open lesson", open, "open lesson"), makeButton("Forget lesson", forget, "forget lesson"));
  return row;
}
