// Ask the class: one press opens a room for its phones; what they answer stands here, hidden until the teacher shows it.

import { make, makeButton, write } from "../kit/elements.js";
import { saveFile } from "../kit/files.js";
import { reportText } from "./class_report.js";
import { RoomDialog } from "./dialog.js";
import { ShownRounds } from "./shown_rounds.js";
import { Steering } from "./steering.js";
import { tallyOf } from "./tallies.js";

/**
 * @typedef {import("./tallies.js").Part} Part
 * @typedef {import("./tallies.js").Vote} Vote
 * @typedef {{name: string, title: string, memo: string, parts: any[], about?: string}} Round name: what the list calls it; about: what a phone says above its title; a part's picture: the graph that it needs
 * @typedef {{title: string, memo: string, parts: Part[], number: number}} Asked
 */

const MAX_VOTES = 3; // as the server allows
const MAX_WORDS = 2000; // of a graph, as the server allows
const MAX_PAST = 12; // rounds that can be shown again
const UNREAD = "Nobody has read these. Whatever you show, the class sees at once; Hide takes it away.";
const FAILED = "The server did not answer. Try again.";

/** What a drawing shows, in its own words. @param {string} drawn SVG by Python */
function wordsOf(drawn) {
  const place = document.createElement("template");
  place.innerHTML = drawn;
  return [...place.content.querySelectorAll("title, desc")].map(({ textContent }) => textContent).join(". ").slice(0, MAX_WORDS);
}

/** @param {Node[]} parts side by side above or below the answers */
function lineOf(parts) {
  const line = make("div", "", "fp-room-line");
  line.append(...parts);
  return parts.length ? [line] : [];
}

class ClassRoom {
  /**
   * @param {{opener: HTMLButtonElement, panel: HTMLElement, root: HTMLElement}} places opener: the button that asks the class
   * @param {{rounds: () => Round[], right: (asked: Asked, part: Part, isOpen: boolean) => import("./tallies.js").Right,
   *   isOfNow: (asked: Asked) => boolean, nameOf: (asked: Asked) => string, heads: {of: string, right: string}, word?: string, about?: (asked: Asked, part: Part, votes: Vote[], isOpen: boolean) => Node[], first?: (asked: Asked, votes: Vote[], isOpen: boolean) => Node[], learned?: (asked: Asked, part: Part, votes: Vote[], isOpen: boolean) => string[], onShown: (asked: Asked, votes: Vote[]) => void}} lesson
   *   rounds: what can be asked now; isOfNow: whether a round is about what is shown; right: what may be told by now; word: what says that it is right; about: what else may be told; first: and of the whole round;
   *   nameOf: its solution or set; heads: of columns where this is saved; learned: what else may be told, as text; onShown: the class sees these answers
   */
  constructor({ opener, panel, root }, lesson) {
    Object.assign(this, { opener, panel, lesson });
    this.asked = /** @type {Asked|null} */ (null);
    this.votes = /** @type {Vote[]} */ ([]);
    this.isShown = false; // the answers
    this.isFolded = false; // the panel, while the picture matters
    this.isOpen = false; // for answers
    this.counted = { joined: 0, missing: 0, away: 0, alike: 0, waiting: /** @type {Record<string, number>} */ ({}) };
    this.isOneEach = false; // of answers from one address only the first counts
    this.written = /** @type {Record<string, string[]>} */ ({}); // what the class may see of it, by part
    this.reads = false; // a phone of the teacher's
    this.shown = new ShownRounds();
    this.review = /** @type {{asked: Asked, votes: Vote[]}|null} */ (null); // one of them, shown again
    this.link = "";
    this.code = null;
    this.status = make("p", "", "fp-room-status");
    this.status.setAttribute("role", "status");
    this.dialog = new RoomDialog(root, {
      onOpen: (host, anew) => this.steering.send({ open: { host, anew } }),
      onRead: (code) => /^\d{6}$/.test(code) ? this.steering.send({ reader: code }) : this.dialog.sayRefused("A code has six digits.", false),
      onClose: () => this.steering.send({ close: true }),
    });
    this.steering = new Steering((message) => this.hear(message), (said) => this.lose(said));
    panel.hidden = true;
    this.steering.resume();
  }

