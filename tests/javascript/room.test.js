// What the class said: how it is counted and drawn, what may be told of it, and where it goes.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { keeping, made, newPage } from "./page.js";

const { barsOf, dotsOf, labelOf, pilesOf, FAULTS } = await loader("room/")("tallies.js");
const { Steering } = await loader("room/")("steering.js");
const { ShownRounds } = await loader("room/")("shown_rounds.js");
const { reportText } = await loader("room/")("class_report.js");
const { mountClassRoom } = await loader("room/")("class_room.js");
const { mountOpener, NOT_HERE } = await loader("room/")("opener.js");
const { keepAnswers, rightOf, roundsAt } = await loader("asking/")("class_rounds.js");
const { votesText } = await loader("bench/lesson/")("results_columns.js");

let body;
beforeEach(() => (body = newPage()));

const SLOTS = { cathode_in_full: "cathode", anode_in_full: "anode" };
const OPTIONS = ["chlorine", "hydrogen", "sodium"];
const ask = (role, expected, outcome) => ({ role, options: OPTIONS, expected, outcome, observation: "bubbles", points: [{}], phrases: ["bubbles", "a deposit"] });
const LESSON = {
  key: "NaCl", on: true, electrodes: [{ names: ["hydrogen"] }, { names: ["chlorine"] }],
  classroom: {
    ask: [ask("cathode", "hydrogen", "hydrogen"), ask("anode", "chlorine", "chlorine")],
    ions: [{ label: "Na⁺", goes: "cathode" }, { label: "Cl⁻", goes: "anode" }],
    tests: {
      names: ["lighted splint", "glowing splint"],
      results: [{ "lighted splint": { picture: "bang" }, "glowing splint": { picture: "out" } }, { "lighted splint": { picture: "nothing" }, "glowing splint": { picture: "nothing" } }],
    },
    row: { cathode: { task: { accepted: [], goal: "", tiles: [], hints: ["the answer"] }, test: "hold a lighted splint at the tube" }, anode: { test: "look at it" } },
  },
};
const RECORD = {
  header: { electrodes: [{ products: [{ formula: "H2", kind: "gas" }] }, { products: [{ formula: "Cu", kind: "solid" }] }] },
  electrode: (side) => ({ gasCm3: () => [0, 2.5], massG: () => [0, side * 0.04] }),
};
const at = (step, lesson = LESSON) => roundsAt(step, lesson, SLOTS, { record: RECORD, species: {} });
const vote = (counts, answered = 3) => ({ answered, counts });

test("each step offers its own rounds, and none of them gives an answer away before Explain", () => {
  assert.deepEqual(at("predict").map(({ name }) => name), ["Prediction at each electrode", "Which ions travel where"]);
  assert.deepEqual(at("explain").map(({ name }) => name), ["Half-equations", "A mass or a volume"]);
  assert.deepEqual(at("record"), []);
  for (const step of ["predict", "watch", "test"]) {
    for (const round of at(step)) assert.doesNotMatch(JSON.stringify(round), /expected|outcome|"goes"|the answer/, `${step}: ${round.name}`);
  }
  assert.doesNotMatch(JSON.stringify(at("explain")), /the answer/); // phones get what judges, no hint
});

test("every part keeps the form that the server asks for", () => {
  for (const step of ["predict", "watch", "test", "explain"]) {
    for (const { parts, title, memo } of at(step)) {
      assert.ok(title.length <= 200 && memo.length <= 500);
      assert.equal(new Set(parts.map(({ name }) => name)).size, parts.length);
      for (const { name, kind, options } of parts) {
        assert.match(name, /^[a-z0-9-]{1,40}$/);
        if (kind === "choice" || kind === "several") assert.ok(options.length > 0 && options.length <= 40);
      }
    }
  }
});

test("what is right is told from Explain on, of this cell only, after it has run", () => {
  const [{ memo, parts }] = at("predict");
  const right = (step, lesson = LESSON) => rightOf(step, lesson, RECORD, { memo }, parts[0], true);
  for (const step of ["predict", "watch", "test"]) assert.equal(right(step), null);
  assert.equal(right("explain"), 1);
  assert.equal(right("explain", { ...LESSON, key: "CuSO4" }), null);
  assert.equal(right("explain", { ...LESSON, on: false }), null);
  assert.equal(rightOf("explain", LESSON, RECORD, { memo: "nonsense" }, parts[0], true), null);
  const ions = at("predict")[1];
  assert.deepEqual(rightOf("explain", LESSON, RECORD, ions, ions.parts[1], true), [1]);
  const amount = at("explain")[1];
  assert.equal(rightOf("explain", LESSON, RECORD, amount, amount.parts[0], true), null); // others could copy it
  assert.equal(rightOf("explain", LESSON, RECORD, amount, amount.parts[0], false), 2.5);
  assert.equal(rightOf("explain", LESSON, RECORD, amount, amount.parts[1], false), 40); // mg
});

