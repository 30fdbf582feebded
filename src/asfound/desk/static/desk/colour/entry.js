"use strict";
// Entering colour at the car: a tap on the panel becomes a place, ± changes a sign that the pad lacks.

function start(form) {
  document.addEventListener("click", (event) => placeFromTap(event, form));
  for (const button of form.querySelectorAll("[data-sign]")) {
    button.hidden = false;
    button.addEventListener("click", () => changeSign(document.getElementById(button.dataset.sign)));
  }
  form.addEventListener("input", () => showPlace(form));
  showPlace(form);
  if (form.elements.x_mm.value && matchMedia("(hover: hover)").matches) form.elements.L.focus({ preventScroll: true });
}

function placeFromTap(event, form) {
  const place = mmAt(event.target.closest("[data-panel-figure] svg"), event);
  if (!place) return;
  putPlace(form, place);
  showPlace(form);
  form.elements.L.focus({ preventScroll: true });
}

// The place stands in a closed part of the form: it is told where it can be seen.
function tellPlace(form) {
  const { x_mm: x, y_mm: y } = form.elements;
  if (x.value.trim() && y.value.trim()) form.querySelector("[data-place]").textContent = `At ${x.value}, ${y.value} mm`;
}

function showPlace(form) {
  tellPlace(form);
  markPlace(form);
}

const form = document.querySelector("[data-colour-entry]");
if (form) start(form);