  async press() {
    if (this.link) this.dialog.showCode(this.link, this.code);
    else {
      try {
        const told = await (await fetch(`/room${location.search}`)).json();
        if (told.addresses) this.dialog.ask(told.addresses);
        else this.dialog.refuse(told.refused ?? told.message);
      } catch {
        this.dialog.refuse(FAILED);
      }
    }
  }

  // what the server says

  hear(message) {
    if (message.refused) this.dialog.sayRefused(message.refused, message.taken === true);
    else if (message.gone || message.ended) this.end(message.ended === "elsewhere");
    else this.update(message);
  }

  update(message) {
    if (message.opened) this.begin(message);
    if ("round" in message) {
      this.take(message.round);
      this.takeWritten(message.written ?? {}, message.reads);
    }
    if ("open" in message) this.isOpen = message.open;
    if ("oneEach" in message) this.isOneEach = message.oneEach;
    if ("joined" in message) this.counted = message;
    if (message.votes) this.votes = message.votes;
    this.dialog.count(this.counted.joined);
    this.noteShown();
    this.draw();
  }

  begin({ link, code, round }) {
    const isNew = link !== this.link;
    Object.assign(this, { link, code });
    this.shown.belongTo(link);
    this.opener.textContent = "Show the code";
    this.panel.hidden = false;
    if (round || !isNew) return;
    this.dialog.showCode(link, code);
    const first = this.lesson.rounds().find(({ parts }) => parts.length);
    if (first) this.ask(first);
  }

  /** @param {Asked|null} asked */
  take(asked) {
    if (asked?.number !== this.asked?.number) {
      this.review = null;
      this.isShown = false;
      this.written = {};
    }
    this.asked = asked;
  }

  /** What is shown from the teacher's phone comes into sight. @param {Record<string, string[]>} written @param {boolean} reads */
  takeWritten(written, reads) {
    const count = (all) => Object.values(all).flat().length;
    if (count(written) > count(this.written)) this.isFolded = false;
    this.written = written;
    if (reads && !this.reads) this.dialog.dialog.close();
    this.reads = reads;
  }

  lose(said) {
    if (!this.link) this.dialog.sayRefused(said, false);
    else write(this.status, said);
  }

  /** @param {boolean} isElsewhere another page has the room now */
  end(isElsewhere) {
    Object.assign(this, { link: "", code: null, asked: null, votes: [], review: null, isShown: false, reads: false });
    this.shown.belongTo("");
    this.opener.textContent = "Ask the class";
    this.panel.hidden = true;
    if (this.dialog.dialog.open) this.dialog.dialog.close();
    if (isElsewhere) this.dialog.refuse("Another page has this room now.");
  }

  // what the teacher does

  /** @param {Round} round */
  ask({ title, memo, parts, about = "" }) {
    this.isFolded = false;
    const pictures = Object.fromEntries(parts.flatMap(({ name, picture }) => (picture ? [[name, { drawn: picture, said: wordsOf(picture) }]] : [])));
    this.steering.send({ ask: { title, memo, parts: parts.map(({ picture: _picture, ...part }) => part), about, pictures } });
  }

  show(isShown) {
    this.isShown = isShown;
    this.isFolded = false;
    this.noteShown();
    this.draw("show");
  }

  /** The class sees the answers of the open round. */
  noteShown() {
    const { asked, votes } = this;
    if (!this.isShown || !asked) return;
    this.lesson.onShown(asked, votes);
    this.shown.note(asked, this.lesson.nameOf(asked), votes, this.counted.joined);
  }

  /** What may be told by now of the rounds that were shown. */
  learn() {
    this.shown.learn(this.lesson.isOfNow, ({ asked, votes }, part) => {
      const isOpen = this.isOpen && asked.number === this.asked?.number;
      return { right: this.lesson.right(asked, part, isOpen), learned: this.lesson.learned?.(asked, part, votes, isOpen) ?? [] };
    });
  }

  save() {
    this.learn();
    saveFile("what-the-class-said.csv", "text/csv", reportText(this.shown.rounds, this.lesson.heads));
  }

