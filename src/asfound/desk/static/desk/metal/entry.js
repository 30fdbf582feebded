"use strict";
// A tap on the panel becomes a place in the panel's own mm; the focus goes to the number pad.

function start(form) {
  const svg = document.querySelector("[data-panel-figure] svg");
  const boxes = [...form.querySelectorAll("[name=thickness_mm]")];
  if (svg) svg.addEventListener("click", (event) => takeTap(event, svg, form, boxes));
  form.addEventListener("input", () => markPlace(form));
  boxes.forEach((box, i) => box.addEventListener("keydown", (event) => next(event, boxes, i)));
  markPlace(form);
}

function takeTap(event, svg, form, boxes) {
  const place = mmAt(svg, event);
  if (!place) return;
  putPlace(form, place);
  markPlace(form);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

// Enter goes on to the next empty box; in the last one, or with a box left empty, it sends.
function next(event, boxes, i) {
  if (event.key !== "Enter" || !boxes[i].value.trim() || i + 1 >= boxes.length) return;
  event.preventDefault();
  boxes[i + 1].focus({ preventScroll: true });
}

const form = document.querySelector("[data-place]");
if (form) start(form);
