"use strict";
// What is wider than the screen fades at the edge where it goes on, and says how to get there.

const WIDE = ".swipe, .table-hold, .rooms, .instruments";

function watchSwipes() {
  for (const held of document.querySelectorAll(WIDE)) {
    if (held.dataset.watched) continue;
    held.dataset.watched = "yes";
    held.addEventListener("scroll", () => tellEdges(held), { passive: true });
    sizes.observe(held);
    if (held.firstElementChild) sizes.observe(held.firstElementChild);
    if (held.matches(".swipe")) held.before(hint());
    showOpen(held);
    tellEdges(held);
  }
}

function tellEdges(held) {
  const rest = held.scrollWidth - held.clientWidth;
  const wide = rest > 2 && getComputedStyle(held).overflowX !== "visible";
  const more = [wide && held.scrollLeft > 2 ? "left" : "", wide && held.scrollLeft < rest - 2 ? "right" : ""].join(" ").trim();
  if (held.dataset.more !== more) held.dataset.more = more;
  const words = held.previousElementSibling;
  if (words?.matches(".swipe-hint")) words.hidden = !wide;
}

// The room that is open stands in the middle of those that are in sight.
function showOpen(held) {
  const open = held.querySelector(":scope > [aria-current]");
  if (open) held.scrollLeft = open.offsetLeft - held.offsetLeft - (held.clientWidth - open.offsetWidth) / 2;
}

function hint() {
  const made = document.createElement("p");
  made.className = "swipe-hint small soft no-print";
  made.textContent = "Swipe for the rest, or use the arrow keys.";
  return made;
}

const sizes = new ResizeObserver((seen) => seen.forEach(({ target }) => tellEdges(target.closest(WIDE))));
document.addEventListener("htmx:afterSettle", watchSwipes);
watchSwipes();