  /** A new class has come, or the old one is back. @param {boolean} isUndo */
  renew(isUndo) {
    this.shown.renew(isUndo);
    this.review = null;
    this.isShown = false;
    this.draw();
  }

  /** The lesson has gone on: the picture is seen again, and what may be told may have changed. @param {boolean} isFolded */
  follow(isFolded) {
    if (isFolded) this.isFolded = true;
    this.draw();
  }

  // drawing

  draw(focus = "") {
    if (this.panel.hidden) return;
    this.learn();
    const active = document.activeElement;
    const key = focus || (active && this.panel.contains(active) ? active.dataset.fpKey : "");
    write(this.status, this.summary());
    const head = make("div", "", "fp-room-head");
    const asked = this.review?.asked ?? this.asked;
    head.append(make("h3", asked?.title ?? "The room is open"), this.status);
    if (this.asked && !this.isFolded) head.append(makeButton("Fold", () => this.follow(true), "fold"));
    const parts = [head];
    if (!this.isFolded && this.asked) parts.push(...this.answers());
    parts.push(this.controls());
    this.panel.replaceChildren(...parts);
    if (key) [.../** @type {NodeListOf<HTMLElement>} */ (this.panel.querySelectorAll("[data-fp-key]"))].find((each) => each.dataset.fpKey === key)?.focus();
  }

  summary() {
    const { joined, missing, away } = this.counted;
    const answered = this.votes.at(-1)?.answered ?? 0;
    const said = `${joined} joined`;
    if (!this.asked) return said;
    return `${said} · ${answered} answered · ${missing ? `${missing} missing` : "none missing"}${away ? ` · ${away} away` : ""}${this.isOneEach ? " · one of each address" : ""}${this.isOpen ? "" : " · closed"}`;
  }

  answers() {
    const box = make("div", "", "fp-room-answers");
    const { asked, votes } = this.review ?? { asked: this.asked, votes: this.votes };
    if (!this.isShown && !this.review) {
      const count = make("p", "", "fp-room-waiting");
      count.append(make("strong", String(votes.at(-1)?.answered ?? 0)), make("span", " have answered"));
      box.append(count, ...asked.parts.flatMap((part) => this.shownTexts(part)));
      return [box];
    }
    const isOpen = this.isOpen && !this.review;
    const isOnlyCounted = asked.parts.length === 2 && asked.parts[1].kind === "text" && !this.written[asked.parts[1].name]?.length;
    box.classList.toggle("fp-room-stacked", isOnlyCounted); // phrases get the whole width until own words stand beside them
    const first = this.lesson.first?.(asked, votes, isOpen) ?? [];
    for (const part of asked.parts) {
      const own = make("div");
      own.append(tallyOf(part, votes, this.lesson.right(asked, part, isOpen), this.lesson.word), ...(this.lesson.about?.(asked, part, votes, isOpen) ?? []), ...(this.review ? [] : this.writtenParts(part)));
      box.append(own);
    }
    const notes = votes.length > 1 ? [make("p", "Pale: the first vote. Dark: the latest.", "fp-note")] : [];
    if (box.querySelector(".fp-room-show")) notes.push(make("p", UNREAD, "fp-note"), makeButton("Read it on my phone first", () => this.dialog.askForCode(() => this.dialog.showCode(this.link, this.code)), "read"));
    return [...lineOf(first), box, ...lineOf(notes)];
  }

  /** Short texts and equations: only after a press, here or on the teacher's phone. @param {Part} part */
  writtenParts(part) {
    if (part.kind !== "text" && part.kind !== "equation") return [];
    const shown = this.shownTexts(part);
    if (this.reads) return shown.length ? shown : [make("p", "The teacher's phone shows what was written.", "fp-note")];
    const waiting = this.counted.waiting?.[part.name] ?? 0;
    if (!waiting) return shown;
    const press = (text, all) => makeButton(text, () => this.steering.send({ show: { of: part.name, all } }), `${all ? "texts" : "text"} ${part.name}`);
    const row = make("div", "", "fp-options fp-room-show");
    row.append(press(`Show one of ${waiting}`, false), ...(waiting > 1 ? [press(`Show all ${waiting}`, true)] : []));
    return [...shown, row];
  }

