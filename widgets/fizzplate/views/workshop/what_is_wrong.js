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

/** A net whose molecules of one element are written as their atoms, if the form makes such molecules. @param {import("./judge.js").Net} net @param {import("./judge.js").Net} form @param {import("./judge.js").KnownSpecies} species */
function withMolecules(net, form, species) {
  for (const name of Object.keys(form)) {
    const [[element, atoms] = ["", 1], ...others] = Object.entries(species[name][0]);
    if (others.length || atoms === 1 || !net[element] || net[name]) continue;
    const { [element]: singles, ...rest } = net;
    return { ...rest, [name]: singles };
  }
  return net;
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
 * @returns {{fault: string, sentences: string[]}} fault: "right", "unread", "single" (atoms where molecules form), "species",
 *   "missing" (electrons), "side" (they are on the other one), "atoms" or "charge": the first of them that holds
 */
export function whatIsWrong(text, task, species) {
  const { code, sentences, net } = judge(text, task, species);
  const found = (fault) => ({ fault, sentences });
  if (RIGHT.includes(code)) return found("right");
  if (isUnread(code) || !net) return found("unread");
  if (code === "absent") return found("species"); // an acid where there is none
  const form = task.accepted.find((each) => hasSameSpecies(net, each));
  if (!form) return found(task.accepted.some((each) => hasSameSpecies(withMolecules(net, each, species), each)) ? "single" : "species");
  if (form["e-"] && !net["e-"]) return found("missing");
  if (form["e-"] && net["e-"] > 0 !== form["e-"] > 0) return found("side");
  return found(hasSameAtoms(net, species) ? "charge" : "atoms");
}
