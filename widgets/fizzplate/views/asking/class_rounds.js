// What the class can be asked at each step of a lesson, what may be told of it by now, and where its answers go.

import { say } from "../kit/say.js";
import { mayTell } from "../bench/lesson/path.js";
import { isAbout, readMemo, writeMemo } from "./memo.js";

/** @typedef {import("../room/class_room.js").Round} Round */
/** @typedef {import("../bench/lesson/path.js").StepName} StepName */

const ROLES = ["cathode", "anode"];
const SURE = ["sure", "fairly sure", "guessing"];
const FORMS = { cathode: "What forms at the {cathode_in_full}?", anode: "What forms at the {anode_in_full}?" };
const TRAVELS = { cathode: "Which ions travel to the {cathode_in_full}?", anode: "Which ions travel to the {anode_in_full}?" };
const SEEN = { cathode: "What do you see at the {cathode_in_full}?", anode: "What do you see at the {anode_in_full}?" };
const TEST = { cathode: "Which test for the gas at the {cathode_in_full}?", anode: "Which test for the gas at the {anode_in_full}?" };
const HALF = { cathode: "Half-equation at the {cathode_in_full}", anode: "Half-equation at the {anode_in_full}" };
const AMOUNT = { cathode: "{what}, at the {cathode_in_full}", anode: "{what}, at the {anode_in_full}" };
const NO_GAS = "none: no gas forms";
/** What a test can show, in words, and how the scene draws it. @type {[string, string[]][]} */
const RESULTS = [
  ["it pops", ["pop", "bang"]], ["it relights", ["relight"]], ["it burns brighter", ["brighter"]], ["it goes out", ["out"]], ["it is bleached", ["bleach"]],
  ["it turns red", ["redden"]], ["it turns blue-black", ["blue-black"]], ["it turns cloudy", ["cloudy"]], ["nothing changes", ["nothing"]],
];

const choice = (name, label, options) => ({ name, kind: "choice", label, options });
const several = (name, label, options) => ({ name, kind: "several", label, options });

/** Name, title and parts of what can be asked; each only where the lesson has it. */
const MAKERS = {
  predict: {
    name: "Prediction at each electrode",
    title: "What will form at each electrode?",
    steps: ["predict"],
    parts: ({ classroom }, slots) => [
      ...classroom.ask.map(({ role, options }) => choice(role, say(FORMS[role], slots), options)),
      choice("sure", "How sure are you?", SURE),
    ],
  },
  ions: {
    name: "Which ions travel where",
    title: "Which ions travel where?",
    steps: ["predict", "watch"],
    parts: ({ classroom }, slots) => {
      const labels = classroom.ions.map(({ label }) => label);
      return labels.length ? ROLES.map((role) => several(role, say(TRAVELS[role], slots), labels)) : [];
    },
  },
  ...Object.fromEntries(ROLES.map((role) => [`seen ${role}`, {
    name: SEEN[role],
    title: SEEN[role],
    steps: ["watch", "test"],
    parts: ({ classroom }) =>
      classroom.ask.filter((each) => each.role === role && each.points).flatMap(({ phrases }) => [
        several(role, "Pick what fits", phrases),
        { name: `${role}-words`, kind: "text", label: "In your own words" },
      ]),
  }])),
  ...Object.fromEntries(ROLES.map((role) => [`test ${role}`, {
    name: TEST[role],
    title: TEST[role],
    steps: ["watch", "test"],
    parts: ({ classroom }) =>
      classroom.tests ? [choice(`${role}-test`, "Choose a test", [...classroom.tests.names, NO_GAS]), choice(`${role}-result`, "What will it show?", RESULTS.map(([text]) => text))] : [],
  }])),
  half: {
    name: "Half-equations",
    title: "Write the half-equations",
    steps: ["explain"],
    parts: ({ classroom }, slots, { species }) =>
      ROLES.filter((role) => classroom.row?.[role]?.task).map((role) => {
        const { accepted, goal, tiles } = classroom.row[role].task;
        return { name: role, kind: "equation", label: say(HALF[role], slots), judge: { task: { accepted, goal }, species, tiles } };
      }),
  },
  amount: {
    name: "A mass or a volume",
    title: "How much forms?",
    steps: ["explain"],
    parts: (lesson, slots, { record }) => amountsOf(lesson, record).map(({ role, what, unit }) => ({ name: role, kind: "number", label: say(AMOUNT[role], { ...slots, what }), unit })),
  },
};

