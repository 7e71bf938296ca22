// Keeps the page's files, so that it opens without a network. All of one build or none: a new build is fetched whole beside the
// old one, and takes over when no window of the old one is open.
"use strict";

const version = "@version@";
const names = ["@names@"];
// A server may hold several copies of the page in different folders.
const ownCaches = "hitchwright " + self.registration.scope + " ";
const cacheName = ownCaches + version;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(cacheName).then((cache) =>
    cache.addAll(["./", ...names].map((name) => new Request(name, { cache: "reload" })))));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(ownCaches) && name !== cacheName) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith((async () => {
    const cache = await caches.open(cacheName);
    return (await cache.match(event.request, { ignoreSearch: true })) || fetch(event.request);
  })());
});
