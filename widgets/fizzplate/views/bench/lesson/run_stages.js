// The stages of a run that is changed while it goes on: which of them a time lies in, and what is said of it. A class that
// has predicted and noted things keeps them: what it writes of a later stage has keys of its own.

import { clockText } from "../../kit/format.js";

/** @typedef {{fromS: number, firstS: number, swapped: boolean, text: string}} RunStage fromS: when it begins; firstS: its first sample */

/** Which stage a time lies in, from 0. @param {{stages?: RunStage[]}} lesson @param {number} timeS */
export function stageAt({ stages = [] }, timeS) {
  return stages.filter(({ fromS, firstS }) => (fromS + firstS) / 2 <= timeS).length; // as the picture turns the wires round
}

/**
 * What is said of a stage: of the first one, what is said of the run.
 * @param lesson of the run @param {number} number of the stage, from 0
 */
export function lessonOf(lesson, number) {
  if (number === 0) return lesson;
  const { classroom, ...own } = lesson.stages[number - 1];
  const ask = classroom.ask.map((each) => ({ ...each, entry: `${number + 1} ${each.role}` }));
  return { ...lesson, ...own, classroom: { ...lesson.classroom, ...classroom, ask } };
}

/** Under which name the class's words about an electrode are kept. @param {{entry?: string}} question @param {string} role */
export const entryOf = (question, role) => question.entry ?? role;

/** Under which name the class's words about the liquid are kept, of each stage. @param {{fromS?: number}} lesson of the stage */
export const liquidKey = ({ fromS }) => (fromS === undefined ? "liquid:observed" : `liquid ${fromS}:observed`);

/** What is seen in the liquid, stage by stage, and under which name the class's words about it are kept. @param lesson of the run @returns {{key: string, since: string, text: string}[]} */
export const liquidsOf = (lesson) =>
  [lesson, ...(lesson.stages ?? [])].map((stage) => ({ key: liquidKey(stage), since: sinceText(stage), text: stage.classroom.liquid ?? "" }));

/** At which side of the cell an electrode stands now: with the wires swapped, at the other one. @param {{swapped?: boolean}} lesson of the stage @param {number} index 0 for the cathode; -1 for neither */
export const sideOf = ({ swapped }, index) => (swapped && index >= 0 ? 1 - index : index);

/** From when on something holds, as a sentence says it. @param {{fromS?: number, text?: string}} lesson of the stage */
export const sinceText = ({ fromS, text }) => (fromS === undefined ? "" : `Since ${clockText(fromS)} (${text}): `);
