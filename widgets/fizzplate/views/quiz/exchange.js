// A set as a file: saved for other programs, opened from them. Files are made and read by Python.

import { setWrong } from "../kit/refusal.js";
import { make, pressable } from "../kit/elements.js";
import { saveFile } from "../kit/files.js";
import { keepFile, keptFile } from "./kept.js";

const LARGEST_BYTES = 5_000_000;

/** @param model the widget's, which takes the messages @param {(said: string, about: {ofFile: boolean}) => void} tell */
export function mountExchange(model, announce) {
  let chosen = /** @type {{name: string, content: ArrayBuffer}|null} */ (null);
  const box = make("div", "", "fp-options fp-exchange");
  const chooser = make("label", "", "fp-button fp-open");
  const input = document.createElement("input");
  input.type = "file";
  input.accept = ".zip,.csv,application/zip,text/csv";
  chooser.append(make("span", "Open a set"), input);
  input.addEventListener("change", async () => {
    const file = input.files?.[0];
    input.value = "";
    if (!file) return;
    if (file.size > LARGEST_BYTES) {
      announce(`${file.name} has ${(file.size / 1e6).toFixed(1)} MB; use a file of at most 5 MB.`, { ofFile: true });
      return;
    }
    chosen = { name: file.name, content: await file.arrayBuffer() };
    model.send({ open: chosen.name }, undefined, [chosen.content]);
  });
  box.append(
    pressable("Save set as QTI 3.0", () => model.send({ save: "qti" })),
    pressable("Save set as CSV", () => model.send({ save: "csv" })),
    chooser,
  );
  function received(message, buffers) {
    if (message.file) saveFile(message.file, message.type, buffers[0]);
  }
  model.on("msg:custom", received);
  return {
    node: box,
    /** @param {string} said the id of the sentence that refuses the file; empty if none does */
    mark: (said) => setWrong(input, said),
    /** The file that was chosen could be read: have it at hand at the next visit. */
    keep() {
      if (chosen) keepFile(chosen.name, new Uint8Array(chosen.content));
    },
    /** Hand the program the file of the questions that this browser has kept, to print or save them. */
    reopen() {
      const file = keptFile();
      if (file) model.send({ reopen: file.name }, undefined, [file.content.buffer]);
    },
    destroy: () => model.off("msg:custom", received),
  };
}
