// A service worker: what the page is made of, for when the server cannot be reached. While it can, its answer is
// what the page gets, and replaces what is kept. Browsers take service workers from this machine, and over TLS.
"use strict";

const NAME = "soleplate";
const MOST = 60;

const isOfThePage = (url) => url.origin === location.origin && (url.pathname === "/" || url.pathname.startsWith("/static/"));

async function keep(request, answer) {
  const cache = await caches.open(NAME);
  await cache.put(request, answer);
  const requests = await cache.keys();
  for (const old of requests.slice(0, -MOST)) await cache.delete(old);
}

async function fetched(request) {
  try {
    const answer = await fetch(request);
    if (answer.ok) await keep(request, answer.clone());
    return answer;
  } catch (unreachable) {
    const kept = (await caches.match(request)) ?? (await caches.match(request, { ignoreSearch: true }));
    if (kept) return kept;
    throw unreachable;
  }
}

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && isOfThePage(new URL(event.request.url))) event.respondWith(fetched(event.request));
});

// What an open page is made of, since it was loaded before there was a worker; told when all of it is kept.
addEventListener("message", (event) => {
  const addresses = event.data.filter((address) => isOfThePage(new URL(address)));
  const all = addresses.map((address) => fetched(new Request(address)));
  event.waitUntil(Promise.all(all).then(() => event.source.postMessage("kept")));
});
