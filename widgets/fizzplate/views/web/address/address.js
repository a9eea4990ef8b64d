// The page's state in its address: read once at the start, written whenever it changes; a link to copy or to show as
// a code, a list to save and to open again, a page to take away. What an address does not carry, this tab keeps.

import { saveFile } from "../../kit/files.js";
import { mountCode } from "./code.js";
import { keepFocus } from "./focus.js";
import { mountLifeline } from "./lifeline.js";
import { isOnlyHere, linkOf, ownAddress, stateOf } from "./links.js";
import { mountPageState } from "./page_state.js";
import { lockPressedSwitches } from "./press.js";
import { followWrong, setWrong } from "../../kit/refusal.js";

const LONGEST_FILE = 65536; // characters
const SAID_MS = 4000;
const COPIED = "The link is copied.";
const COPIED_ONLY_HERE = "The link is copied. It works on this computer only.";
const AT_WORK = "Making the page …";
const NO_PROGRAM = "The program behind this page cannot be reached, so the page cannot be made.";

const MARKUP = `
  <button type="button" class="fp-button fp-copy">Copy link</button>
  <button type="button" class="fp-button fp-show-code">Show as QR code</button>
  <button type="button" class="fp-button fp-away">Take away</button>
  <button type="button" class="fp-button fp-keep">Save list</button>
  <label class="fp-button fp-open"><span>Open list</span><input type="file" accept=".txt,text/plain"></label>
  <span class="fp-status" role="status"></span>
  <div class="fp-notice" role="alert" hidden><ul></ul><button type="button" class="fp-button">Understood</button></div>`;

let noticesMade = 0;

/** Whether the address belongs to this page: in a notebook it belongs to the notebook. */
const ownsAddress = () => document.body.dataset.voila !== undefined;

export function renderAddress({ model, el }) {
  const root = document.createElement("div");
  root.className = "fp-address";
  root.innerHTML = MARKUP;
  el.append(root);
  const part = (name) => root.querySelector(name);
  for (const name of [".fp-keep", ".fp-open"]) part(name).hidden = !model.get("has_list");
  part(".fp-away").hidden = !model.get("can_take_away");
  const [status, notice] = [part(".fp-status"), part(".fp-notice")];
  const dismiss = new AbortController();
  const listen = (name, type, act) => part(name).addEventListener(type, act, { signal: dismiss.signal });
  const lifeline = mountLifeline(root, model);
  const leaveWrong = followWrong();
  notice.querySelector("ul").id = `fp-notice-${++noticesMade}`;
  status.id = `fp-status-${noticesMade}`;
  let waiting = 0;
  let fileWasOpened = false;
  let leavePage = () => {};

  function announce(text, { stays = false } = {}) {
    status.textContent = text;
    clearTimeout(waiting);
    if (!stays) waiting = setTimeout(() => (status.textContent = ""), SAID_MS);
  }
  const link = () => linkOf(model.get("query"), location.href, model.get("class_link"));

  /** Copy the link; say so, or nothing where the reader has been shown it instead. */
  async function copy() {
    const text = link();
    try {
      await navigator.clipboard.writeText(text);
      return isOnlyHere(text) ? COPIED_ONLY_HERE : COPIED;
    } catch {
      prompt("Copy this link:", text); // where the browser lets no page write
      return "";
    }
  }
  const code = mountCode(root, model, { link, copy, ended: lifeline.ended });

  function writeAddress() {
    if (ownsAddress() && model.get("query")) history.replaceState(null, "", ownAddress(model.get("query"), location.href));
  }
  function say() {
    const sentences = model.get("notices");
    notice.hidden = sentences.length === 0;
    setWrong(part(".fp-open input"), fileWasOpened && sentences.length ? part(".fp-notice ul").id : "");
    part(".fp-notice ul").replaceChildren(
      ...sentences.map((text) => Object.assign(document.createElement("li"), { textContent: text })),
    );
  }
  function received({ page, notMade }, buffers) {
    if (!page && !notMade) return;
    part(".fp-away").disabled = false;
    if (page) saveFile(page, "text/html", buffers[0]);
    announce(notMade ?? `The page is saved as ${page}.`, { stays: Boolean(notMade) });
  }
  listen(".fp-copy", "click", async () => announce(await copy()));
  listen(".fp-show-code", "click", code.open);
  listen(".fp-away", "click", () => {
    if (lifeline.ended()) {
      announce(NO_PROGRAM);
      return;
    }
    part(".fp-away").disabled = true;
    announce(AT_WORK, { stays: true });
    model.send({ takeAway: true });
  });
  listen(".fp-keep", "click", () => saveFile("cells.txt", "text/plain", model.get("file")));
  listen(".fp-open input", "change", async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    if (file.size > LONGEST_FILE) {
      announce(`This file has ${file.size} bytes; a list has at most ${LONGEST_FILE}. Choose a smaller file.`, { stays: true });
      setWrong(event.target, status.id);
      return;
    }
    setWrong(event.target, "");
    fileWasOpened = true;
    model.set("uploaded_file", { text: await file.text(), at: Date.now() });
    model.save_changes();
  });
  listen(".fp-notice button", "click", () => {
    notice.hidden = true;
    setWrong(part(".fp-open input"), "");
  });
  model.on("change:query", writeAddress);
  model.on("change:notices", say);
  model.on("msg:custom", received);

  /** The address, the keyboard and the state are this page's own. */
  function ownPage() {
    const state = mountPageState(model);
    const releaseFocus = keepFocus(document.body);
    const unlockSwitches = lockPressedSwitches(document.body);
    const query = stateOf(location.search);
    function takeUp() {
      model.off("change:applied_query", takeUp);
      state.takeUp();
    }
    if (query && query !== model.get("applied_query")) {
      model.on("change:applied_query", takeUp); // behind the link, which the state knows more than
      model.set("link_query", query);
      model.save_changes();
    } else {
      if (query) writeAddress(); // its link was followed before the page stood
      takeUp();
    }
    return () => {
      model.off("change:applied_query", takeUp);
      state.destroy();
      releaseFocus();
      unlockSwitches();
    };
  }
  if (ownsAddress()) leavePage = ownPage();
  say();
  return () => {
    clearTimeout(waiting);
    leavePage();
    dismiss.abort();
    code.destroy();
    lifeline.destroy();
    leaveWrong();
    model.off("change:query", writeAddress);
    model.off("change:notices", say);
    model.off("msg:custom", received);
    root.remove();
  };
}