  /** What the class may see of it; each can be taken away again. @param {Part} part */
  shownTexts(part) {
    const texts = this.written[part.name];
    if (!texts?.length) return [];
    const list = make("ul", "", "fp-room-texts");
    for (const text of texts) {
      const item = make("li", text);
      const away = makeButton("Hide", () => this.steering.send({ hide: { of: part.name, text } }), `hide ${part.name} ${text}`);
      away.setAttribute("aria-label", `Hide: ${text}`);
      item.append(away);
      list.append(item);
    }
    return [list];
  }

  controls() {
    const row = make("div", "", "fp-options");
    if (this.review) row.append(makeButton("Back to the open question", () => this.look(null), "review"));
    else if (this.asked) row.append(...this.roundButtons());
    row.append(this.choiceOfRounds());
    if (this.shown.rounds.length && !this.isFolded) row.append(makeButton("Save what the class said", () => this.save(), "save"));
    if (!this.isFolded) row.append(...this.oneEach());
    row.append(makeButton("Close the room", () => this.steering.send({ close: true }), "close"));
    return row;
  }

  roundButtons() {
    const { isShown, isFolded, isOpen } = this;
    const show = isFolded ? makeButton("Answers", () => this.show(isShown), "show") : makeButton(isShown ? "Hide answers" : "Show answers", () => this.show(!isShown), "show");
    const accept = makeButton(isOpen ? "Stop answers" : "Take answers", () => this.steering.send({ accept: !isOpen }), "accept");
    const again = this.votes.length < MAX_VOTES ? [makeButton("Vote again", () => this.steering.send({ again: true }), "again")] : [];
    return [show, accept, ...again];
  }

  /** Where phones share an address, they may be one device that answers again and again. */
  oneEach() {
    const { isOneEach } = this;
    const { alike } = this.counted;
    if (alike < 2 && !isOneEach) return [];
    const button = makeButton(isOneEach ? "Count every phone" : `Count ${alike} phones at one address as one`, () => this.steering.send({ "one-each": !isOneEach }), "one each");
    button.title = "Phones at one address of the network are one device with several windows, or phones behind one router.";
    return [button];
  }

  choiceOfRounds() {
    const rounds = this.lesson.rounds();
    const choice = /** @type {HTMLSelectElement} */ (make("select"));
    choice.setAttribute("aria-label", "Ask another question");
    choice.dataset.fpKey = "rounds";
    choice.append(new Option("Ask …", ""), ...rounds.map(({ name, parts }, k) => Object.assign(new Option(name, `ask ${k}`), { disabled: !parts.length })));
    const isPast = ({ asked }) => asked.number !== this.asked?.number && this.lesson.isOfNow(asked);
    const past = this.shown.rounds.filter(isPast).reverse().slice(0, MAX_PAST);
    if (past.length) {
      const before = document.createElement("optgroup");
      before.label = "Show again";
      const titles = past.map(({ asked }) => asked.title);
      const told = titles.map((title, k) => (titles.indexOf(title) === titles.lastIndexOf(title) ? title : `${title} (${titles.slice(k).filter((each) => each === title).length})`));
      before.append(...told.map((title, k) => new Option(title, `past ${k}`)));
      choice.append(before);
    }
    choice.addEventListener("change", () => {
      const [what, k] = choice.value.split(" ");
      if (what === "ask") this.ask(rounds[Number(k)]);
      else if (what === "past") this.look(past[Number(k)]);
    });
    return choice;
  }

  /** Show the answers of an earlier round, or again those of the open one. @param {{asked: Asked, votes: Vote[]}|null} past */
  look(past) {
    this.review = past;
    this.isFolded = false;
    this.draw("rounds");
  }

  destroy() {
    this.steering.destroy();
    this.dialog.destroy();
  }
}

/** @param {{opener: HTMLButtonElement, panel: HTMLElement, root: HTMLElement}} places @param {ConstructorParameters<typeof ClassRoom>[1]} lesson */
export const mountClassRoom = (places, lesson) => new ClassRoom(places, lesson);
