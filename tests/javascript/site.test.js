// A site's cells: what a link asks for, and which run comes nearest where that was not worked out.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";

const { asListed, cellsInLink, firstShown, nearest, saidOf } = await loader("../share/site/")("chosen_cells.js");

const keys = ["NaCl", "NaCl,c=0.1", "NaCl,c=1", "NaCl,in=U-tube", "NaCl,lamp=none"];
const brine = { keys, solution: "brine", settings: keys.map((key) => `${key} in words`), labels: keys.map((key) => `label of ${key}`), files: [], own: 0 };
const copper = { keys: ["CuSO4", "CuSO4,cathode=copper,anode=copper"], solution: "copper", settings: ["a", "b"], labels: ["a", "b"], files: [], own: 0 };
const offers = [copper, brine];

test("a cell that was worked out is found, however its parts are ordered", () => {
  const found = nearest(offers, "CuSO4,anode=copper,cathode=copper");
  assert.equal(found.offer, copper);
  assert.equal(found.variant, 1);
  assert.equal(found.isExact, true);
  assert.equal(saidOf([found], []), "");
});

test("the usual strength is found whether or not a link names it", () => {
  assert.equal(nearest(offers, "NaCl,c=0.5").isExact, true);
});

test("a strength that was not worked out leads to the nearest by its ratio, and says so", () => {
  const found = nearest(offers, "NaCl,c=0.2");
  assert.equal(found.offer.keys[found.variant], "NaCl,c=0.1");
  assert.equal(saidOf([found], []), "NaCl,c=0.2 was not worked out for this site; the nearest that was is brine, NaCl,c=0.1 in words.");
  assert.equal(nearest(offers, "NaCl,c=0.8").variant, 2);
});

test("another vessel counts for more than another strength", () => {
  assert.equal(nearest(offers, "NaCl,c=0.4,in=U-tube").variant, 3);
});

test("a solution that the site has not is said to be missing", () => {
  assert.equal(nearest(offers, "AgNO3"), null);
  assert.equal(saidOf([], ["AgNO3"]), "AgNO3 is not on this site.");
});

test("a link's cells are read, and a link without any has none", () => {
  assert.deepEqual(cellsInLink("?v=1&cells=NaCl;%20CuSO4,anode=copper;"), ["NaCl", "CuSO4,anode=copper"]);
  assert.deepEqual(cellsInLink("?v=1"), []);
});

test("a listed cell begins with the run that was asked for, under its own name", () => {
  const listed = asListed(nearest(offers, "NaCl,lamp=none"));
  assert.equal(listed.own, 4);
  assert.equal(listed.label, "label of NaCl,lamp=none");
});

test("without a link the usual salt is shown as the site has it, or else the first of its cells", () => {
  assert.equal(firstShown(offers.map((offer) => ({ ...offer, key: `${offer.keys[0]},min=1` }))), "NaCl,min=1");
  assert.equal(firstShown([{ ...copper, key: "CuSO4" }]), "CuSO4");
});
