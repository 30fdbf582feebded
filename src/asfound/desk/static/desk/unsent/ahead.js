"use strict";
// Pages that work leads to are fetched ahead while there is a network, so that they open without one:
// today's cards with the page of a finding, and the panels of the car that is surveyed. Each kind is
// kept by itself. Browsers allow it on a secure address alone.

const START = document.querySelector("[data-worker]");
const KEPT = `asfound-pages ${START?.dataset.aheadOf}`;
const FRESH_MS = 300000;
const STAYS_MS = 4000; // who stays on a panel so long measures; who passes by needs no panels kept
const OF_A_PAGE = "link[rel=stylesheet], link[rel=icon], script[src], main img[src]";

async function keepAhead() {
  await navigator.serviceWorker.register(START.dataset.worker, { scope: "/" });
  const pages = await caches.open(KEPT);
  const wanted = new Set();
  const opened = await keepPage(pages, location.href.split("#")[0], wanted, Number(START.dataset.aheadDeep));
  for (const one of await pages.keys()) if (!wanted.has(one.url)) await pages.delete(one);
  const count = isList() ? [...document.querySelectorAll("a[data-ahead]")].filter((link) => wanted.has(link.href)).length : opened;
  sayAhead(`${count} ${START.dataset.aheadOf}${count === 1 ? " is" : "s are"} on this device and open${count === 1 ? "s" : ""} without a network.`);
}

// A list has nothing typed on it; it is drawn anew when that is wanted.
function isList() { return "aheadList" in START.dataset; }

// One after the other: the workshop's computer has other work to do. Tells how many pages are kept.
async function keepPage(pages, address, wanted, deep) {
  if (wanted.has(address)) return 0;
  const answer = await fetched(pages, address, FRESH_MS);
  if (!answer) return 0;
  wanted.add(address);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const of = (selector) => [...page.querySelectorAll(selector)].map((one) => new URL(one.getAttribute("href") ?? one.getAttribute("src"), address).href);
  for (const part of of(OF_A_PAGE)) if (!wanted.has(part) && (await fetched(pages, part, FRESH_MS))) wanted.add(part);
  let kept = 1;
  if (deep) for (const next of of("a[data-ahead]")) kept += await keepPage(pages, next, wanted, deep - 1);
  return kept;
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
  if ("fromDevice" in document.body.dataset && START && isList()) { location.reload(); return; }
  const next = entries.map(({ answer }) => answer.next).filter(Boolean).map((to) => new URL(to, location.href).href.split("#")[0]);
  for (const name of await caches.keys()) {
    const pages = await caches.open(name);
    for (const address of new Set(next)) if (await pages.match(address, { ignoreVary: true })) await fetched(pages, address, 0);
  }
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
  if (START) window.addEventListener("load", () => setTimeout(keepAhead, isList() ? 0 : STAYS_MS));
} else if (START) {
  sayAhead(`At this address a ${START.dataset.aheadOf} opens only with a network (it must begin with https); one that is open goes on without.`);
}
