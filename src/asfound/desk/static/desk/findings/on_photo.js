"use strict";
// A mark on the photograph: a tap rings a place, a stroke draws the ring's box. The form holds its
// corners in per cent; the picture itself is never touched.

const NS_MARK = "http://www.w3.org/2000/svg";
const TAPPED = 0.06;

function startMark(form, holder) {
  const on = holder.querySelector("[data-mark-on]");
  const state = { form, holder, on, from: null };
  on.addEventListener("pointerdown", (event) => begin(event, state));
  on.addEventListener("pointermove", (event) => { if (state.from) drawRing(state, state.from, shareAt(event, on)); });
  on.addEventListener("pointerup", (event) => end(event, state));
  on.addEventListener("pointercancel", () => { state.from = null; showMark(state); });
  form.addEventListener("input", () => showMark(state));
  form.addEventListener("reset", () => setTimeout(() => forget(state)));
  form.elements.photo?.addEventListener("change", () => preview(state));
  on.querySelector("img").addEventListener("load", () => showMark(state));
  preview(state);
  showMark(state);
}

// A photograph just taken is shown from the device; one that the browser cannot show is only sent.
function preview(state) {
  const [file] = state.form.elements.photo?.files ?? [];
  const img = state.holder.querySelector("[data-preview]");
  if (!img) return;
  if (!file) { state.holder.hidden = true; return; }
  img.addEventListener("error", () => { state.holder.hidden = true; }, { once: true });
  img.addEventListener("load", () => { state.holder.hidden = false; showMark(state); }, { once: true });
  img.src = URL.createObjectURL(file);
}

function forget(state) {
  if (state.holder.querySelector("[data-preview]")) state.holder.hidden = true;
  showMark(state);
}

function shareAt(event, on) {
  const box = on.getBoundingClientRect();
  const within = (value) => Math.min(1, Math.max(0, value));
  return [within((event.clientX - box.left) / box.width), within((event.clientY - box.top) / box.height)];
}

function begin(event, state) {
  if (event.button) return;
  event.preventDefault();
  state.on.setPointerCapture(event.pointerId);
  state.from = shareAt(event, state.on);
}

function end(event, state) {
  if (!state.from) return;
  const [[x, y], [u, v]] = [state.from, shareAt(event, state.on)];
  state.from = null;
  const box = state.on.getBoundingClientRect();
  const tapped = Math.hypot((u - x) * box.width, (v - y) * box.height) < 12;
  const tall = (TAPPED * box.width) / box.height;
  const corners = tapped ? [x - TAPPED, y - tall, x + TAPPED, y + tall] : [Math.min(x, u), Math.min(y, v), Math.max(x, u), Math.max(y, v)];
  ["left", "top", "right", "bottom"].forEach((name, i) => { state.form.elements[name].value = (100 * Math.min(1, Math.max(0, corners[i]))).toFixed(1); });
  showMark(state);
}

function showMark(state) {
  const shares = ["left", "top", "right", "bottom"].map((name) => state.form.elements[name].value.trim());
  if (shares.some((text) => text === "")) { layerOf(state).replaceChildren(); return; }
  const [left, top, right, bottom] = shares.map((text) => Number(text.replace(",", ".")) / 100);
  drawRing(state, [left, top], [right, bottom]);
}

function layerOf(state) {
  let layer = state.on.querySelector("svg.new-mark");
  if (!layer) {
    layer = document.createElementNS(NS_MARK, "svg");
    layer.setAttribute("class", "new-mark");
    layer.setAttribute("aria-hidden", "true");
    layer.setAttribute("preserveAspectRatio", "none");
    state.on.append(layer);
  }
  return layer;
}

function drawRing(state, [x, y], [u, v]) {
  const layer = layerOf(state);
  const box = state.on.getBoundingClientRect();
  const high = box.width ? (1000 * box.height) / box.width : 1000;
  layer.setAttribute("viewBox", `0 0 1000 ${high}`);
  layer.replaceChildren(...[["#fdfbf5", 11], ["#1f1c17", 4.5]].map(([ink, width]) => {
    const ring = document.createElementNS(NS_MARK, "ellipse");
    const told = { cx: 500 * (x + u), cy: (high * (y + v)) / 2, rx: 500 * Math.abs(u - x), ry: (high * Math.abs(v - y)) / 2, fill: "none", stroke: ink, "stroke-width": width };
    Object.entries(told).forEach(([name, value]) => ring.setAttribute(name, value));
    return ring;
  }));
}

const marked = document.querySelector("[data-finding]");
const holder = marked?.querySelector("[data-mark-photo]");
if (holder && marked.elements.left) startMark(marked, holder);