test("of gas tests the usual one is told, with what it showed in this run, and where there was no gas to test", () => {
  const [cathode, anode] = at("test").filter(({ memo }) => memo.includes("test "));
  const right = ({ memo, parts }, part, step = "explain") => {
    const found = rightOf(step, LESSON, RECORD, { memo }, parts[part]);
    return found === null ? null : parts[part].options[found];
  };
  assert.deepEqual([right(cathode, 0), right(cathode, 1)], ["lighted splint", "it pops"]);
  assert.deepEqual([right(anode, 0), right(anode, 1)], ["none: no gas forms", null]);
  assert.equal(right(cathode, 0, "test"), null); // not before it may be told
});

test("predictions of the latest vote go into the results table, with all votes", () => {
  const kept = {};
  const store = { change: (key, changes) => (kept[key] = changes) };
  const [asked] = at("predict");
  const votes = [vote({ cathode: [0, 1, 2], anode: [0, 0, 0], sure: [0, 0, 0] }), vote({ cathode: [0, 3, 0], anode: [0, 0, 0], sure: [0, 0, 0] })];
  keepAnswers(store, asked, votes);
  assert.equal(kept.NaCl["cathode:predicted"], "hydrogen");
  assert.deepEqual(kept.NaCl["cathode:hands"], { chlorine: 0, hydrogen: 3, sodium: 0 });
  assert.equal(kept.NaCl["anode:predicted"], undefined); // nobody answered: what was written there stays
  assert.equal(votesText(kept.NaCl, "cathode"), "The class: sodium 2, hydrogen 1; then hydrogen 3");
  const many = { "anode:votes": [[["chlorine", 1], ["hydrogen", 23], ["nothing", 2], ["oxygen", 4]]] };
  assert.equal(votesText(many, "anode"), "The class: hydrogen 23, oxygen 4, others 3"); // short enough for its column
  assert.equal(votesText({}, "anode"), "");
});

test("bars stand for counts, the first vote beside the second, and the right option is marked only if told", () => {
  const part = { name: "cathode", kind: "choice", label: "What forms?", options: OPTIONS, unit: "" };
  const votes = [vote({ cathode: [0, 1, 2] }), vote({ cathode: [0, 3, 0] })];
  const drawn = barsOf(part, votes, null);
  assert.match(drawn.textContent, /hydrogen1 → 3/);
  assert.doesNotMatch(drawn.textContent, /✓/);
  assert.match(barsOf(part, votes, 1).textContent, /hydrogen ✓ the cell1 → 3/);
});

test("of many options only those are drawn that somebody chose, or that are right", () => {
  const part = { name: "half", kind: "equation", label: "Write it", options: [], unit: "" };
  const text = barsOf(part, [vote({ half: [0, 0, 4, 0, 0, 0, 0] })], 0).textContent;
  assert.match(text, /right ✓0/);
  assert.match(text, /atoms do not balance4/);
  assert.doesNotMatch(text, /charge/);
  assert.equal(FAULTS.length, 9);
});

test("a number's unit stands behind its question once", () => {
  const of = (label) => labelOf({ name: "mass", kind: "number", label, options: [], unit: "mg" });
  assert.equal(of("Mass of copper"), "Mass of copper (mg)");
  assert.equal(of("How much copper is deposited, in mg?"), "How much copper is deposited, in mg?");
});

test("a high pile of dots stays below what is asked above it", () => {
  const part = { name: "mass", kind: "number", label: "Mass of copper", options: [], unit: "mg" };
  const plot = dotsOf(part, [vote({ mass: Array(30).fill(3) }, 30)], 4.6);
  const tops = plot.querySelectorAll("circle").map((dot) => dot.getAttribute("cy") - dot.getAttribute("r"));
  assert.equal(tops.length, 30);
  assert.ok(Math.min(...tops) >= 0);
});

