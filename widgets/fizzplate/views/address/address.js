// The page's state in its address: read once at the start, written whenever it changes; a link to copy, and
// a list to save and to open again.

import { saveFile } from "../bench/files.js";

const LONGEST_FILE = 65536; // characters
const SAID_MS = 4000;

const MARKUP = `
  <button type="button" class="fp-button fp-copy">Copy link</button>
  <button type="button" class="fp-button fp-keep">Save list</button>
  <label class="fp-button fp-open"><span>Open list</span><input type="file" accept=".txt,text/plain"></label>
  <span class="fp-told" role="status"></span>
  <div class="fp-notice" role="alert" hidden><ul></ul><button type="button" class="fp-button">Understood</button></div>`;

/** Whether the address belongs to this page: in a notebook it belongs to the notebook. */
const ownsAddress = () => document.body.dataset.voila !== undefined;

export function renderAddress({ model, el }) {
  const root = document.createElement("div");
  root.className = "fp-address";
  root.innerHTML = MARKUP;
  el.append(root);
  const part = (name) => root.querySelector(name);
  for (const name of [".fp-keep", ".fp-open"]) part(name).hidden = !model.get("lists");
  const [told, notice] = [part(".fp-told"), part(".fp-notice")];
  const dismiss = new AbortController();
  const listen = (name, type, act) => part(name).addEventListener(type, act, { signal: dismiss.signal });
  let waiting = 0;

  function tell(text) {
    told.textContent = text;
    clearTimeout(waiting);
    waiting = setTimeout(() => (told.textContent = ""), SAID_MS);
  }
  const address = () => new URL(`?${model.get("query")}`, location.href).href;

  function writeAddress() {
    if (ownsAddress() && model.get("query")) history.replaceState(null, "", address());
  }
  function say() {
    const sentences = model.get("notices");
    notice.hidden = sentences.length === 0;
    part(".fp-notice ul").replaceChildren(
      ...sentences.map((text) => Object.assign(document.createElement("li"), { textContent: text })),
    );
  }
  listen(".fp-copy", "click", async () => {
    try {
      await navigator.clipboard.writeText(address());
      tell("The link is copied.");
    } catch {
      prompt("Copy this link:", address()); // where the browser lets no page write
    }
  });
  listen(".fp-keep", "click", () => saveFile("cells.txt", "text/plain", model.get("file")));
  listen(".fp-open input", "change", async (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    if (file.size > LONGEST_FILE) {
      tell(`This file holds ${file.size} bytes; a list has ${LONGEST_FILE} at most.`);
      return;
    }
    model.set("loaded", { text: await file.text(), at: Date.now() });
    model.save_changes();
  });
  listen(".fp-notice button", "click", () => {
    notice.hidden = true;
  });
  model.on("change:query", writeAddress);
  model.on("change:notices", say);
  if (ownsAddress() && location.search) {
    model.set("opened", location.search);
    model.save_changes();
  }
  say();
  return () => {
    clearTimeout(waiting);
    dismiss.abort();
    model.off("change:query", writeAddress);
    model.off("change:notices", say);
    root.remove();
  };
}