/** The mass of the metal or the volume of the gas at the end of the run, of each electrode's first product. */
function amountsOf({ electrodes, on, isMelt }, record) {
  if (!record || !on || isMelt) return []; // a melt has no run
  return ROLES.flatMap((role, side) => {
    const [product] = record.header.electrodes[side].products;
    if (!product || !["solid", "gas"].includes(product.kind)) return [];
    const electrode = record.electrode(side);
    const isGas = product.kind === "gas";
    const value = isGas ? electrode.gasCm3(product.formula).at(-1) : 1000 * electrode.massG(product.formula).at(-1);
    const name = electrodes[side].names[0];
    return [{ role, what: isGas ? `Volume of ${name}` : `Mass of ${name}`, unit: isGas ? "cm³" : "mg", value }];
  });
}

/** @param {StepName} step @param lesson what is shown @param {import("../kit/say.js").Slots} slots @param more record and species @returns {Round[]} */
export const roundsAt = (step, lesson, slots, more) =>
  Object.entries(MAKERS)
    .filter(([, { steps }]) => steps.includes(step))
    .map(([kind, { name, title, parts }]) => ({ name: say(name, slots), title: say(title, slots), memo: writeMemo(lesson.key, kind), about: lesson.label, parts: parts(lesson, slots, more) }))
    .filter(({ parts }) => parts.length);

/** The usual test of what forms at an electrode, or what it showed in this run: as numbers of the options. @param classroom @param {string} name of the part */
function rightTest({ tests, row }, name) {
  const [role, asked] = name.split("-");
  const side = ROLES.indexOf(role);
  if (!tests || !row?.[role]) return null;
  const usual = tests.names.findIndex((test) => row[role].test.includes(test));
  if (asked === "test") return usual < 0 ? tests.names.length : usual; // the last option: no gas forms
  return usual < 0 ? null : RESULTS.findIndex(([, pictures]) => pictures.includes(tests.results[side][tests.names[usual]].picture));
}

/**
 * What is right, once it may be told: the number of the option or options, or the model's number once nobody can copy it.
 * @param {StepName} step @param lesson @param record @param {{memo: string}} asked @param {{name: string, kind: string, options: string[]}} part @param {boolean} isOpen for answers
 * @returns {import("../room/tallies.js").Right}
 */
export function rightOf(step, lesson, record, asked, { name, kind, options }, isOpen) {
  const what = String(readMemo(asked)[1]);
  if (kind === "equation") return 0;
  if (!isAbout(asked, lesson.key) || !lesson.on || !mayTell(step)) return null;
  const question = lesson.classroom.ask.find(({ role }) => role === name);
  if (what === "amount" && isOpen) return null;
  if (what === "amount") return amountsOf(lesson, record).find(({ role }) => role === name)?.value ?? null;
  if (what.startsWith("test")) return rightTest(lesson.classroom, name);
  if (!question) return null;
  if (what === "predict") return options.indexOf(question.outcome ?? question.expected);
  if (what.startsWith("seen")) return options.indexOf(question.observation);
  if (what !== "ions") return null;
  return lesson.classroom.ions.map(({ goes }, k) => (goes === name ? k : -1)).filter((k) => k >= 0);
}

/** The option that most have chosen; none where nobody has. @param {number[]} counts @param {string[]} options */
const leading = (counts, options) => (counts.some(Boolean) ? options[counts.indexOf(Math.max(...counts))] : "");

/**
 * Keep what the class said: its predictions become those of the results table, with the counts of each vote.
 * @param {import("../kit/store.js").Store} store @param {{memo: string, parts: any[]}} asked @param {import("../room/tallies.js").Vote[]} votes
 */
export function keepAnswers(store, asked, votes) {
  const [key, what] = readMemo(asked);
  const last = votes.at(-1);
  if (what !== "predict" || !last) return;
  const changes = {};
  for (const { name, options } of asked.parts.filter((part) => ROLES.includes(part.name))) {
    const counts = last.counts[name];
    if (!counts.some(Boolean)) continue;
    changes[`${name}:predicted`] = leading(counts, options);
    changes[`${name}:hands`] = Object.fromEntries(options.map((option, k) => [option, counts[k]]));
    changes[`${name}:votes`] = votes.map((vote) => options.flatMap((option, k) => (vote.counts[name][k] ? [[option, vote.counts[name][k]]] : [])));
  }
  if (Object.keys(changes).length) store.change(key, changes);
}
