// A table that is saved says how its signs are written, so that a spreadsheet shows Cu²⁺ as it is.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";
import { newPage } from "./page.js";

const { saveFile } = await loader("kit/")("files.js");

/** The bytes that are saved. @param {string} type @param {BlobPart} content */
async function saved(type, content) {
  newPage();
  let blob;
  const { createObjectURL, revokeObjectURL } = URL;
  Object.assign(URL, { createObjectURL: (given) => ((blob = given), "blob:"), revokeObjectURL() {} });
  saveFile("file", type, content);
  Object.assign(URL, { createObjectURL, revokeObjectURL });
  return new Uint8Array(await blob.arrayBuffer());
}

const MARK = [0xef, 0xbb, 0xbf];

test("a table as text begins with the mark of UTF-8, once, and nothing else does", async () => {
  const table = await saved("text/csv", "ion\r\nCu²⁺");
  assert.deepEqual([...table.slice(0, 4)], [...MARK, "i".charCodeAt(0)]);
  assert.equal(new TextDecoder().decode(table), "ion\r\nCu²⁺");
  assert.equal((await saved("text/plain", "NaCl"))[0], "N".charCodeAt(0));
  const made = new Uint8Array([...MARK, 65]); // by Python, with its mark
  assert.deepEqual(await saved("text/csv", made), made);
});
