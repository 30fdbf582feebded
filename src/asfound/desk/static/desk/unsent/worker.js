"use strict";
// Pages that were fetched ahead are shown from the device when there is no network. What is not a
// page or a part of one goes its own way.

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== self.location.origin) return;
  if (request.mode === "navigate") event.respondWith(pageOf(request));
  else if (["style", "script", "image", "font"].includes(request.destination)) event.respondWith(fetch(request).catch(() => keptOf(request)));
});

// A kept page that is seen again is kept anew.
async function pageOf(request) {
  let answer;
  try {
    answer = await fetch(request);
  } catch {
    return fromDevice(await keptOf(request));
  }
  for (const name of answer.ok ? await caches.keys() : []) {
    const pages = await caches.open(name);
    if (await pages.match(request, { ignoreVary: true })) await pages.put(request, answer.clone());
  }
  return answer;
}

async function keptOf(request) {
  return (await caches.match(request, { ignoreVary: true })) || Response.error();
}

// The page is told when it was fetched, so that it can tell the reader.
async function fromDevice(kept) {
  if (kept.type === "error") return kept;
  const when = kept.headers.get("Date") || "";
  const page = (await kept.text()).replace("<body>", `<body data-from-device="${when}">`);
  return new Response(page, { headers: { "Content-Type": "text/html; charset=utf-8" } });
}
