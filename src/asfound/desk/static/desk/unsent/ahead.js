"use strict";
// Today's cards are fetched ahead while there is a network, with the page of a finding that each
// leads to, so that they open without one. Browsers allow it on a secure address alone.

const KEPT = "asfound-pages";
const FRESH_MS = 300000;
const OF_A_PAGE = "link[rel=stylesheet], link[rel=icon], script[src], main img[src]";

async function keepAhead() {
  await navigator.serviceWorker.register(document.querySelector("[data-worker]").dataset.worker, { scope: "/" });
  const pages = await caches.open(KEPT);
  const wanted = new Set();
  await keepPage(pages, location.href.split("#")[0], wanted, 2);
  for (const one of await pages.keys()) if (!wanted.has(one.url)) await pages.delete(one);
  const cards_n = [...document.querySelectorAll("a[data-ahead]")].filter((link) => wanted.has(link.href)).length;
  sayAhead(`${cards_n} card${cards_n === 1 ? " is" : "s are"} on this device and open${cards_n === 1 ? "s" : ""} without a network.`);
}

// One after the other: the workshop's computer has other work to do.
async function keepPage(pages, address, wanted, deep) {
  if (wanted.has(address)) return;
  const answer = await fetched(pages, address, FRESH_MS);
  if (!answer) return;
  wanted.add(address);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const of = (selector) => [...page.querySelectorAll(selector)].map((one) => new URL(one.getAttribute("href") ?? one.getAttribute("src"), address).href);
  for (const part of of(OF_A_PAGE)) if (!wanted.has(part) && (await fetched(pages, part, FRESH_MS))) wanted.add(part);
  if (deep) for (const next of of("a[data-ahead]")) await keepPage(pages, next, wanted, deep - 1);
}

// What was fetched a moment ago is not fetched again; where somebody must sign in there is nothing to keep.
async function fetched(pages, address, fresh_ms) {
  const kept = await pages.match(address, { ignoreVary: true });
  if (kept && Date.now() - Date.parse(kept.headers.get("Date")) < fresh_ms) return kept;
  const answer = await fetch(address, { headers: { "X-Ahead": "1" } }).catch(() => null);
  if (!answer?.ok || answer.redirected) return answer ? null : kept;
  await pages.put(address, answer.clone());
  return answer;
}

// Somebody answers again: nothing is typed on the list, so it is drawn anew; what was sent has
// changed the pages that it leads to.
async function answered(entries) {
  document.querySelector("[data-away]")?.remove();
  if ("fromDevice" in document.body.dataset && document.querySelector("[data-worker]")) { location.reload(); return; }
  const pages = await caches.open(KEPT);
  const next = entries.map(({ answer }) => answer.next).filter(Boolean).map((to) => new URL(to, location.href).href.split("#")[0]);
  for (const address of new Set(next)) if (await pages.match(address, { ignoreVary: true })) await fetched(pages, address, 0);
}

function sayAhead(words) {
  const place = document.querySelector("[data-ahead-said]");
  if (place) place.textContent = words;
}

function tellFromDevice() {
  const when = document.body.dataset.fromDevice;
  if (when === undefined) return;
  const told = document.createElement("p");
  told.className = "notice";
  told.dataset.away = "";
  told.setAttribute("role", "status");
  const at = new Date(when).toLocaleString([], { weekday: "long", hour: "2-digit", minute: "2-digit" });
  told.textContent = `There is no network: this page is from this device, as it was on ${at}. What you enter is kept here and sent later.`;
  document.querySelector("main").prepend(told);
}

tellFromDevice();
if (navigator.serviceWorker && "caches" in window) {
  document.addEventListener("unsent:sent", (event) => answered(event.detail));
  if (document.querySelector("[data-worker]")) window.addEventListener("load", keepAhead);
} else if (document.querySelector("[data-worker]")) {
  sayAhead("At this address a card opens only with a network (it must begin with https); one that is open goes on without.");
}
