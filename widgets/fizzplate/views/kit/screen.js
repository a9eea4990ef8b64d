// Switches that belong to the page: a dark ground, letters for the back row, every chart, a remote's keys.

import { make } from "./elements.js";
import { keepInTab, keptInTab } from "./tab_memory.js";

const SWITCHES = [
  { label: "Dim room", property: "fpRoom", value: "dim" },
  { label: "Projector size", property: "fpSize", value: "projector" },
  { label: "All charts", property: "fpCharts", value: "all" },
  { label: "Remote keys", property: "fpRemote", value: "on" },
];
const KEPT = "screen.1";
const ATTRIBUTES = ["data-fp-room", "data-fp-size", "data-fp-charts", "data-fp-remote"];

/** In a notebook's own host, keep keys that are pressed in the page from being the notebook's commands. */
function keepKeys({ target }) {
  if (target instanceof Element && target.closest(".fp-page")) target.setAttribute("data-lm-suppress-shortcuts", "true");
}

/** A button that gives one part of the page the whole screen. */
function fullScreen(node, stage, signal) {
  if (!stage?.requestFullscreen) return;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "fp-button";
  button.textContent = "Full screen";
  button.addEventListener("click", () => stage.requestFullscreen().catch(() => {}), { signal });
  node.append(button);
}

/** A place for the switches. */
export function switchGroup() {
  const group = make("div", "", "fp-room");
  group.setAttribute("role", "group");
  group.setAttribute("aria-label", "Room");
  return group;
}

/**
 * @param node where the switches go @param stage what may have the whole screen, if anything
 * @param {() => void} changed @param {string[]} [wanted] labels of the switches
 */
export function mountRoom(node, stage, changed, wanted = SWITCHES.map(({ label }) => label)) {
  const page = document.documentElement.dataset;
  if (!Number(page.fpRooms)) {
    // the first bench asks how the reader likes it; a later one must not undo what was chosen since
    if (matchMedia("(prefers-color-scheme: dark)").matches) page.fpRoom = "dim";
    page.fpRemote = "on";
    const kept = keptInTab(KEPT);
    for (const { property, value } of kept ? SWITCHES : []) {
      if (kept.includes(property)) page[property] = value;
      else delete page[property];
    }
  }
  page.fpRooms = String(Number(page.fpRooms ?? 0) + 1);
  const dismiss = new AbortController();
  const keep = () => keepInTab(KEPT, SWITCHES.filter(({ property }) => page[property]).map(({ property }) => property));
  addEventListener("pagehide", keep, { signal: dismiss.signal });
  document.addEventListener("focusin", keepKeys, { signal: dismiss.signal });
  const shows = SWITCHES.filter((each) => wanted.includes(each.label)).map(({ label, property, value }) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "fp-button";
    button.setAttribute("role", "switch");
    button.textContent = label;
    const toggle = () => {
      if (page[property] === value) delete page[property];
      else page[property] = value;
    };
    button.addEventListener("click", toggle, { signal: dismiss.signal });
    node.append(button);
    return () => button.setAttribute("aria-checked", String(page[property] === value));
  });
  const showAll = () => shows.forEach((show) => show());
  // what another part of the page switches is followed
  const switched = new MutationObserver(() => {
    showAll();
    changed();
  });
  switched.observe(document.documentElement, { attributes: true, attributeFilter: ATTRIBUTES });
  showAll();
  fullScreen(node, stage, dismiss.signal);
  document.addEventListener("fullscreenchange", changed, { signal: dismiss.signal }); // its letters are larger
  // paper is a light room
  let kept = "";
  addEventListener("beforeprint", () => {
    kept = page.fpRoom ?? "";
    delete page.fpRoom;
    changed();
  }, { signal: dismiss.signal });
  addEventListener("afterprint", () => {
    if (kept) page.fpRoom = kept;
    changed();
  }, { signal: dismiss.signal });
  return {
    destroy() {
      dismiss.abort();
      switched.disconnect();
      page.fpRooms = String(Number(page.fpRooms) - 1);
      if (page.fpRooms !== "0") return; // another bench of this page still has its switches
      for (const { property } of SWITCHES) delete page[property];
      delete page.fpRooms;
    },
  };
}
