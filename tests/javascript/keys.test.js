// Keys and presses: whose they are, what they do, and where the keyboard is afterwards.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { loader } from "./loader.js";
import { changed, happen, made, newPage } from "./page.js";

const use = loader("bench/");
const { mountRemote } = await use("../kit/remote.js");
const { mountTabs } = await use("../kit/tabs.js");
const { keepFocus } = await loader("web/address/")("focus.js");

let body;
beforeEach(() => (body = newPage()));

function remote() {
  const page = made(body, "main", { className: "fp-page" });
  const steps = [];
  document.documentElement.dataset.fpRemote = "on";
  mountRemote(page, (by) => steps.push(by));
  const curtain = page.querySelector(".fp-blank-screen");
  const press = (key, more = {}, target = body) => happen(target, "keydown", { key, ...more }).prevented;
  return { page, steps, curtain, press };
}

test("a presenter's remote steps the explanation, and B covers and shows the screen", () => {
  const { steps, curtain, press } = remote();
  assert.ok(press("PageDown") && press("PageUp") && press("PageDown"));
  assert.deepEqual(steps, [1, -1, 1]);
  assert.ok(press("b") && !curtain.hidden);
  assert.ok(press("B") && curtain.hidden);
  assert.ok(!press("Escape"), "nothing to uncover: Escape belongs to whatever else is open");
  assert.ok(press("b") && press("Escape") && curtain.hidden);
  assert.ok(!press("x"));
});

test("the browser's own shortcuts never blank the screen or turn the page's explanation", () => {
  const { steps, curtain, press } = remote();
  for (const held of ["ctrlKey", "altKey", "metaKey"]) {
    for (const key of ["b", "PageDown"]) assert.ok(!press(key, { [held]: true }), `${held} ${key}`);
  }
  assert.ok(curtain.hidden && !steps.length);
});

test("the remote's keys are left to whoever types, to a notebook round the page, and to who switched them off", () => {
  const { page, curtain, press } = remote();
  for (const field of [made(page, "input", { type: "text" }), made(page, "textarea"), made(page, "select")]) assert.ok(!press("b", {}, field));
  assert.ok(!press("b", {}, made(body, "div")), "a notebook's own cell");
  assert.ok(press("b", {}, made(page, "input", { type: "radio" })) && press("b", {}, page) && curtain.hidden);
  page.hidden = true;
  assert.ok(!press("b"), "a part of the page that is not shown");
  page.hidden = false;
  delete document.documentElement.dataset.fpRemote;
  assert.ok(!press("b") && curtain.hidden);
});

test("arrows, Home and End go round the tabs, and one tab at a time can be reached", () => {
  const panels = ["charts", "explain", "table"].map((name) => [name, `The ${name}`, made(body, "div", { id: name })]);
  const tabs = mountTabs(body, panels, () => {});
  assert.equal(tabs.shown(), "charts");
  tabs.choose("charts");
  for (const [key, name] of [["ArrowLeft", "table"], ["ArrowRight", "charts"], ["End", "table"], ["Home", "charts"], ["ArrowRight", "explain"]]) {
    happen(document.activeElement.closest("[role=tab]") ?? body.querySelector("[role=tab]"), "keydown", { key });
    assert.equal(tabs.shown(), name, key);
    assert.equal(document.activeElement.textContent, `The ${name}`);
    assert.deepEqual(panels.filter(([, , panel]) => !panel.hidden).map(([each]) => each), [name]);
    const reached = body.querySelectorAll("[role=tab]").filter((tab) => tab.tabIndex === 0 && tab.getAttribute("aria-selected") === "true");
    assert.deepEqual(reached.map((tab) => tab.textContent), [`The ${name}`]);
  }
  assert.ok(!happen(document.activeElement, "keydown", { key: "a" }).prevented);
});

/** A page with two buttons; how it is pressed, and how a part of it goes. */
function pageOfButtons() {
  mock.timers.enable({ apis: ["setTimeout"] });
  const page = made(body, "main", { className: "fp-page" });
  const [first, second] = ["Compare", "Next"].map((text) => made(page, "button", { textContent: text }));
  for (const each of [first, second]) each.scrollIntoView = () => {};
  const leave = keepFocus(page);
  return {
    page, first, second,
    pass() {
      changed();
      mock.timers.tick(300);
    },
    end() {
      leave();
      mock.timers.reset();
    },
  };
}

test("pressed again and then gone, a button leaves the keyboard at what comes next and can be used", () => {
  const { page, first, second, pass, end } = pageOfButtons();
  const last = made(page, "button", { textContent: "Last", scrollIntoView() {} });
  page.prepend(made(page, "button", { textContent: "Locked", disabled: true }));
  first.focus();
  happen(first, "pointerdown"); // it has the keyboard already, so that nothing tells of its coming there
  first.remove();
  pass();
  assert.equal(document.activeElement, second);
  second.remove(); // where the keyboard was put may go as well
  pass();
  assert.equal(document.activeElement, last);
  last.remove();
  pass();
  assert.equal(document.activeElement, body, "nothing is left that can be used");
  end();
});

test("whoever points at nothing leaves the page's controls, and is not pulled back to one", () => {
  const { page, first, pass, end } = pageOfButtons();
  first.focus();
  happen(page, "pointerdown");
  document.activeElement = body;
  pass();
  assert.equal(document.activeElement, body);
  end();
});

test("what is drawn anew under its old key gets the keyboard back, and so does what was only locked for a moment", () => {
  const { page, first, pass, end } = pageOfButtons();
  const arrow = (key, name) => made(page, "button", { textContent: "→", dataset: { fpKey: key }, scrollIntoView() {} }, { "aria-label": name });
  arrow("to anode", "To the anode");
  const next = arrow("to cathode", "To the cathode");
  next.focus();
  next.remove();
  const anew = arrow("to cathode", "To the negative electrode"); // the board's names have changed meanwhile
  pass();
  assert.equal(document.activeElement, anew);
  first.focus();
  first.disabled = true;
  document.activeElement = body;
  changed();
  mock.timers.tick(200);
  first.disabled = false;
  changed();
  assert.equal(document.activeElement, first);
  end();
});
