// Sheets to print: what stands on their tabs, and which one is shown.

import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { loader } from "./loader.js";
import { keeping, newPage } from "./page.js";

const { renderPrinting } = await loader("paper/printing/")("printing.js");

let body;
beforeEach(() => {
  body = newPage();
  Object.assign(globalThis, { sessionStorage: keeping(), location: { pathname: "/prepare" }, matchMedia: () => ({ matches: false }), addEventListener() {}, removeEventListener() {} });
  performance.getEntriesByType = () => [];
});

test("a sheet's tab says what Python calls it, and its whole title where that has no shorter one", () => {
  const sheets = [
    { name: "risk", title: "Risks, a draft", tab: "Risk", html: "<p>one</p>" },
    { name: "order", title: "Salts, acids", tab: "", html: "<p>two</p>" },
  ];
  const known = { sheets, busy: false };
  const leave = renderPrinting({ model: { get: (name) => known[name], on() {}, off() {} }, el: body });
  const tabs = body.querySelectorAll("[role=tab]");
  assert.deepEqual(tabs.map(({ textContent }) => textContent), ["Risk", "Salts, acids"]);
  assert.deepEqual(body.querySelectorAll("h3").map(({ textContent }) => textContent), ["Risks, a draft", "Salts, acids"]);
  tabs[1].click();
  assert.deepEqual(body.querySelectorAll(".fp-sheet").map(({ hidden }) => hidden), [true, false]);
  leave();
  assert.equal(body.querySelectorAll("section").length, 0);
});
