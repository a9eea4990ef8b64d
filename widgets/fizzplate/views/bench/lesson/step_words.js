// What stands in large letters below the cell at each step, and the one caution that matters then.

import { make, note, write } from "../../kit/elements.js";
import { MIN_CURRENT_A, clockText } from "../../kit/format.js";
import { sampleAt } from "../../scene/record.js";
import { sinceText } from "./run_stages.js";

export const TEST_CAUTION = "Collect one small tube of gas and take it away from the cell. Never light gas at the cell. Your school's risk assessment decides.";

/** @type {Record<import("./path.js").StepName, [string, string]>} heading and line */
const WORDS = {
  predict: ["Choose at both sides. The next step closes the switch.", "What will form at each electrode?"],
  watch: ["Look at each electrode. What do you see?", "Current flows: electrons move in the wire, ions move in the solution."],
  test: ["First say what you expect the test to show.", "Which gas is it? Choose a test at each electrode."],
  explain: ["", ""],
  record: ["Write your answer. Press Reveal to see what is expected, and Hide to hide it again.", "Fill in the results together."],
};
const PREDICT_A_MELT = "Choose at both sides. There is no run of a melt here: the next step explains what forms.";
const NO_CURRENT = "No current flows";

/**
 * Texts that may name what forms: in the page only while they are open.
 * @param {string} title @param {string[]} texts @param {string} whose class of the fold @param {string} [kind] class of each text
 */
function folded(title, texts, whose, kind) {
  const fold = make("details", "", whose);
  const summary = make("summary", title);
  fold.append(summary);
  fold.addEventListener("toggle", () => {
    fold.replaceChildren(summary, ...(/** @type {HTMLDetailsElement} */ (fold).open ? texts.map((text) => note(text, kind)) : []));
  });
  return fold;
}

/** The caution that matters at a step. @param lesson of the run @param {import("./path.js").StepName} step @param {number} side that is explained, or -1 */
export function cautionNow({ generalCaution, electrodes, cautions }, step, side) {
  if (step === "predict" || step === "watch") return generalCaution;
  if (step === "test") return TEST_CAUTION;
  const own = electrodes.map((each) => each.cautions[0]);
  return own[side] ?? own[1] ?? own[0] ?? cautions[0] ?? generalCaution;
}

/** @param layout parts of the page @param lesson what is shown @param record of the run */
export function mountStepWords({ heading, line, sentence, notes, unseen }, ofRun, record) {
  let lesson = ofRun; // or one of its stages
  let step = /** @type {import("./path.js").StepName} */ ("predict");
  let lastCaution = "";
  unseen.replaceChildren();
  sentence.classList.add("fp-spoken");

  /** Which stage a step speaks of: the row of the results table is that of the first. */
  function whenText(now) {
    if (now === "record") return ofRun.stages?.length ? `As it was before ${clockText(ofRun.stages[0].fromS)}: ` : "";
    return now === "predict" ? "" : sinceText(lesson);
  }
  function writeCaution(side) {
    const text = cautionNow(lesson, step, side);
    const isAsked = step === "predict" || step === "watch" || step === "test";
    if (lastCaution === `${step} ${text}`) return;
    lastCaution = `${step} ${text}`;
    const all = [...lesson.electrodes.flatMap((each) => each.cautions), ...lesson.cautions];
    const title = isAsked ? "Cautions for the teacher: they name what may form" : "All cautions";
    const added = (isAsked && lesson.addedCautions) || []; // of what has been poured in: it is no secret
    const further = isAsked && !lesson.isMelt ? [] : lesson.notes;
    notes.replaceChildren(
      ...added.map((each) => note(each, "fp-caution")), note(text, "fp-caution"),
      folded(title, all, isAsked ? "fp-teacher fp-for-teachers" : "fp-teacher", "fp-caution"),
      // more than one in sight would take room from the picture
      ...(further.length > 1 ? [folded("Notes on this run", further, "")] : further.map((each) => note(each))),
    );
  }
  return {
    /** @param {import("./path.js").StepName} now @param {{heading?: string, line?: string, side?: number}} [words] of an explanation */
    show(now, words = {}) {
      step = now;
      write(heading, words.heading ?? (lesson.isMelt && now === "predict" ? PREDICT_A_MELT : `${whenText(now)}${WORDS[now][0]}`));
      write(line, words.line ?? WORDS[now][1]);
      writeCaution(words.side ?? -1);
    },
    /** Another stage of the run is reached. @param of it */
    enter(of) {
      lesson = of;
      lastCaution = "";
    },
    /** @param {string} text */
    say: (text) => write(line, text),
    /** One who does not see hears what is seen. @param {number} timeS */
    update(timeS) {
      const begun = ofRun.seen.filter(([fromS]) => fromS <= timeS + 1e-6);
      write(sentence, step === "watch" || !lesson.on ? (begun.at(-1) ?? ofRun.seen[0])[1] : "");
      if (step !== "watch") return;
      const isFlowing = sampleAt(record.currentA, record, timeS) >= MIN_CURRENT_A;
      write(line, isFlowing ? WORDS.watch[1] : `${NO_CURRENT}${record.header.lamp ? ": the lamp stays dark" : ""}.`);
    },
  };
}
