// What every page of a site does first: says when a browser is too old, reads what it loads, keeps itself for later.

import { keepFocus } from "../../views/web/address/focus.js";
import { openPlain } from "../takeaway/unpack.js";

const TOO_OLD = "This browser is too old for this page. Use a browser from 2023 or later.";
const NOT_THERE = "This part of the site could not be loaded. Check the connection, then reload the page.";

/** Say something above the page. @param {string} text nothing hides it */
export function notice(text) {
  const node = /** @type {HTMLElement} */ (document.querySelector(".fp-taken-notice[role]"));
  node.textContent = text;
  node.hidden = !text;
}

/** @param {string} file */
async function fetched(file) {
  const answer = await fetch(file);
  if (!answer.ok) throw new Error(`${file}: ${answer.status}`);
  return answer.text();
}

/** What is loaded later; then nothing is missing any longer. @param {string} file */
export async function textOf(file) {
  const text = await fetched(file);
  if (document.querySelector(".fp-taken-notice[role]")?.textContent === NOT_THERE) notice("");
  return text;
}

/** Say that something could not be loaded; the rest of the page stays. */
export const sayNotThere = () => notice(NOT_THERE);

/**
 * Open a page with all that it loads.
 * @param {(page: HTMLElement, data: Record<string, any>) => void} fill
 */
export async function openSitePage(fill) {
  const config = JSON.parse(document.getElementById("fp-site")?.textContent ?? "{}");
  const page = /** @type {HTMLElement} */ (document.getElementById("page"));
  const waiting = document.querySelector(".fp-site-waiting");
  if (!("DecompressionStream" in globalThis)) {
    waiting?.remove();
    notice(TOO_OLD);
    return;
  }
  keepFocus(/** @type {Element} */ (document.querySelector("main")));
  try {
    const names = Object.keys(config.data);
    const loaded = await Promise.all(names.map(async (name) => openPlain(await fetched(config.data[name]))));
    fill(page, Object.fromEntries(names.map((name, k) => [name, loaded[k]])));
  } catch {
    sayNotThere();
  }
  waiting?.remove();
  // on an address without https there is none: the page works, but not without a network
  navigator.serviceWorker?.register(config.worker).catch(() => {});
}
