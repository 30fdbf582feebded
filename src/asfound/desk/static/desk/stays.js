"use strict";
// A large drawing is moved about in a window of its own; its heads stay at the edge meanwhile.

const TALL = 0.9; // of the screen: what is taller than that gets a window

function watchDrawing(held) {
  const svg = held.querySelector("svg");
  if (!svg || held.dataset.stays) return;
  held.dataset.stays = "yes";
  const heads = [...svg.querySelectorAll("[data-stays]")];
  const fit = () => held.classList.toggle("is-tall", svg.getBoundingClientRect().height > TALL * innerHeight);
  const move = () => {
    const scale = svg.viewBox.baseVal.width / (svg.getBoundingClientRect().width || 1);
    heads.forEach((head) => head.setAttribute("transform", head.dataset.stays === "x" ? `translate(${held.scrollLeft * scale} 0)` : `translate(0 ${held.scrollTop * scale})`));
  };
  held.addEventListener("scroll", move, { passive: true });
  new ResizeObserver(() => { fit(); move(); }).observe(svg);
  addEventListener("beforeprint", () => heads.forEach((head) => head.removeAttribute("transform")));
  addEventListener("afterprint", move);
  showChosen(held, svg);
}

// What the address asks for stands in sight.
function showChosen(held, svg) {
  const chosen = svg.querySelector("[data-chosen]");
  if (!chosen) return;
  const [at, room] = [chosen.getBoundingClientRect(), held.getBoundingClientRect()];
  held.scrollLeft += at.left - room.left - room.width / 3;
  held.scrollTop += at.top - room.top - room.height / 3;
}

function watchDrawings() { document.querySelectorAll(".plan-figure .swipe").forEach(watchDrawing); }
document.addEventListener("htmx:afterSettle", watchDrawings);
watchDrawings();
