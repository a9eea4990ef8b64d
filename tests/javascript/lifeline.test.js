// What a page says of its program and its server, when it says nothing, and what can be pressed meanwhile.

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { happen, made, newPage } from "./page.js";

const { mountLifeline } = await loader("web/address/")("lifeline.js");

let clock;
let body;
beforeEach(() => {
  body = newPage();
  clock = 1e6;
  mock.timers.enable({ apis: ["setTimeout"] });
  mock.method(Date, "now", () => clock);
  Object.assign(globalThis, { location: { origin: "http://here" }, addEventListener() {}, removeEventListener() {} });
});
afterEach(() => {
  mock.timers.reset();
  mock.restoreAll();
});

function signal() {
  const heard = new Set();
  return { connect: (act) => heard.add(act), disconnect: (act) => heard.delete(act), emit: (...told) => heard.forEach((act) => act(null, ...told)) };
}

function tied() {
  const kernel = { connectionStatus: "connected", status: "idle", asked: 0, reconnected: 0, statusChanged: signal(), connectionStatusChanged: signal(), anyMessage: signal() };
  kernel.sendControlMessage = () => (kernel.asked += 1);
  kernel.reconnect = async () => (kernel.reconnected += 1);
  const page = made(body, "main", { className: "fp-page" });
  const [press, locked, text] = [made(page, "button", { className: "jupyter-button" }), made(page, "button", { className: "jupyter-button", disabled: true }), made(page, "textarea")];
  const lifeline = mountLifeline(made(page, "div"), { widget_manager: { kernel } });
  return {
    kernel, lifeline, press, locked, text,
    hear: (content = {}) => kernel.anyMessage.emit({ direction: "recv", msg: { content } }),
    connect(status) {
      kernel.connectionStatus = status;
      kernel.connectionStatusChanged.emit(status);
    },
    pass(ms) {
      clock += ms;
      mock.timers.tick(ms);
    },
    said: () => body.querySelector(".fp-lost")?.textContent ?? "",
  };
}

test("a program that does not answer is told of within ten seconds, and forgotten when it answers", () => {
  const { kernel, lifeline, press, locked, text, hear, pass, said } = tied();
  pass(1000);
  hear();
  for (const wait of [2000, 5900]) {
    assert.equal(said(), "");
    pass(wait);
  }
  assert.ok(kernel.asked === 2 && said() === "" && !lifeline.ended());
  pass(200);
  assert.match(said(), /does not answer/);
  assert.ok(lifeline.ended() && press.disabled && !text.disabled, "what is typed is kept");
  hear();
  assert.ok(said() === "" && !lifeline.ended() && !press.disabled && locked.disabled, "as it was before");
});

test("a computer that slept, or a page that nobody sees, tells of nothing", () => {
  const { kernel, connect, pass, said } = tied();
  clock += 3_600_000; // the timers stood still meanwhile
  pass(6000);
  assert.ok(said() === "" && kernel.asked === 2, "it is asked once more");
  document.hidden = true;
  pass(60_000);
  connect("connecting");
  pass(60_000);
  assert.equal(said(), "");
  document.hidden = false;
  happen(document, "visibilitychange");
  pass(5100);
  assert.match(said(), /lost the connection to its server/);
});

test("a computer that is only busy is no reason to keep a lost program to itself", () => {
  const { pass, said } = tied();
  clock += 500; // the timer comes half a second late
  pass(6000);
  assert.match(said(), /does not answer/);
});

test("a connection may be lost for a moment without a word, and comes back by itself", () => {
  const { kernel, connect, pass, said, hear } = tied();
  hear();
  connect("connecting");
  pass(4900);
  connect("connected");
  hear();
  pass(1000);
  assert.equal(said(), "");
  connect("connecting");
  pass(5100);
  assert.match(said(), /lost the connection to its server/);
  connect("disconnected");
  assert.equal(kernel.reconnected, 1, "the page goes on trying");
  connect("connected");
  assert.equal(said(), "");
});

test("Reload waits for a server that answers, and says so meanwhile", async () => {
  const { kernel, said } = tied();
  const answers = [() => Promise.reject(new Error("refused")), async () => ({ status: 502 }), async () => ({ status: 404 })];
  globalThis.fetch = () => answers.shift()();
  let reloaded = 0;
  location.reload = () => (reloaded += 1);
  kernel.statusChanged.emit("dead");
  const reload = body.querySelector(".fp-lost").querySelector("button");
  reload.click();
  assert.ok(reload.disabled, "one press is enough");
  for (const left of [2, 1]) {
    await new Promise(setImmediate);
    assert.ok(answers.length === left && !reloaded && /does not answer yet/.test(said()), "no server, or only its gate");
    mock.timers.tick(1000);
  }
  await new Promise(setImmediate);
  assert.equal(reloaded, 1, "it is there, and knows nothing of the old program");
});

test("a program that has ended stays ended, whatever took its place, and memory is named as the reason", () => {
  const first = tied();
  first.kernel.statusChanged.emit("busy");
  assert.equal(first.said(), "");
  first.kernel.statusChanged.emit("autorestarting");
  assert.match(first.said(), /has ended/);
  first.hear();
  first.connect("connected");
  assert.ok(/has ended/.test(first.said()) && first.press.disabled);
  first.hear({ reason: "memory" });
  assert.match(first.said(), /more memory than a page may use/);
});