test("dots pile up where numbers are alike; one that is far out is counted, and does not squeeze the others", () => {
  const { dots, top, beyond } = pilesOf([5, 5, 5, 6, 1e9, -3], 5);
  assert.equal(dots.length, 4);
  assert.equal(beyond, 2);
  assert.ok(top >= 10 && top < 100);
  assert.deepEqual(dots.map(({ height }) => height), [0, 1, 2, 0]);
  assert.equal(pilesOf([], null).dots.length, 0);
});

test("what is written waits for the connection, and a room is found again by its own key", () => {
  globalThis.location = { protocol: "http:", host: "127.0.0.1:1", search: "?key=abc", pathname: "/demonstrate" };
  globalThis.sessionStorage = { setItem() {}, getItem: () => null, removeItem() {} };
  const sent = [];
  const sockets = [];
  const connect = (address) => {
    const socket = { address, readyState: 0, send: (text) => sent.push(JSON.parse(text)), close() {} };
    sockets.push(socket);
    return socket;
  };
  const heard = [];
  const steering = new Steering((message) => heard.push(message), (said) => heard.push(said), connect);
  steering.send({ open: { host: "127.0.0.1", anew: false } });
  assert.equal(sockets[0].address, "ws://127.0.0.1:1/room/steering?key=abc");
  assert.deepEqual(sent, []);
  sockets[0].readyState = 1;
  sockets[0].onopen();
  assert.deepEqual(sent, [{ open: { host: "127.0.0.1", anew: false } }]);
  sockets[0].onmessage({ data: '{"opened": "2222222222222222"}' });
  sockets[0].onclose();
  steering.connect();
  sockets[1].onopen();
  assert.deepEqual(sent.at(-1), { resume: "2222222222222222" });
  sockets[1].onmessage({ data: '{"gone": "closed"}' });
  assert.equal(steering.token, "");
  steering.destroy();
});

test("where no server of ours gathers answers, the button says so and why", () => {
  globalThis.location = { protocol: "http:", host: "hub", search: "", pathname: "/" };
  globalThis.sessionStorage = { setItem() {}, getItem: () => null, removeItem() {} };
  const place = made(body, "div");
  mountOpener(place, { hasRoom: false, address: "/room/lesson.js", mount: () => assert.fail("nothing is loaded") }, () => assert.fail("nothing is asked for"));
  const [opener, said] = place.children;
  assert.match(opener.textContent, /not available here/);
  assert.equal(opener.getAttribute("aria-disabled"), "true");
  opener.click();
  assert.equal(said.textContent, NOT_HERE);
});

test("a press loads the room once; where the server does not answer, it says so and can be tried again", async () => {
  globalThis.sessionStorage = { setItem() {}, getItem: () => null, removeItem() {} };
  const place = made(body, "div");
  const presses = [];
  let tries = 0;
  const load = async () => {
    tries += 1;
    if (tries === 1) throw new Error("no network");
    return { module: true };
  };
  mountOpener(place, { hasRoom: true, address: "/x.js", mount: () => ({ press: () => presses.push(1) }) }, load);
  const [opener, said] = place.children;
  const press = async () => {
    opener.click();
    await new Promise((done) => setTimeout(done, 0));
  };
  await press();
  assert.match(said.textContent, /does not answer/);
  await press();
  await press();
  assert.equal(said.textContent, "");
  assert.deepEqual([tries, presses.length], [2, 2]);
});

// what is saved of it

const HEADS = { of: "Solution", right: "What the cell did" };
const LINES = "Solution,Round,Question,Answer,First vote,Second vote,Third vote,What the cell did";
const part = (name, kind, label, options = [], unit = "") => ({ name, kind, label, options, unit, judge: { task: "for phones only" } });
const askedOf = (number, parts, memo = '["NaCl","predict"]') => ({ number, title: `Round ${number}`, memo, parts });
const linesOf = (rounds) => reportText(rounds, HEADS).split("\r\n");

/** A page at which one comes in a given way. */
function comeTo(way) {
  globalThis.location = { protocol: "http:", host: "127.0.0.1:1", search: "", pathname: "/demonstrate" };
  performance.getEntriesByType = () => [{ type: way }];
}

