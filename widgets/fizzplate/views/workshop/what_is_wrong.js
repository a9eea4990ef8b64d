// What is wrong with a half-equation, in one word: so a class's lines are gathered.

import { isUnread, judge } from "./judge.js";

const RIGHT = ["right", "multiple", "cancel", "capitals"];

/** @param {import("./judge.js").Net} net */
const withoutElectrons = (net) => Object.entries(net).filter(([name]) => name !== "e-");

/** Whether the same species other than electrons are used, and the same made. @param {import("./judge.js").Net} net @param {import("./judge.js").Net} form */
function hasSameSpecies(net, form) {
  const [own, wanted] = [withoutElectrons(net), withoutElectrons(form)];
  return own.length === wanted.length && own.every(([name, count]) => form[name] && form[name] > 0 === count > 0);
}

/** @param {import("./judge.js").Net} net @param {import("./judge.js").KnownSpecies} species @returns {boolean} */
function hasSameAtoms(net, species) {
  const total = {};
  for (const [name, count] of Object.entries(net)) {
    for (const [element, atoms] of Object.entries(species[name][0])) total[element] = (total[element] || 0) + count * atoms;
  }
  return Object.values(total).every((each) => each === 0);
}

/**
 * @param {string} text @param {import("./judge.js").Task} task @param {import("./judge.js").KnownSpecies} species
 * @returns {{fault: string, sentences: string[]}} fault: "right", "unread", "species", "electrons" (missing, or on the other
 *   side), "atoms" or "charge": the first of them that holds
 */
export function whatIsWrong(text, task, species) {
  const { code, sentences, net } = judge(text, task, species);
  const found = (fault) => ({ fault, sentences });
  if (RIGHT.includes(code)) return found("right");
  if (isUnread(code) || !net) return found("unread");
  if (code === "absent") return found("species"); // an acid where there is none
  const form = task.accepted.find((each) => hasSameSpecies(net, each));
  if (!form) return found("species");
  if (form["e-"] && (!net["e-"] || net["e-"] > 0 !== form["e-"] > 0)) return found("electrons");
  return found(hasSameAtoms(net, species) ? "charge" : "atoms");
}
