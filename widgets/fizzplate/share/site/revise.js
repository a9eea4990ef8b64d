// The questions of a site: a set of each topic and level, marked in the page; a link opens the same set.

import { make, makeButton } from "../../views/kit/elements.js";
import { hostIn } from "../takeaway/hosts.js";
import { mountQuestions } from "../takeaway/questions.js";
import { openPlain } from "../takeaway/unpack.js";
import { notice, openSitePage, sayNotThere, textOf } from "./opening.js";

const NOT_HERE = "The set that this link asks for is not on this site. Choose one of these.";

/** Level, topic and set that a link asks for, if any. @param {string} search @param {{topics: string[]}} sets @returns {[string, string, string]|null} */
export function chosenIn(search, { topics }) {
  const link = new URLSearchParams(search);
  const set = link.get("set");
  return set === null ? null : [link.get("level") ?? "14", link.get("topics") || topics[0], set];
}

/** @param {string} label @param {[string, string][]} options values and names @param {string} value */
function menu(label, options, value) {
  const line = make("label", label);
  const select = /** @type {HTMLSelectElement} */ (make("select"));
  for (const [each, name] of options) select.append(new Option(name, each));
  if (options.some(([each]) => each === value)) select.value = value;
  line.append(select);
  return { line, select };
}

/** Show the cell of a question on Explore, with its switch closed. @param {string} key */
const watch = (key) => location.assign(`explore.html?${new URLSearchParams({ v: "1", cells: key, on: "1" })}`);

/**
 * The choice of a set.
 * @param {HTMLElement} page @param {any} sets levels, topics, how many, and files
 * @param {(level: string, topic: string, set: string) => void} onChosen
 */
function mountChoice(page, sets, onChosen) {
  const link = new URLSearchParams(location.search);
  const row = make("div", "", "fp-site-choice");
  const numbers = Array.from({ length: sets.sets }, (_, k) => String(k + 1));
  const level = menu("My age", Object.entries(sets.levels), link.get("level") ?? "14");
  const topic = menu("Topic", sets.topics.map((/** @type {string} */ each) => [each, each]), link.get("topics") ?? sets.topics[0]);
  const set = menu("Set", numbers.map((each) => [each, each]), link.get("set") ?? "1");
  const lock = () => {
    for (const option of topic.select.options) option.disabled = !(`${level.select.value}/${option.value}/1` in sets.files);
    if (topic.select.selectedOptions[0]?.disabled) topic.select.value = sets.topics[0];
  };
  level.select.addEventListener("change", lock);
  lock();
  const begin = makeButton("Begin", () => onChosen(level.select.value, topic.select.value, set.select.value));
  begin.classList.add("fp-main-action");
  row.append(level.line, topic.line, set.line, begin);
  page.append(row);
}

export const openPage = () => openSitePage((page, { sets }) => {
  let close = () => {};
  let asked = 0;
  async function open(/** @type {string} */ level, /** @type {string} */ topic, /** @type {string} */ set) {
    const mine = (asked += 1);
    try {
      const { quiz } = await openPlain(await textOf(sets.files[`${level}/${topic}/${set}`]));
      if (mine !== asked) return; // another set was chosen meanwhile
      notice("");
      close();
      place.replaceChildren();
      close = mountQuestions(hostIn(place, "fp-quiz-host"), quiz, watch);
      history.replaceState(history.state, "", `?${new URLSearchParams({ v: "1", level, topics: topic, set })}`);
    } catch {
      sayNotThere(); // the last set stays
    }
  }
  mountChoice(page, sets, open);
  const place = hostIn(page, "fp-site-set");
  const asks = chosenIn(location.search, sets);
  if (!asks) return;
  if (asks.join("/") in sets.files) open(...asks);
  else notice(NOT_HERE);
});
