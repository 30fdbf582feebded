// Fetches the screen again each minute; where that fails it says since when it is not fresh.
"use strict";
const EVERY_MS = 60_000, STALE_MS = 150_000;
const wall = document.getElementById("wall"), stale = document.getElementById("stale");
let heard = Date.now(), heardAt = wall.querySelector("time")?.textContent ?? "";

function tell() {
  stale.hidden = Date.now() - heard < STALE_MS && !stale.dataset.failed;
  stale.querySelector("b").textContent = heardAt;
}

async function refresh() {
  try {
    const answer = await fetch(`${location.pathname}${location.search ? `${location.search}&` : "?"}part=1`, { cache: "no-store", redirect: "error" });
    if (!answer.ok) throw new Error(answer.statusText);
    wall.innerHTML = await answer.text();
    heard = Date.now();
    heardAt = wall.querySelector("time")?.textContent ?? "";
    delete stale.dataset.failed;
  } catch {
    stale.dataset.failed = "yes";
  }
  tell();
}

setInterval(refresh, EVERY_MS);
setInterval(tell, 10_000);
addEventListener("offline", () => { stale.dataset.failed = "yes"; tell(); });
addEventListener("online", refresh);
