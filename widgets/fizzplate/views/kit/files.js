// Files: saved from a page, and chosen to be opened in it.

import { make } from "./elements.js";

const SAYS_UTF8 = "\ufeff"; // without it a spreadsheet reads Cu²⁺ as something else

/** @param {string} name @param {string} type @param {BlobPart} content a table as text is marked for spreadsheets */
export function saveFile(name, type, content) {
  const link = document.createElement("a");
  const isTable = type === "text/csv" && typeof content === "string";
  link.href = URL.createObjectURL(new Blob(isTable ? [SAYS_UTF8, content] : [content], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

/**
 * A button that lets somebody choose a file.
 * @param {string} text @param {string} accept types of file @param {(file: File) => void} onFile
 * @returns {{node: HTMLElement, input: HTMLInputElement}}
 */
export function fileButton(text, accept, onFile) {
  const node = make("label", "", "fp-button fp-open");
  const input = document.createElement("input");
  input.type = "file";
  input.accept = accept;
  input.addEventListener("change", () => {
    const [file] = input.files ?? [];
    input.value = ""; // the same file can be chosen again
    if (file) onFile(file);
  });
  node.append(make("span", text), input);
  return { node, input };
}
