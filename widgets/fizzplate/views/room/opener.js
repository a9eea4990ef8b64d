// The button that asks the class. What follows a press is loaded then, from the server that gathers the answers: a page
// that is taken away, or shown by another host, has only the button's own words.

import { make, makeButton } from "../kit/elements.js";
import { keptInTab } from "../kit/tab_memory.js";

export const TAB_KEY = "room.1"; // under which this tab keeps the key of the room that it has opened
export const NOT_HERE =
  "Not available here: each page of this host has a server of its own, so phones cannot reach it together. Start fizzplate on the computer at the projector.";
const UNREACHABLE = "The server does not answer. Try again.";

/**
 * @param {HTMLElement} place @param {{hasRoom: boolean, address: string, mount: (module: any, opener: HTMLButtonElement) => any}} options
 *   address: of the module to load; mount: makes the room of it
 * @param {(address: string) => Promise<any>} load
 */
export function mountOpener(place, { hasRoom, address, mount }, load = (from) => import(new URL(from, location.href).href)) {
  let room = /** @type {any} */ (null);
  let isGone = false;
  const said = make("p", "", "fp-note fp-ask-note");
  said.setAttribute("role", "status");
  const begin = async () => {
    const module = await load(address);
    if (!isGone && !room) room = mount(module, opener);
  };
  const opener = makeButton(hasRoom ? "Ask the class" : "Ask the class: not available here", async () => {
    said.textContent = "";
    try {
      if (!hasRoom) said.textContent = NOT_HERE;
      else if (!room) await begin();
      await room?.press();
    } catch {
      said.textContent = UNREACHABLE;
    }
  });
  opener.classList.add("fp-ask-class");
  if (!hasRoom) opener.setAttribute("aria-disabled", "true");
  place.append(opener, said);
  if (hasRoom && keptInTab(TAB_KEY)) begin().catch(() => {}); // a press tries again
  return {
    follow: (/** @type {boolean} */ isFolded) => room?.follow(isFolded),
    renew: (/** @type {boolean} */ isUndo) => room?.renew(isUndo),
    destroy() {
      isGone = true;
      room?.destroy();
    },
  };
}
