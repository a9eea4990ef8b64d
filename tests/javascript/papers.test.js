// How much room a printed paper gives to its answers.

import assert from "node:assert/strict";
import { test } from "node:test";

import { loader } from "./loader.js";

const { bestRoom } = await loader("paper/")("printing/room.js");

/** Lay out lines of a height that grows with the room on pages of 100. @param {number} fixed @param {number} growing */
const papers = (fixed, growing) => (/** @type {number} */ room) => {
  const whole = fixed + growing * room;
  const pages = Math.ceil(whole / 100);
  return { room, pages, filled: (whole - 100 * (pages - 1)) / 100 };
};

test("a last page that is half full, or an only page, keeps the usual room", () => {
  assert.equal(bestRoom(papers(60, 100)).room, 1);
  assert.equal(bestRoom(papers(10, 10)).room, 1);
});

test("a few lines on the last page are drawn in, with as little less room as that takes", () => {
  const { room, pages } = bestRoom(papers(20, 90));
  assert.equal(pages, 1);
  assert.equal(room, 0.85);
});

test("what cannot be drawn in is spread until the last page is half full", () => {
  const { room, pages, filled } = bestRoom(papers(100, 30));
  assert.equal(pages, 2);
  assert.ok(filled >= 0.5);
  assert.equal(room, 1.8);
});

test("no page is added, and what helps most is taken where nothing helps enough", () => {
  const { pages, filled } = bestRoom(papers(108, 2));
  assert.equal(pages, 2);
  assert.ok(filled > 0.1 && filled < 0.2);
});
