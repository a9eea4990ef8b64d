// The page's address as a toolbar: a link to copy or to show as a QR code, a list to save and to open again, a page to take
// away. The address itself is written whenever the page's state changes.

import { make, makeButton } from "../../kit/elements.js";
import { fileButton, saveFile } from "../../kit/files.js";
import { subscribe } from "../../kit/subscription.js";
import { mountCode } from "./code.js";
import { mountLifeline } from "./lifeline.js";
import { isOnlyHere, linkOf, ownAddress } from "./links.js";
import { makeNotices } from "./notices.js";
import { mountOwnPage } from "./own_page.js";
import { followWrong, setWrong } from "../../kit/refusal.js";

const MAX_FILE_BYTES = 65536;
const MESSAGE_MS = 4000;
const COPIED = "The link is copied.";
const COPIED_ONLY_HERE = "The link is copied. It works on this computer only.";
const MAKING_PAGE = "Making the page …";
const NO_PROGRAM = "The program behind this page cannot be reached, so the page cannot be made.";

let count = 0;

/** Whether the address belongs to this page: in a notebook it belongs to the notebook. */
const ownsAddress = () => document.body.dataset.voila !== undefined;

class AddressBar {
  constructor(model, el) {
    this.model = model;
    this.root = make("div", "", "fp-address");
    this.messageTimer = 0;
    this.hasOpenedFile = false;
    this.lifeline = mountLifeline(this.root, model);
    this.stopFollowing = followWrong();
    this.addControls();
    el.append(this.root);
    this.code = mountCode(this.root, model, { link: () => this.link(), copy: () => this.copyLink(), ended: () => this.lifeline.ended() });
    this.unsubscribe = subscribe(model, {
      "change:query": () => this.writeAddress(),
      "change:notices": () => this.showNotices(),
      "msg:custom": (message, buffers) => this.receive(message, buffers),
    });
    this.leavePage = ownsAddress() ? mountOwnPage(model, () => this.writeAddress()) : () => {};
    this.showNotices();
  }

  addControls() {
    const { model } = this;
    const button = (text, name, onClick, isHidden = false) => {
      const node = makeButton(text, onClick);
      node.classList.add(name);
      node.hidden = isHidden;
      return node;
    };
    const hasNoList = !model.get("has_list");
    this.away = button("Take away", "fp-away", () => this.takeAway(), !model.get("can_take_away"));
    this.list = fileButton("Open list", ".txt,text/plain", (file) => this.openList(file));
    this.list.node.hidden = hasNoList;
    this.status = make("span", "", "fp-status");
    this.status.setAttribute("role", "status");
    this.status.id = `fp-status-${++count}`;
    this.notices = makeNotices(() => setWrong(this.list.input, ""));
    this.root.append(
      button("Copy link", "fp-copy", async () => this.announce(await this.copyLink())),
      button("Show as QR code", "fp-show-code", () => this.code.open()),
      this.away,
      button("Save list", "fp-keep", () => saveFile("cells.txt", "text/plain", model.get("file")), hasNoList),
      this.list.node,
      this.status,
      this.notices.node,
    );
  }

  /** @param {string} text @param {{stays?: boolean}} [options] */
  announce(text, { stays = false } = {}) {
    this.status.textContent = text;
    clearTimeout(this.messageTimer);
    if (!stays) this.messageTimer = setTimeout(() => (this.status.textContent = ""), MESSAGE_MS);
  }

  showNotices() {
    const sentences = this.model.get("notices");
    this.notices.show(sentences);
    setWrong(this.list.input, this.hasOpenedFile && sentences.length ? this.notices.id : "");
  }

  // links

  link() { return linkOf(this.model.get("query"), location.href, this.model.get("class_link")); }

  writeAddress() {
    const query = this.model.get("query");
    if (ownsAddress() && query) history.replaceState(null, "", ownAddress(query, location.href));
  }

  /** @returns {Promise<string>} what to announce: nothing where the reader was shown the link instead */
  async copyLink() {
    const link = this.link();
    try {
      await navigator.clipboard.writeText(link);
      return isOnlyHere(link) ? COPIED_ONLY_HERE : COPIED;
    } catch {
      prompt("Copy this link:", link); // where the browser lets no page write
      return "";
    }
  }

  // files

  takeAway() {
    if (this.lifeline.ended()) {
      this.announce(NO_PROGRAM);
      return;
    }
    this.away.disabled = true;
    this.announce(MAKING_PAGE, { stays: true });
    this.model.send({ takeAway: true });
  }

  receive({ page, notMade }, buffers) {
    if (!page && !notMade) return;
    this.away.disabled = false;
    if (page) saveFile(page, "text/html", buffers[0]);
    this.announce(notMade ?? `The page is saved as ${page}.`, { stays: Boolean(notMade) });
  }

  /** @param {File} file */
  async openList(file) {
    const isLarge = file.size > MAX_FILE_BYTES;
    setWrong(this.list.input, isLarge ? this.status.id : "");
    if (isLarge) {
      this.announce(`This file has ${file.size} bytes; a list has at most ${MAX_FILE_BYTES}. Choose a smaller file.`, { stays: true });
      return;
    }
    this.hasOpenedFile = true;
    this.model.set("uploaded_file", { text: await file.text(), at: Date.now() });
    this.model.save_changes();
  }

  destroy() {
    clearTimeout(this.messageTimer);
    this.leavePage();
    this.code.destroy();
    this.lifeline.destroy();
    this.stopFollowing();
    this.unsubscribe();
    this.root.remove();
  }
}

export function renderAddress({ model, el }) {
  const bar = new AddressBar(model, el);
  return () => bar.destroy();
}
