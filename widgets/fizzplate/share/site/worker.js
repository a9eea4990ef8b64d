// Keeps the site for times without a network: what every lesson needs at once, runs once they have been shown.

/* global SITE -- a name for this state of the site, and which files it keeps: written in front of this */
const HERE = new URL("./", self.location.href).href;
const OWN = `fizzplate ${HERE} `; // other sites of the same host keep theirs
const NAME = OWN + SITE.name;
const CONTENT_NAMED = /^(?:runs|sweeps|sets|data|look)\/[^/]+$/;

/** @param {string} file below the site's own address: a browser's own store may hold an old one where it keeps its name */
const freshly = (file) => ({ cache: /** @type {RequestCache} */ (CONTENT_NAMED.test(file) ? "default" : "no-cache") });

self.addEventListener("install", (event) => {
  const kept = SITE.kept.map((file) => new Request(file, freshly(file)));
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(kept)).then(() => self.skipWaiting()));
});

/** An older state of the site is forgotten as a whole: its pages and its runs belong together. */
async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith(OWN) && name !== NAME) await caches.delete(name);
  }
  await self.clients.claim();
}
self.addEventListener("activate", (event) => event.waitUntil(takeOver()));

/** What never changes under its name comes from here; of the rest, the newest that can be had. @param {Request} request */
async function answer(request) {
  const file = request.url.slice(HERE.length).split(/[?#]/)[0] || "index.html";
  const cache = await caches.open(NAME);
  const found = await cache.match(HERE + file);
  // a browser takes no page that came by way of another address, as some hosts send it
  const kept = found?.redirected ? new Response(found.body, { headers: found.headers }) : found;
  if (kept && CONTENT_NAMED.test(file)) return kept;
  let fresh;
  try {
    fresh = await fetch(request, freshly(file));
  } catch (problem) {
    if (kept) return kept;
    throw problem;
  }
  if (fresh.status >= 400 && kept) return kept; // a host that is down, or a folder that is just being copied
  if (fresh.status === 200) await cache.put(HERE + file, fresh.clone()).catch(() => {}); // a full device shows it all the same
  return fresh;
}
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(HERE)) event.respondWith(answer(request));
});
