// The rounds whose answers the class was shown, with their counts and what could be told of them. This tab keeps them
// through a reload of the page, until the room is closed.

import { keepInTab, keptInTab } from "../kit/tab_memory.js";

/** @typedef {import("./tallies.js").Part} Part */
/** @typedef {import("./tallies.js").Vote} Vote */
/** @typedef {import("./class_room.js").Asked} Asked */
/** @typedef {{right: import("./tallies.js").Right, learned: string[]}} Told of a part: what is right, and what the teacher learns of the answers */
/** @typedef {{asked: Asked, of: string, votes: Vote[], joined: (number|null)[], told: Record<string, Told>}} ShownRound of: the solution or set; joined: at each vote */

const TAB_KEY = "shown rounds.1";
const MAX_ROUNDS = 100; // of which the oldest are left out

/** What is asked, without what only a phone needs. @param {Asked} asked @returns {Asked} */
const plain = ({ title, memo, number, parts }) => ({ title, memo, number, parts: parts.map(({ name, kind, label, options, unit }) => ({ name, kind, label, options, unit })) });

export class ShownRounds {
  constructor() {
    const { link = "", rounds = [] } = keptInTab(TAB_KEY) ?? {};
    this.link = link; // of their room
    this.rounds = /** @type {ShownRound[]} */ (rounds);
    this.cleared = /** @type {ShownRound[]} */ ([]); // by a new class
  }

  /** A room is steered, or none: what was shown in another one is forgotten. @param {string} link */
  belongTo(link) {
    if (link === this.link) return;
    Object.assign(this, { link, rounds: [], cleared: [] });
    this.keep();
  }

  /** The class sees these answers. @param {Asked} asked @param {string} of @param {Vote[]} votes @param {number} joined by now */
  note(asked, of, votes, joined) {
    let round = this.rounds.find((each) => each.asked.number === asked.number);
    if (!round) {
      round = { asked: plain(asked), of, votes, joined: [], told: {} };
      this.rounds = [...this.rounds, round].slice(-MAX_ROUNDS);
    }
    round.votes = votes;
    if (votes.length) round.joined[votes.length - 1] = joined;
    this.keep();
  }

  /**
   * Keep what may be told by now. What was told of another solution stays.
   * @param {(asked: Asked) => boolean} isOfNow @param {(round: ShownRound, part: Part) => Told} tell
   */
  learn(isOfNow, tell) {
    const rounds = this.rounds.filter(({ asked }) => isOfNow(asked));
    for (const round of rounds) round.told = Object.fromEntries(round.asked.parts.map((part) => [part.name, tell(round, part)]));
    if (rounds.length) this.keep();
  }

  /** A new class begins with none; its undoing brings them back. @param {boolean} isUndo */
  renew(isUndo) {
    const since = new Set(this.rounds.map(({ asked }) => asked.number));
    const before = this.cleared.filter(({ asked }) => !since.has(asked.number));
    this.cleared = isUndo ? [] : this.rounds;
    this.rounds = isUndo ? [...before, ...this.rounds] : [];
    this.keep();
  }

  keep() { keepInTab(TAB_KEY, this.rounds.length ? { link: this.link, rounds: this.rounds } : null); }
}
