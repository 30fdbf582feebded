"use strict";
// Entering colour at the car: a tap on the panel becomes a place, ± changes a sign that the pad lacks.

function start(form) {
  document.addEventListener("click", (event) => placeFromTap(event, form));
  for (const button of form.querySelectorAll("[data-sign]")) {
    button.hidden = false;
    button.addEventListener("click", () => changeSign(document.getElementById(button.dataset.sign)));
  }
  form.addEventListener("input", () => markPlace(form));
  markPlace(form);
  if (form.elements.x_mm.value && matchMedia("(hover: hover)").matches) form.elements.L.focus({ preventScroll: true });
}

function placeFromTap(event, form) {
  const svg = event.target.closest("[data-panel-figure] svg");
  const matrix = svg?.getScreenCTM();
  if (!matrix) return;
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  const { x0, y0, scale } = svg.dataset;
  form.elements.x_mm.value = (Number(x0) + at.x / Number(scale)).toFixed(0);
  form.elements.y_mm.value = (Number(y0) + at.y / Number(scale)).toFixed(0);
  markPlace(form);
  form.elements.L.focus({ preventScroll: true });
}

// The place stands in a closed part of the form: it is told where it can be seen.
function tellPlace(form) {
  const { x_mm: x, y_mm: y } = form.elements;
  if (x.value.trim() && y.value.trim()) form.querySelector("[data-place]").textContent = `At ${x.value}, ${y.value} mm`;
}

function changeSign(box) {
  const text = box.value.trim();
  if (text) box.value = /^[-−]/.test(text) ? text.slice(1) : `-${text}`;
  box.focus({ preventScroll: true });
}

// The place that the form names, as a mark on the figure; a decimal comma is understood.
function markPlace(form) {
  tellPlace(form);
  const svg = document.querySelector("[data-panel-figure] svg");
  if (!svg) return;
  svg.querySelector(".entry-mark")?.remove();
  const [x, y] = ["x_mm", "y_mm"].map((name) => form.elements[name].value.trim().replace(",", "."));
  if (x === "" || y === "" || !Number.isFinite(Number(x)) || !Number.isFinite(Number(y))) return;
  const { x0, y0, scale } = svg.dataset;
  const cx = (Number(x) - Number(x0)) * Number(scale);
  const cy = (Number(y) - Number(y0)) * Number(scale);
  const size = svg.viewBox.baseVal.width / 40;
  const mark = document.createElementNS("http://www.w3.org/2000/svg", "path");
  mark.setAttribute("class", "entry-mark");
  mark.setAttribute("d", `M${cx - size} ${cy}h${2 * size}M${cx} ${cy - size}v${2 * size}`);
  svg.append(mark);
}

const form = document.querySelector("[data-colour-entry]");
if (form) start(form);