test("what is saved of a round are its counts, vote beside vote, how many had joined and answered, and no formula", () => {
  globalThis.sessionStorage = keeping();
  comeTo("navigate");
  const shown = new ShownRounds();
  const asked = askedOf(1, [part("cathode", "choice", "What forms?", ["hydrogen", "=1+1"]), part("words", "text", "In your own words")]);
  const votes = [vote({ cathode: [1, 2], words: [2] }), vote({ cathode: [3, 1], words: [0] }, 4)];
  shown.note(asked, "sodium chloride", votes.slice(0, 1), 5);
  shown.note(asked, "sodium chloride", votes, 6);
  assert.deepEqual(linesOf(shown.rounds), [
    LINES,
    "sodium chloride,Round 1,,phones that had joined,5,6,,",
    "sodium chloride,Round 1,,phones that answered,3,4,,",
    "sodium chloride,Round 1,What forms?,hydrogen,1,3,,",
    "sodium chloride,Round 1,What forms?,'=1+1,2,1,,",
    "sodium chloride,Round 1,In your own words,written,2,0,,",
  ]);
  assert.doesNotMatch(JSON.stringify(shown.rounds), /for phones only/);
});

test("numbers are saved as dots beside the model's value, equations by what is wrong, and a set with what its teacher learns", () => {
  globalThis.sessionStorage = keeping();
  comeTo("navigate");
  const shown = new ShownRounds();
  shown.note(askedOf(1, [part("cathode", "number", "Mass", [], "mg"), part("half", "equation", "Half")]), "copper", [vote({ cathode: [40, 81.25], half: [2, 0, 5, 0, 0, 0, 0] })], 9);
  const lines = () => linesOf(shown.rounds).slice(3).map((line) => line.replace("copper,Round 1,", ""));
  assert.deepEqual(lines().slice(0, 1), ['Mass (mg),numbers,40.0; 81.3,,,']);
  assert.ok(lines().includes("Half,right,2,,,") && lines().includes("Half,atoms do not balance,5,,,"));
  shown.learn(() => true, (_, { kind }) => ({ right: kind === "number" ? 41.2 : 0, learned: kind === "number" ? [] : ["2 of 7 right (29 %)"] }));
  assert.ok(lines().includes('Mass (mg),the model,,,,41.2'));
  assert.ok(lines().includes("Half,2 of 7 right (29 %),,,,"));
});

test("what may not be told of the solution at hand is not saved; what was told of an earlier one stays", () => {
  globalThis.sessionStorage = keeping();
  comeTo("navigate");
  const shown = new ShownRounds();
  const [asked] = at("predict");
  shown.note({ ...asked, number: 1 }, "sodium chloride", [vote({ cathode: [0, 1, 2], anode: [3, 0, 0], sure: [0, 0, 3] })], 3);
  const learn = (step, lesson) => shown.learn(({ memo }) => JSON.parse(memo)[0] === lesson.key, (round, each) => ({ right: rightOf(step, lesson, RECORD, round.asked, each, false), learned: [] }));
  const told = () => linesOf(shown.rounds).filter((line) => /,(yes|no)$/.test(line));
  for (const step of ["predict", "watch", "test"]) {
    learn(step, LESSON);
    assert.deepEqual(told(), [], step);
  }
  learn("explain", LESSON);
  assert.equal(told().length, 6);
  assert.ok(told().includes("sodium chloride,What will form at each electrode?,What forms at the cathode?,hydrogen,1,,,yes"));
  learn("predict", { ...LESSON, key: "CuSO4" });
  assert.equal(told().length, 6);
  learn("predict", LESSON);
  assert.deepEqual(told(), []);
});

test("rounds that were shown outlast a reload, not the room; a new class begins with none, and its undoing brings them back", () => {
  globalThis.sessionStorage = keeping();
  comeTo("navigate");
  const asked = askedOf(1, [part("cathode", "choice", "What forms?", ["hydrogen", "sodium"])]);
  const shown = new ShownRounds();
  shown.belongTo("http://room/1");
  shown.note(asked, "sodium chloride", [vote({ cathode: [1, 2] })], 3);
  assert.deepEqual(new ShownRounds().rounds, [], "on a new visit");
  comeTo("reload");
  const again = new ShownRounds();
  again.belongTo("http://room/1");
  assert.deepEqual(linesOf(again.rounds), linesOf(shown.rounds));
  again.renew(false);
  assert.deepEqual(new ShownRounds().rounds, []);
  again.note({ ...asked, number: 2 }, "sodium chloride", [vote({ cathode: [3, 0] })], 3);
  again.renew(true);
  assert.deepEqual(again.rounds.map((round) => round.asked.number), [1, 2]);
  again.belongTo("http://room/2");
  assert.deepEqual(again.rounds, []);
  assert.deepEqual(new ShownRounds().rounds, []);
});

