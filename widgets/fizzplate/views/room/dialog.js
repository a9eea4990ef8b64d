// Opening the room: what that exposes is said first. Then its link and code, large enough for the back row.

import { make, makeButton } from "../kit/elements.js";
import { makeSvg } from "../kit/svg.js";

const EXPOSES =
  "While the room is open, everybody on this network who has its link can open one page on their phone: the question and its answer. They reach nothing else of this computer. What is sent is not encrypted, no names are asked, and all is forgotten when you close the room.";
const FIREWALL = "Your computer may ask whether it may accept connections: allow it for this network.";
const READS =
  "What your phone shows is not on the projector. Open the room's link on it and press “For the teacher” at the foot of its page. With the code that it then shows, it reads what the class writes, and you choose there what the class sees. It does not answer any more.";
const ONLY_HERE = "127.0.0.1";
const LABELS = { [ONLY_HERE]: "this computer only, to try it" };

/** @param {{path: string, modules: number}} code */
function drawCode({ path, modules }) {
  const svg = makeSvg("svg", { viewBox: `0 0 ${modules} ${modules}`, role: "img", "aria-label": "Code of the room's link", "shape-rendering": "crispEdges" });
  makeSvg("path", { fill: "#fff", d: `M0 0h${modules}v${modules}h-${modules}z` }, svg);
  makeSvg("path", { fill: "#000", d: path }, svg);
  return svg;
}

export class RoomDialog {
  /** @param {HTMLElement} root @param {{onOpen: (host: string, anew: boolean) => void, onRead: (code: string) => void, onClose: () => void}} act onRead: a phone shows this code */
  constructor(root, { onOpen, onRead, onClose }) {
    this.onOpen = onOpen;
    this.onRead = onRead;
    this.onClose = onClose;
    this.dialog = document.createElement("dialog");
    this.dialog.className = "fp-code fp-room-dialog";
    this.title = make("h2");
    this.title.id = "fp-room-title";
    this.dialog.setAttribute("aria-labelledby", this.title.id);
    this.body = make("div");
    this.status = make("p", "", "fp-code-status");
    this.status.setAttribute("role", "status");
    this.buttons = make("div", "", "fp-options");
    this.dialog.append(this.title, this.body, this.status, this.buttons);
    root.append(this.dialog);
    this.joined = make("p", "", "fp-room-joined");
    this.joined.setAttribute("role", "status");
  }

  /** @param {string} title @param {Node[]} parts @param {HTMLButtonElement[]} buttons the first gets the keyboard */
  show(title, parts, buttons) {
    this.title.textContent = title;
    this.body.replaceChildren(...parts);
    this.status.textContent = "";
    this.buttons.replaceChildren(...buttons);
    if (!this.dialog.open) this.dialog.showModal();
    buttons[0].focus();
  }

  /** It cannot be opened here. @param {string} why */
  refuse(why) { this.show("Ask the class", [make("p", why)], [makeButton("Close", () => this.dialog.close())]); }

  /** Say what is exposed, and ask. @param {string[]} addresses of the server's computer */
  ask(addresses) {
    const choice = /** @type {HTMLSelectElement} */ (make("select"));
    for (const each of addresses) choice.append(new Option(LABELS[each] ? `${each} (${LABELS[each]})` : each, each));
    const label = make("label", "Listen on ", "fp-room-address");
    label.append(choice);
    const open = (anew) => {
      this.status.textContent = "Opening …";
      this.onOpen(choice.value, anew);
    };
    this.openAnew = makeButton("Close that room and open a new one", () => open(true));
    this.openAnew.hidden = true;
    const parts = [make("p", EXPOSES), label, make("p", FIREWALL, "fp-note")];
    if (addresses.length === 1) parts.push(make("p", "This computer is on no network, so phones cannot reach it.", "fp-code-warning"));
    this.show("Ask the class: open a room?", parts, [makeButton("Open the room", () => open(false)), this.openAnew, makeButton("Not now", () => this.dialog.close())]);
  }

  /** The room could not be opened. @param {string} why @param {boolean} isTaken by another page */
  sayRefused(why, isTaken) {
    this.status.textContent = why;
    if (this.openAnew) this.openAnew.hidden = !isTaken;
  }

  /** @param {string} link @param {{path: string, modules: number}} code */
  showCode(link, code) {
    const frame = make("div", "", "fp-code-frame");
    frame.append(drawCode(code));
    const address = make("p", "", "fp-code-address");
    address.append(make("strong", link));
    this.show("Answer on your phone: scan this", [frame, address, this.joined], [makeButton("Go on", () => this.dialog.close()), makeButton("Teacher's phone", () => this.askForCode(() => this.showCode(link, code))), makeButton("Close the room", this.onClose)]);
    const dots = devicePixelRatio * Math.min(innerWidth - 48, 0.56 * innerHeight);
    frame.querySelector("svg").style.width = `${(code.modules * Math.max(1, Math.floor(dots / code.modules))) / devicePixelRatio}px`;
  }

  /** Let a phone read what is written before the class sees it. @param {() => void} onBack */
  askForCode(onBack) {
    const input = /** @type {HTMLInputElement} */ (make("input"));
    Object.assign(input, { type: "text", inputMode: "numeric", autocomplete: "off", size: 8, maxLength: 9 });
    const label = make("label", "Its code ", "fp-room-address");
    label.append(input);
    const read = () => {
      this.status.textContent = "";
      this.onRead(input.value.replace(/\D/g, ""));
    };
    input.addEventListener("keydown", ({ key }) => key === "Enter" && read());
    this.show("The teacher's own phone", [make("p", READS), label], [makeButton("Let it read", read), makeButton("Back", onBack)]);
    input.focus();
  }

  /** @param {number} joined */
  count(joined) { this.joined.textContent = joined === 1 ? "1 phone has joined" : `${joined} phones have joined`; }

  destroy() { this.dialog.remove(); }
}
