// A phone's page: it shows the round that is open, sends an answer, and says when it has arrived.

import { PhoneChannel } from "./channel.js";
import { makeField, pictureOf } from "./fields.js";
import { drawReading } from "./reading.js";

const STORAGE_KEY = "fizzplate.room";
const ARRIVED = "Your answer has arrived. You can change it until the round is closed.";
const LATER = "Not sent yet: it goes as soon as the connection is back.";
const UNTAKEN = "This answer could not be taken. Change it and send it again.";
const CHANGED = "You have changed your answer: send it again.";
const NOT_SENT = "Your answer is not sent yet.";
const ENDED = {
  closed: "The room has been closed. Nothing that you answered is kept.",
  elsewhere: "This room is open on another page of this browser.",
  full: "The room is full. This page tries again by itself.",
};

/** A random mark of 32 letters. @param {Window & typeof globalThis} view */
const newMark = (view) => [...view.crypto.getRandomValues(new Uint8Array(16))].map((each) => each.toString(16).padStart(2, "0")).join("");

/** What this browser keeps for the room with this key: its mark, an answer until it has arrived, and one that is begun. */
class Memory {
  constructor(view, key) {
    this.view = view;
    let kept = null;
    try {
      kept = JSON.parse(view.localStorage.getItem(STORAGE_KEY) ?? "null");
    } catch {
      // it keeps nothing, or nothing that can be read
    }
    this.kept = kept && kept.key === key && /^[0-9a-f]{32}$/.test(kept.mark) ? kept : { key, mark: newMark(view), draft: null, begun: null };
    this.keep({});
  }

  /** @param {object} changes */
  keep(changes) {
    Object.assign(this.kept, changes);
    try {
      this.view.localStorage.setItem(STORAGE_KEY, JSON.stringify(this.kept));
    } catch {
      // then a reload counts as another phone
    }
  }

  forget() {
    try {
      this.view.localStorage.removeItem(STORAGE_KEY);
    } catch {
      // nothing was kept
    }
  }
}

/** Say something, once: a screen reader repeats what is written again. @param {HTMLElement} node @param {string} text */
const say = (node, text) => node.textContent === text || (node.textContent = text);

