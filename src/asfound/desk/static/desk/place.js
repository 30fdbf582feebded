"use strict";
// What every form of readings shares: a tap becomes a place in the panel's own mm, the place becomes
// a mark on the figure, and what is sent bears a key of its own.

function mmAt(svg, event) {
  const matrix = svg?.getScreenCTM();
  if (!matrix) return null;
  const { x0, y0, scale } = svg.dataset;
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  return { x: Number(x0) + at.x / Number(scale), y: Number(y0) + at.y / Number(scale) };
}

function putPlace(form, place) {
  form.elements.x_mm.value = place.x.toFixed(0);
  form.elements.y_mm.value = place.y.toFixed(0);
  for (const link of document.querySelectorAll("[data-place-goes-along]")) {
    const to = new URL(link.href);
    to.searchParams.set("x", form.elements.x_mm.value);
    to.searchParams.set("y", form.elements.y_mm.value);
    link.href = to;
  }
}

// The place that the form names, as a mark on the figure.
function markPlace(form) {
  const svg = document.querySelector("[data-panel-figure] svg");
  const { x_mm: x, y_mm: y } = form.elements;
  if (!svg || !x || !y) return;
  svg.querySelector(".entry-mark")?.remove();
  if (x.value.trim() === "" || y.value.trim() === "") return;
  const cx = (numberOf(x.value) - Number(svg.dataset.x0)) * Number(svg.dataset.scale);
  const cy = (numberOf(y.value) - Number(svg.dataset.y0)) * Number(svg.dataset.scale);
  if (!Number.isFinite(cx) || !Number.isFinite(cy)) return;
  const size = svg.viewBox.baseVal.width / 40;
  const mark = document.createElementNS("http://www.w3.org/2000/svg", "path");
  mark.setAttribute("class", "entry-mark");
  mark.setAttribute("d", `M${cx - size} ${cy}h${2 * size}M${cx} ${cy - size}v${2 * size}`);
  svg.append(mark);
}

// A decimal comma is understood here as it is by the record.
function numberOf(text) { return Number(text.trim().replace(",", ".")); }

// The number pad of a phone has no sign.
function changeSign(box) {
  const text = box.value.trim();
  if (text) box.value = /^[-−]/.test(text) ? text.slice(1) : `-${text}`;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.focus({ preventScroll: true });
}

// Not crypto.randomUUID: it is missing where a workshop's own network has no certificate.
function newKey() { return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join(""); }
