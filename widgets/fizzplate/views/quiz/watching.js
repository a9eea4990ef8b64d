// From a question to a cell that shows what it is about: run below the questions, or opened on a page of its own.

import { make, makeButton } from "../kit/elements.js";

/** The address of a page with these cells; nothing outside a server, as in a file to take away. @param {string} cells @param {{pathname: string, search: string}} here */
export function cellAddress(cells, { pathname, search }) {
  const page = cells.includes(";") ? "explore" : "demonstrate";
  const path = pathname.replace(/\/revise(\.ipynb)?$/, `/${page}$1`);
  if (path === pathname) return "";
  const board = new URLSearchParams(search).get("board");
  return `${path}?v=1&cells=${encodeURI(cells)}${board ? `&board=${encodeURI(board)}` : ""}`;
}

/** @param question @param {{watch: string}|undefined} idea behind a wrong answer @param {(cells: string) => void} onWatch */
export function watchControls(question, idea, onWatch) {
  const own = question.watchesItself === false ? "" : question.watch;
  // the very cell that was asked about, unless the idea is seen only beside another
  const cells = own && !idea?.watch.includes(";") ? own : idea?.watch || question.watch;
  if (!cells) return [];
  const isItself = Boolean(own || idea?.watch);
  const controls = [/** @type {HTMLElement} */ (makeButton(isItself ? "Watch it in a cell" : "Watch a related cell", () => onWatch(cells)))];
  const address = cellAddress(cells, location);
  if (address) {
    const link = make("a", cells.includes(";") ? "Open these cells in Explore" : "Open this cell in Demonstrate", "fp-watch-link");
    link.setAttribute("href", address);
    controls.push(link);
  }
  return controls;
}
