// Switches that belong to the page: a dark ground, letters for the back row, every chart, a remote's keys.

import { make, makeButton } from "./elements.js";
import { keepInTab, keptInTab } from "./tab_memory.js";

const SWITCHES = [
  { label: "Dim room", property: "fpRoom", value: "dim" },
  { label: "Projector size", property: "fpSize", value: "projector", forTeachers: true },
  { label: "All charts", property: "fpCharts", value: "all" },
  { label: "Remote keys", property: "fpRemote", value: "on", forTeachers: true },
];
const TAB_KEY = "screen.1";
const ATTRIBUTES = ["data-fp-room", "data-fp-size", "data-fp-charts", "data-fp-remote"];

/** In a notebook's own host, keep keys that are pressed in the page from being the notebook's commands. @param {Event} event */
function keepKeys({ target }) {
  if (target instanceof Element && target.closest(".fp-page")) target.setAttribute("data-lm-suppress-shortcuts", "true");
}

/** A button that gives one part of the page the whole screen. @param {HTMLElement} node @param {(() => HTMLElement)|null} stage @param {AbortSignal} signal */
function addFullScreen(node, stage, signal) {
  if (!stage?.()?.requestFullscreen) return;
  const toggle = () => (document.fullscreenElement ? document.exitFullscreen() : stage().requestFullscreen()).catch(() => {});
  const button = makeButton("Full screen", toggle, "", signal);
  button.classList.add("fp-for-teachers");
  node.append(button);
}

/** A place for the switches. */
export function screenSwitchGroup() {
  const group = make("div", "", "fp-screen-switches");
  group.setAttribute("role", "group");
  group.setAttribute("aria-label", "Room");
  return group;
}

/** Begin with what the reader's system asks for, or with what this tab has kept. @param {DOMStringMap} page */
function beginScreen(page) {
  if (matchMedia("(prefers-color-scheme: dark)").matches) page.fpRoom = "dim";
  page.fpRemote = "on";
  const kept = keptInTab(TAB_KEY);
  for (const { property, value } of kept ? SWITCHES : []) {
    if (kept.includes(property)) page[property] = value;
    else delete page[property];
  }
}

/**
 * @param {HTMLElement} node @param {DOMStringMap} page @param {typeof SWITCHES[0]} each @param {AbortSignal} signal
 * @returns {() => void} shows whether it is on
 */
function addSwitch(node, page, { label, property, value, forTeachers }, signal) {
  const button = makeButton(label, () => {
    if (page[property] === value) delete page[property];
    else page[property] = value;
  }, "", signal);
  button.setAttribute("role", "switch");
  if (forTeachers) button.classList.add("fp-for-teachers");
  node.append(button);
  return () => button.setAttribute("aria-checked", String(page[property] === value));
}

/** Paper is a light room. @param {DOMStringMap} page @param {() => void} onChange @param {AbortSignal} signal */
function lightenPaper(page, onChange, signal) {
  let room = "";
  addEventListener("beforeprint", () => {
    room = page.fpRoom ?? "";
    delete page.fpRoom;
    onChange();
  }, { signal });
  addEventListener("afterprint", () => {
    if (room) page.fpRoom = room;
    onChange();
  }, { signal });
}

/**
 * @param {HTMLElement} node where the switches go @param {(() => HTMLElement)|null} stage gives what may have the whole screen, if anything
 * @param {() => void} onChange @param {string[]} [labels] of the switches
 */
export function mountScreenSwitches(node, stage, onChange, labels = SWITCHES.map(({ label }) => label)) {
  const page = document.documentElement.dataset;
  if (!Number(page.fpScreenSwitches)) beginScreen(page); // a later bench must not undo what was chosen since
  page.fpScreenSwitches = String(Number(page.fpScreenSwitches ?? 0) + 1);
  const listeners = new AbortController();
  const { signal } = listeners;
  const keep = () => keepInTab(TAB_KEY, SWITCHES.filter(({ property }) => page[property]).map(({ property }) => property));
  addEventListener("pagehide", keep, { signal });
  document.addEventListener("focusin", keepKeys, { signal });
  const updates = SWITCHES.filter(({ label }) => labels.includes(label)).map((each) => addSwitch(node, page, each, signal));
  const update = () => updates.forEach((each) => each());
  // another part of the page may have the same switches
  const changes = new MutationObserver(() => {
    update();
    onChange();
  });
  changes.observe(document.documentElement, { attributes: true, attributeFilter: ATTRIBUTES });
  update();
  addFullScreen(node, stage, signal);
  document.addEventListener("fullscreenchange", onChange, { signal }); // its letters are larger
  lightenPaper(page, onChange, signal);
  return {
    destroy() {
      listeners.abort();
      changes.disconnect();
      page.fpScreenSwitches = String(Number(page.fpScreenSwitches) - 1);
      if (page.fpScreenSwitches !== "0") return; // another bench of this page still has its switches
      for (const { property } of SWITCHES) delete page[property];
      delete page.fpScreenSwitches;
    },
  };
}
