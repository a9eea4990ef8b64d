// Addresses: the page's own, and the one that others reach. What lets a visitor in is kept apart from what the page shows.

const ACCESS_PARAMETERS = ["key", "token"];
const ONLY_HERE = /^(localhost|.*\.localhost|127(\.\d{1,3}){3}|\[::1\])$/;

/** What an address says of the page, with its question mark. @param {string} search */
export function stateOf(search) {
  const parts = search.replace(/^\?/, "").split("&").filter((part) => part && !ACCESS_PARAMETERS.includes(part.split("=")[0]));
  return parts.length ? `?${parts.join("&")}` : "";
}

/** @param {string} query of the page as it is @param {string|null} key */
const searchOf = (query, key) => (key ? `?key=${encodeURIComponent(key)}&${query}` : `?${query}`);
/** @param {URL} address */
const keyOf = (address) => address.searchParams.get("key");

/** The page's own address, as its address bar shows it. @param {string} query @param {string} here */
export const ownAddress = (query, here) => new URL(searchOf(query, keyOf(new URL(here))), here).href;

/** The address of the class, if it is one. @param {string} classLink */
function readClassLink(classLink) {
  try {
    const address = new URL(classLink);
    return /^https?:$/.test(address.protocol) ? address : null;
  } catch {
    return null; // none was given
  }
}

/** The link to pass on. @param {string} query @param {string} here @param {string} classLink */
export function linkOf(query, here, classLink) {
  const shared = readClassLink(classLink);
  const own = new URL(here);
  if (!shared) return ownAddress(query, here);
  return new URL(own.pathname + searchOf(query, keyOf(shared) ?? keyOf(own)), shared.origin).href;
}

/** Whether a link works on this computer only. @param {string} link */
export const isOnlyHere = (link) => ONLY_HERE.test(new URL(link).hostname);

/** A link in two parts: the one that opens the page, and the one that says what it shows. @param {string} link @returns {[string, string]} */
export function splitLink(link) {
  const address = new URL(link);
  const key = keyOf(address);
  const access = `${address.origin}${address.pathname}${key ? `?key=${encodeURIComponent(key)}` : ""}`;
  return link.startsWith(access) ? [access, link.slice(access.length)] : [link, ""];
}
