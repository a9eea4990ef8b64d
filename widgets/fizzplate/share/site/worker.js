// Keeps the site for times without a network: what every lesson needs at once, runs once they have been shown.

/* global SITE -- what the site is called among its readers' caches, and which files it keeps: written in front of this */
const CONTENT_NAMED = /\/(?:runs|sweeps|sets|data|look)\//;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SITE.name).then((cache) => cache.addAll(SITE.kept)).then(() => self.skipWaiting()));
});

/** An older state of the site is forgotten as a whole: its pages and its runs belong together. */
async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith("fizzplate ") && name !== SITE.name) await caches.delete(name);
  }
  await self.clients.claim();
}
self.addEventListener("activate", (event) => event.waitUntil(takeOver()));

/** What never changes under its name comes from here; of the rest, the newest that can be had. @param {Request} request */
async function answer(request) {
  const cache = await caches.open(SITE.name);
  const kept = await cache.match(request, { ignoreSearch: true });
  if (kept && CONTENT_NAMED.test(new URL(request.url).pathname)) return kept;
  try {
    const fresh = await fetch(request);
    if (fresh.ok) await cache.put(new URL(request.url).href.split(/[?#]/)[0], fresh.clone());
    return fresh;
  } catch (problem) {
    if (kept) return kept;
    throw problem;
  }
}
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === self.location.origin) event.respondWith(answer(request));
});
