// The phones' page runs on a phone of 2020: no younger syntax, no younger interface. And what is wrong with a half-equation.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { parse } from "acorn";

import { loader } from "./loader.js";

const VIEWS = new URL("../../widgets/fizzplate/views/", import.meta.url);
const IMPORT = /^import \{[^}]*\} from "(\.{1,2}\/[^"]+\.js)";$/gm;
const DATA = /^import \w+ from "([^"]+\.json)" with \{ type: "json" \};$/gm; // the data themselves stand in what is sent
/** Interfaces that came after 2020, by how they are written; some need two looks, so this is a list of ours. */
const YOUNG = [
  /\.at\(/, /\.replaceAll\(/, /Object\.hasOwn\b/, /structuredClone/, /\.randomUUID/, /\.findLast/, /\.toSorted|\.toReversed|\.toSpliced|\.with\(/,
  /Object\.groupBy/, /Promise\.any/, /AbortSignal\.(timeout|any)/, /\.replaceChildren\(/, /WeakRef|FinalizationRegistry/, /Array\.fromAsync/,
  /\.showPicker\(/, /navigator\.userAgentData/, /\.requestSubmit\(/, /\binert\b/, /<dialog|showModal/, /Intl\.Segmenter/, /new Set\([^)]*\)\.(union|difference|intersection)/,
  /\(\?<[=!]/, // patterns that look behind them: browsers of 2020 on a phone of one make refuse them
];
const YOUNG_STYLE = [/:has\(/, /@container/, /@layer/, /color-mix\(/, /\bdvh|svh|lvh\b/, /aspect-ratio/, /\binset:/, /accent-color: auto/, /text-wrap/, /:is\(/, /:where\(/];

/** @param {URL} file @param {Map<string, string>} all @returns {Map<string, string>} every file that is sent, with its text */
function sent(file, all = new Map()) {
  if (all.has(file.href)) return all;
  const text = readFileSync(file, "utf8");
  all.set(file.href, text);
  for (const [, path] of text.matchAll(IMPORT)) sent(new URL(path, file), all);
  for (const [, path] of text.matchAll(DATA)) all.set(path, `(${readFileSync(new URL(path, file), "utf8")})`);
  return all;
}

const code = (text) => text.replace(/\/\*\*[\s\S]*?\*\/|\/\/ .*$/gm, "");

for (const entry of ["room/phone/phone.js", "workshop/what_is_wrong.js"]) {
  test(`${entry} and all that it imports were known to browsers in 2020`, () => {
    const all = sent(new URL(entry, VIEWS));
    assert.ok(all.size >= 3);
    for (const [file, text] of all) {
      assert.doesNotThrow(() => parse(text.replace(DATA, ""), { ecmaVersion: 2020, sourceType: "module" }), `${file} has younger syntax`);
      for (const young of YOUNG) assert.doesNotMatch(code(text), young, `${file} uses ${young}`);
    }
  });
}

test("the lint notices what is younger", () => {
  assert.throws(() => parse("a ??= 1", { ecmaVersion: 2020 }));
  assert.throws(() => parse("class A { x = 1; }", { ecmaVersion: 2020 }));
  for (const text of ["list.at(-1)", "text.replaceAll('a', 'b')", "node.replaceChildren()", "/(?<=[0-9])a/", '"(?<![0-9])a"']) assert.ok(YOUNG.some((young) => young.test(text)), text);
});

test("the page's look needs nothing younger either", () => {
  const style = readFileSync(new URL("room/phone/phone.css", VIEWS), "utf8");
  for (const young of YOUNG_STYLE) assert.doesNotMatch(style, young);
});

const { whatIsWrong } = await loader("workshop/")("what_is_wrong.js");
const SPECIES = {
  "Cu2+": [{ Cu: 1 }, 2], Cu: [{ Cu: 1 }, 0], "H+": [{ H: 1 }, 1], H2: [{ H: 2 }, 0], H: [{ H: 1 }, 0], "e-": [{}, -1], "Cl-": [{ Cl: 1 }, -1], Cl: [{ Cl: 1 }, 0], Cl2: [{ Cl: 2 }, 0],
};
const HYDROGEN = { accepted: [{ "H+": -2, "e-": -2, H2: 1 }], goal: "make hydrogen" };
const CHLORINE = { accepted: [{ "Cl-": -2, "e-": 2, Cl2: 1 }], goal: "make chlorine" };

for (const [text, task, fault] of [
  ["2H+ + 2e- -> H2", HYDROGEN, "right"],
  ["4H+ + 4e- -> 2H2", HYDROGEN, "right"],
  ["H+ + e- -> H2", HYDROGEN, "atoms"],
  ["2H+ + e- -> H2", HYDROGEN, "charge"],
  ["2H+ -> H2 + 2e-", HYDROGEN, "side"],
  ["2H+ -> H2", HYDROGEN, "missing"],
  ["H+ + e- -> H", HYDROGEN, "single"],
  ["H+ -> H", HYDROGEN, "single"],
  ["Cu2+ + 2e- -> Cu", HYDROGEN, "species"],
  ["H2 -> 2H+ + 2e-", HYDROGEN, "species"],
  ["2H+ + 2e-", HYDROGEN, "unread"],
  ["hydrogen appears -> H2", HYDROGEN, "unread"],
  ["2Cl- -> Cl2 + 2e-", CHLORINE, "right"],
  ["2Cl- + 2e- -> Cl2", CHLORINE, "side"],
  ["Cl- -> Cl + e-", CHLORINE, "single"],
  ["2Cl- -> 2Cl + 2e-", CHLORINE, "single"],
  ["Cu2+ -> Cu + 2e-", CHLORINE, "species"],
  ["Cl- -> Cl2 + e-", CHLORINE, "atoms"],
]) {
  test(`what is wrong with ${text}: ${fault}`, () => {
    const found = whatIsWrong(text, task, SPECIES);
    assert.equal(found.fault, fault);
    assert.ok(found.sentences.every((each) => each));
  });
}
