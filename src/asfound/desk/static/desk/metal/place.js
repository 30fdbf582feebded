"use strict";
// A tap on the panel becomes a place in the panel's own mm; the focus goes to the number pad.

function start(form) {
  const svg = document.querySelector("[data-panel-figure] svg");
  const boxes = [...form.querySelectorAll("[name=thickness_mm]")];
  if (svg) svg.addEventListener("click", (event) => takeTap(event, svg, form, boxes));
  form.addEventListener("input", () => mark(svg, form));
  boxes.forEach((box, i) => box.addEventListener("keydown", (event) => next(event, boxes, i)));
  mark(svg, form);
}

function takeTap(event, svg, form, boxes) {
  const matrix = svg.getScreenCTM();
  if (!matrix) return;
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  const { x0, y0, scale } = svg.dataset;
  form.elements.x_mm.value = (Number(x0) + at.x / Number(scale)).toFixed(0);
  form.elements.y_mm.value = (Number(y0) + at.y / Number(scale)).toFixed(0);
  mark(svg, form);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

// Enter goes on to the next empty box; in the last one, or with a box left empty, it sends.
function next(event, boxes, i) {
  if (event.key !== "Enter" || !boxes[i].value.trim() || i + 1 >= boxes.length) return;
  event.preventDefault();
  boxes[i + 1].focus({ preventScroll: true });
}

function mark(svg, form) {
  if (!svg) return;
  svg.querySelector(".entry-mark")?.remove();
  const { x_mm: x, y_mm: y } = form.elements;
  if (x.value === "" || y.value === "") return;
  const { x0, y0, scale } = svg.dataset;
  const cx = (numberOf(x.value) - Number(x0)) * Number(scale);
  const cy = (numberOf(y.value) - Number(y0)) * Number(scale);
  if (!Number.isFinite(cx) || !Number.isFinite(cy)) return;
  const size = svg.viewBox.baseVal.width / 40;
  const cross = document.createElementNS("http://www.w3.org/2000/svg", "path");
  cross.setAttribute("class", "entry-mark");
  cross.setAttribute("d", `M${cx - size} ${cy}h${2 * size}M${cx} ${cy - size}v${2 * size}`);
  svg.append(cross);
}

// A decimal comma is understood here as it is by the record.
function numberOf(text) { return Number(text.trim().replace(",", ".")); }

const form = document.querySelector("[data-place]");
if (form) start(form);