class Phone {
  constructor(document, view) {
    const part = (id) => document.getElementById(id);
    Object.assign(this, { document, view });
    this.nodes = Object.fromEntries(["about", "title", "state", "form", "parts", "send", "arrived", "judged", "here", "reading", "read"].map((id) => [id, part(id)]));
    const key = new URLSearchParams(view.location.search).get("key") ?? "";
    this.key = key;
    this.memory = new Memory(view, key);
    this.fields = /** @type {Record<string, import("./fields.js").Field>} */ ({});
    this.parts = /** @type {import("./fields.js").Part[]} */ ([]);
    this.id = ""; // of the round and vote that are shown
    this.pictured = ""; // of those whose graphs have come
    this.isOpen = false;
    this.hasArrived = false;
    this.nodes.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.submit();
    });
    this.nodes.form.addEventListener("input", () => this.touch());
    this.nodes.read.addEventListener("click", () => this.channel.send({ read: true }));
    this.nodes.here.addEventListener("click", () => this.channel.connect());
    const address = `${view.location.protocol === "https:" ? "wss" : "ws"}://${view.location.host}/answers?key=${encodeURIComponent(key)}&mark=${this.memory.kept.mark}`;
    this.channel = new PhoneChannel(address, { onMessage: (message) => this.hear(message), onLost: () => this.lose() }, view);
  }

  say(text) { say(this.nodes.state, text); }

  sayArrived(text) { say(this.nodes.arrived, text); }

  lose() {
    const { draft } = this.memory.kept;
    this.say("Connection lost. Trying again …");
    if (draft && draft.id === this.id && !draft.isSent) this.sayArrived(LATER);
  }

  hear(message) {
    if (message.ended) this.end(message.ended);
    else if (message.kept) this.keep(message.kept.join("."));
    else if (message.untaken) this.refuse(message.untaken.join("."));
    else {
      drawReading(this.nodes.reading, message, (said) => this.channel.send(said));
      this.nodes.read.hidden = Boolean(message.code || message.reads);
      if (message.reads) this.listen(message.reads);
      else this.show(message);
    }
  }

  /** This is the teacher's own phone: it answers nothing. */
  listen({ title }) {
    this.id = "";
    this.nodes.about.textContent = "";
    this.nodes.form.hidden = this.nodes.here.hidden = true;
    this.nodes.judged.textContent = "";
    this.nodes.title.textContent = "What the class writes";
    this.say(title || "No question is open.");
    this.sayArrived("");
  }

  end(why) {
    this.say(ENDED[why]);
    this.nodes.here.hidden = why !== "elsewhere";
    this.nodes.form.hidden = this.nodes.reading.hidden = this.nodes.read.hidden = true;
    this.sayArrived("");
    if (why === "closed") this.memory.forget();
  }

  keep(id) {
    const { draft } = this.memory.kept;
    if (draft && draft.id === id) this.memory.keep({ draft: { id, values: null, isSent: true } });
    if (id !== this.id || this.isTouched) return;
    this.hasArrived = true;
    this.sayArrived(ARRIVED);
    this.nodes.send.textContent = "Send my answer again";
  }

  /** The room cannot take this answer: it does not go again by itself. */
  refuse(id) {
    if (this.memory.kept.draft && this.memory.kept.draft.id === id) this.memory.keep({ draft: null });
    if (id === this.id) this.sayArrived(UNTAKEN);
  }

  show({ round, open, answer }) {
    const { nodes } = this;
    nodes.here.hidden = true;
    if (!round) {
      this.id = "";
      nodes.form.hidden = true;
      nodes.about.textContent = "";
      nodes.title.textContent = "Answer with your class";
      this.say("You are in. Wait for the question.");
      this.sayArrived("");
      return;
    }
    const id = `${round.number}.${round.vote}`;
    const isNew = id !== this.id;
    if (isNew) this.build(id, round, answer);
    this.isOpen = open;
    if (round.hasPictures && this.pictured !== id) this.loadPictures(id);
    nodes.parts.disabled = !open;
    nodes.send.hidden = !open;
    this.say(open ? (round.vote > 1 ? "Answer once more, after talking about it." : "") : "This round is closed.");
    if (open) this.resend(answer);
    else this.close(answer);
  }

  /** Make the fields of a round, with what this phone has answered or begun. */
  build(id, round, answer) {
    const { nodes, memory } = this;
    const { draft, begun } = memory.kept;
    const isNext = this.id !== "";
    this.id = id;
    this.parts = round.parts;
    this.hasArrived = false;
    this.isTouched = Boolean(begun && begun.id === id);
    this.fields = {};
    nodes.about.textContent = round.about;
    nodes.title.textContent = round.title;
    nodes.parts.textContent = "";
    nodes.judged.textContent = "";
    if (round.parts.some((part) => part.kind === "equation")) this.loadJudge();
    for (const part of round.parts) {
      const field = makeField(part, (text, judge) => this.judge(text, judge));
      this.fields[part.name] = field;
      if (part.stem) nodes.parts.append(Object.assign(this.document.createElement("p"), { className: "stem", textContent: part.stem }));
      nodes.parts.append(field.node);
    }
    const last = this.isTouched ? begun.values : draft && draft.id === id && !draft.isSent ? draft.values : answer;
    for (const [name, value] of Object.entries(last ?? {})) this.fields[name]?.write(value);
    nodes.send.textContent = answer ? "Send my answer again" : "Send my answer";
    nodes.form.hidden = false;
    this.sayArrived(this.isTouched ? (answer ? CHANGED : NOT_SENT) : answer ? ARRIVED : "");
    this.document.title = `${round.title} · Fizz & Plate`;
    if (isNext) this.view.scrollTo(0, 0); // the last question was answered at its end
    if (isNext || this.document.activeElement === this.document.body || !this.document.activeElement) nodes.title.focus({ preventScroll: true });
  }

  /** An answer that was under way when the connection was lost goes once more. */
  resend(answer) {
    const { draft } = this.memory.kept;
    if (draft && draft.id === this.id && !draft.isSent) this.transmit(draft.values);
    else if (answer && !this.isTouched) this.sayArrived(ARRIVED);
  }

  close(answer) {
    const { nodes } = this;
    this.sayArrived(answer ? "Your answer has arrived." : "No answer of yours has arrived.");
    nodes.judged.textContent = "";
    for (const part of this.parts) {
      const own = answer?.[part.name];
      if (part.kind !== "equation" || !own) continue;
      for (const sentence of this.judge(own.written, part.judge).sentences) {
        const line = this.document.createElement("p");
        line.textContent = `${own.written}: ${sentence}`;
        nodes.judged.append(line);
      }
    }
  }

  touch() {
    if (!this.isOpen) return;
    this.isTouched = true;
    this.memory.keep({ begun: { id: this.id, values: this.read().values } });
    this.sayArrived(this.hasArrived || this.memory.kept.draft?.id === this.id ? CHANGED : "");
  }

  /** What is answered, and the part whose number cannot be read. */
  read() {
    const values = {};
    let unread = /** @type {import("./fields.js").Part|null} */ (null);
    for (const part of this.parts) {
      const value = this.fields[part.name].read();
      if (Number.isNaN(value)) unread = unread ?? part;
      else if (value !== undefined) values[part.name] = value;
    }
    return { values, unread };
  }

  submit() {
    const { values, unread } = this.read();
    if (unread) {
      this.sayArrived(`“${unread.label}” needs a number, such as 12.5.`);
      return;
    }
    if (!Object.keys(values).length) {
      this.sayArrived("Answer something first.");
      return;
    }
    this.memory.keep({ draft: { id: this.id, values, isSent: false }, begun: null });
    this.isTouched = false;
    this.sayArrived("Sending …");
    if (!this.transmit(values)) this.sayArrived(LATER);
  }

  transmit(values) {
    const [round, vote] = this.id.split(".").map(Number);
    return this.channel.send({ answer: { round, vote, values } });
  }

  /** The graphs that the questions need; what the server says next makes it try again. @param {string} id of the round */
  async loadPictures(id) {
    try {
      const pictures = await (await this.view.fetch(`pictures.json?key=${encodeURIComponent(this.key)}`)).json();
      if (id !== this.id || id === this.pictured) return;
      this.pictured = id;
      for (const [name, picture] of Object.entries(pictures)) this.fields[name]?.node.children[0].after(pictureOf(picture));
    } catch {
      // not here yet
    }
  }

  // half-equations

  loadJudge() {
    if (this.judgeScript) return;
    this.judgeScript = this.document.createElement("script");
    this.judgeScript.src = `judge.js?key=${encodeURIComponent(this.key)}`;
    this.judgeScript.onerror = () => (this.judgeScript = null); // the next answer asks for it again
    this.document.head.append(this.judgeScript);
  }

  /** A phone that could not load the judge sends its line unjudged. */
  judge(text, { task, species }) {
    const { fizzplateJudge } = /** @type {any} */ (this.view);
    if (fizzplateJudge) return fizzplateJudge(text, task, species);
    this.loadJudge();
    return { fault: "unjudged", sentences: [] };
  }
}

/** @param {Document} document @param {Window & typeof globalThis} view */
export const startPhone = (document, view) => new Phone(document, view);
