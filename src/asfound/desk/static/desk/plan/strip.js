"use strict";
// The drawing of what comes off before what: larger and smaller by button or key, dragged about,
// and pieces found in it as their name is typed.

const LEAST = 0.4;
const MOST = 2.5;

function startZoom(figure) {
  const held = figure.querySelector(".swipe");
  const svg = held.querySelector("svg");
  const drawn = { width: svg.viewBox.baseVal.width, zoom: 1 };
  const bar = document.createElement("div");
  bar.className = "strip-zoom no-print";
  const to = (zoom) => zoomTo(held, svg, drawn, zoom);
  const acts = [["−", "Smaller", () => to(drawn.zoom / 1.2)], ["+", "Larger", () => to(drawn.zoom * 1.2)], ["Whole", "Fit into the page", () => to(held.clientWidth / drawn.width)], ["1 : 1", "As drawn", () => to(1)]];
  bar.append(...acts.map(([words, told, act]) => zoomButton(words, told, act)));
  held.before(bar);
  held.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = { "-": acts[0], "+": acts[1], "=": acts[1], 0: acts[3] }[event.key];
    if (act) { event.preventDefault(); act[2](); }
  });
  startDrag(held);
}

function zoomButton(words, told, act) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button button-quiet";
  button.textContent = words;
  button.title = told;
  button.setAttribute("aria-label", `${words} ${told}`);
  button.addEventListener("click", act);
  return button;
}

// What stands in the middle stays there.
function zoomTo(held, svg, drawn, zoom) {
  const middle = (held.scrollLeft + held.clientWidth / 2) / drawn.zoom;
  drawn.zoom = Math.min(MOST, Math.max(LEAST, zoom));
  svg.style.inlineSize = `${drawn.width * drawn.zoom}px`;
  held.scrollLeft = middle * drawn.zoom - held.clientWidth / 2;
}

// With a mouse only: a finger swipes anyway.
function startDrag(held) {
  held.classList.add("strip-drag");
  let from = null;
  held.addEventListener("pointerdown", (event) => {
    if (event.pointerType === "mouse" && event.button === 0 && !event.target.closest("a")) from = { x: event.clientX, y: event.clientY, left: held.scrollLeft, top: held.scrollTop, page: scrollY };
  });
  addEventListener("pointermove", (event) => {
    if (!from) return;
    held.classList.add("is-dragged");
    held.scrollLeft = from.left - (event.clientX - from.x);
    if (held.classList.contains("is-tall")) held.scrollTop = from.top - (event.clientY - from.y);
    else scrollTo({ top: from.page - (event.clientY - from.y) });
  });
  addEventListener("pointerup", () => { from = null; held.classList.remove("is-dragged"); });
}

function startFinding(field) {
  const said = document.querySelector("[data-strip-found]");
  field.addEventListener("input", () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    const pieces = [...document.querySelectorAll("a[data-piece]")].filter((piece) => piece.closest(".strip-wide, .strip-narrow").checkVisibility());
    const found = pieces.filter((piece) => words.length && words.every((word) => piece.dataset.piece.includes(word)));
    pieces.forEach((piece) => piece.classList.toggle("is-found", found.includes(piece)));
    if (said) said.textContent = words.length ? `${found.length} of the ${pieces.length} drawn below` : "";
    bringInto(found[0]);
  });
}

// In the drawing's own window only: the field that is typed into stays in sight.
function bringInto(piece) {
  const [folded, held] = [piece?.closest("details"), piece?.closest(".swipe")];
  if (folded) folded.open = true;
  if (!held) return;
  const [at, room] = [piece.getBoundingClientRect(), held.getBoundingClientRect()];
  if (at.left < room.left || at.right > room.right) held.scrollLeft += at.left - room.left - room.width / 3;
  if (held.classList.contains("is-tall")) held.scrollTop += at.top - room.top - room.height / 3;
}

document.querySelectorAll("[data-strip-drawn]").forEach(startZoom);
document.querySelectorAll("[data-strip-find]").forEach(startFinding);
