// A set as a file, saved for other programs and opened from them. Python makes and reads the files.

import { setWrong } from "../kit/refusal.js";
import { make, makeButton } from "../kit/elements.js";
import { fileButton, saveFile } from "../kit/files.js";
import { subscribe } from "../kit/subscription.js";
import { readOpenedFile, saveOpenedFile } from "./storage.js";

const MAX_FILE_BYTES = 5_000_000;

/** @param {any} model the widget's, which takes the messages @param {(text: string, about: {ofFile: boolean}) => void} announce */
export function mountExchange(model, announce) {
  let opened = /** @type {{name: string, content: ArrayBuffer}|null} */ (null);
  /** @param {File} file */
  async function open(file) {
    if (file.size > MAX_FILE_BYTES) {
      announce(`${file.name} has ${(file.size / 1e6).toFixed(1)} MB; use a file of at most 5 MB.`, { ofFile: true });
      return;
    }
    opened = { name: file.name, content: await file.arrayBuffer() };
    model.send({ open: opened.name }, undefined, [opened.content]);
  }
  const chooser = fileButton("Open a set", ".zip,.csv,application/zip,text/csv", open);
  const node = make("div", "", "fp-options fp-exchange");
  node.append(
    makeButton("Save set as QTI 3.0", () => model.send({ save: "qti" })),
    makeButton("Save set as CSV", () => model.send({ save: "csv" })),
    chooser.node,
  );
  return {
    node,
    /** @param {string} message the id of the sentence that refuses the file; empty if none does */
    markWrong: (message) => setWrong(chooser.input, message),
    /** Keep the opened file, which could be read, for the next visit. */
    keep() {
      if (opened) saveOpenedFile(opened.name, new Uint8Array(opened.content));
    },
    /** Hand the program the file that this browser has kept, to print or save its questions. */
    reopen() {
      const file = readOpenedFile();
      if (file) model.send({ reopen: file.name }, undefined, [file.content.buffer]);
    },
    destroy: subscribe(model, {
      "msg:custom": (message, buffers) => message.file && saveFile(message.file, message.type, buffers[0]),
    }),
  };
}