test("the projector's page offers to save only what it has shown, finds it again after a reload and forgets it with the room", () => {
  globalThis.sessionStorage = keeping();
  globalThis.WebSocket = class { close() {} };
  comeTo("navigate");
  const lesson = { rounds: () => [], right: () => null, isOfNow: () => true, nameOf: () => "sodium chloride", heads: HEADS, onShown() {} };
  const open = () => {
    const panel = made(body, "section");
    return { panel, room: mountClassRoom({ opener: made(body, "button"), panel, root: made(body, "div") }, lesson) };
  };
  const offers = ({ panel }) => panel.textContent.includes("Save what the class said");
  const round = askedOf(1, [part("cathode", "choice", "What forms?", ["hydrogen", "sodium"])]);
  const opened = { opened: "key", link: "http://room/1", code: null, round, open: true, joined: 2, missing: 0, votes: [vote({ cathode: [1, 1] }, 2)] };
  const first = open();
  first.room.hear(opened);
  assert.equal(offers(first), false);
  first.room.show(true);
  assert.equal(offers(first), true);
  first.room.hear({ round: { ...round, number: 2 }, joined: 2, missing: 2, votes: [vote({ cathode: [0, 0] }, 0)] });
  comeTo("reload");
  const again = open();
  again.room.hear({ ...opened, round: { ...round, number: 2 } });
  assert.equal(offers(again), true);
  assert.match(again.panel.querySelector("select").textContent + again.panel.textContent, /Round 1/);
  assert.deepEqual(again.room.shown.rounds.map(({ asked }) => asked.number), [1]);
  again.room.renew(false);
  assert.equal(offers(again), false);
  again.room.renew(true);
  again.room.hear({ ended: "closed" });
  assert.deepEqual(open().room.shown.rounds, []);
  for (const { room } of [first, again]) room.destroy();
});

test("the teacher's page says who is away, and offers to count one of each address where phones share one", () => {
  globalThis.sessionStorage = keeping();
  const sent = [];
  globalThis.WebSocket = class { close() {} };
  comeTo("navigate");
  const panel = made(body, "section");
  const lesson = { rounds: () => [], right: () => null, isOfNow: () => true, nameOf: () => "sodium chloride", heads: HEADS, onShown() {} };
  const room = mountClassRoom({ opener: made(body, "button"), panel, root: made(body, "div") }, lesson);
  room.steering.send = (message) => sent.push(message);
  const round = askedOf(1, [part("cathode", "choice", "What forms?", ["hydrogen", "sodium"])]);
  const counts = { joined: 8, missing: 1, away: 2, alike: 1, votes: [vote({ cathode: [3, 2] }, 5)] };
  room.hear({ opened: "key", link: "http://room/1", code: null, round, open: true, oneEach: false, ...counts });
  assert.match(panel.textContent, /8 joined · 5 answered · 1 missing · 2 away/);
  assert.doesNotMatch(panel.textContent, /address/);
  room.hear({ ...counts, alike: 4 });
  const press = () => [...panel.querySelectorAll("button")].find(({ textContent }) => /^Count/.test(textContent));
  assert.equal(press().textContent, "Count 4 phones at one address as one");
  press().click();
  assert.deepEqual(sent.at(-1), { "one-each": true });
  room.hear({ oneEach: true, ...counts, alike: 4 });
  assert.equal(press().textContent, "Count every phone");
  assert.match(panel.textContent, /one of each address/);
  room.destroy();
});

test("rounds of one title are told apart where they can be shown again", () => {
  globalThis.sessionStorage = keeping();
  globalThis.WebSocket = class { close() {} };
  comeTo("navigate");
  const panel = made(body, "section");
  const lesson = { rounds: () => [], right: () => null, isOfNow: () => true, nameOf: () => "sodium chloride", heads: HEADS, onShown() {} };
  const room = mountClassRoom({ opener: made(body, "button"), panel, root: made(body, "div") }, lesson);
  const parts = [part("cathode", "choice", "What forms?", ["hydrogen", "sodium"])];
  const hear = (number, title) => {
    room.hear({ opened: "key", link: "http://room/1", code: null, open: true, round: { ...askedOf(number, parts), title }, joined: 2, missing: 0, votes: [vote({ cathode: [1, 1] }, 2)] });
    room.show(true);
  };
  for (const [number, title] of [[1, "What forms?"], [2, "Which ions?"], [3, "What forms?"], [4, "How much?"]]) hear(number, title);
  const offered = [...panel.querySelectorAll("optgroup option")].map(({ textContent }) => textContent);
  assert.deepEqual(offered, ["What forms? (2)", "Which ions?", "What forms? (1)"]);
  room.destroy();
});
