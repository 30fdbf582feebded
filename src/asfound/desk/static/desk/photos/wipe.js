"use strict";
// One photograph wiped over another by a slider; the pair may come into the page later.
function startWiping(within) {
  for (const pair of within.querySelectorAll("[data-wipe]:not([data-wipe-ready])")) {
    pair.dataset.wipeReady = "";
    wipe(pair);
  }
}

function wipe(pair) {
  const hand = pair.querySelector("[data-wipe-hand]");
  pair.style.setProperty("--wiped", `${hand.value}%`);
  hand.setAttribute("aria-valuetext", `${hand.value} per cent of the later one shows`);
}

document.addEventListener("input", (event) => {
  if (event.target.matches("[data-wipe-hand]")) wipe(event.target.closest("[data-wipe]"));
});
document.addEventListener("htmx:load", (event) => startWiping(event.detail.elt.parentElement ?? document));
startWiping(document);
