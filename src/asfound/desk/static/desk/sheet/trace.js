"use strict";
// Tracing over a photograph: a panel, or a piece of the stock with its flaws and nap. The photograph
// is drawn from the device itself and never sent; the form holds points in its pixels and the places
// of the taped ones in mm.

const NS = "http://www.w3.org/2000/svg";

function start(form) {
  const trace = { form, svg: form.querySelector("[data-svg]"), mode: "taped", taped: [], edge: [], nap: [], flaws: [newFlaw(form)], zoom: 1, size: null, held: null };
  form.querySelector("[data-photo]").addEventListener("change", (event) => open(event.target.files[0], trace));
  const view = form.querySelector("[data-window]");
  view.addEventListener("keydown", (event) => onKey(event, trace));
  trace.svg.addEventListener("pointerdown", (event) => down(event, trace));
  trace.svg.addEventListener("pointermove", (event) => drag(event, trace));
  trace.svg.addEventListener("pointerup", (event) => up(event, trace));
  trace.svg.addEventListener("pointercancel", () => { trace.held = null; });
  form.addEventListener("click", (event) => onButton(event, trace));
  form.addEventListener("input", () => write(trace));
  form.elements.replaces?.addEventListener("change", () => showNew(trace));
  if (form.elements.replaces) showNew(trace);
}

function open(file, trace) {
  if (file) load(URL.createObjectURL(file), trace);
}

function load(address, trace) {
  const photo = new Image();
  photo.addEventListener("load", () => {
    trace.size = { width: photo.naturalWidth, height: photo.naturalHeight };
    Object.assign(trace, { taped: [], edge: [], nap: [], flaws: [newFlaw(trace.form)] });
    trace.svg.setAttribute("viewBox", `0 0 ${trace.size.width} ${trace.size.height}`);
    const image = trace.svg.querySelector("[data-image]");
    image.setAttribute("href", address);
    image.setAttribute("width", trace.size.width);
    image.setAttribute("height", trace.size.height);
    for (const name of ["hold", "bar", "told"]) trace.form.querySelector(`[data-${name}]`).hidden = false;
    setZoom(trace, 1);
    setMode(trace, "taped");
  });
  photo.addEventListener("error", () => say(trace, "This file is no photo that the browser can show."));
  photo.src = address;
}

function listOf(trace) {
  return { taped: trace.taped, trace: trace.edge, nap: trace.nap, flaw: trace.flaws.at(-1).points }[trace.mode];
}

function newFlaw(form) { return { kind: form.querySelector("[data-flaw-kind]")?.value ?? "", points: [] }; }

function at(trace, event) { return new DOMPoint(event.clientX, event.clientY).matrixTransform(trace.svg.getScreenCTM().inverse()); }

function pixels(trace, count) { return count / trace.svg.getScreenCTM().a; }

// A point under the finger is held and goes along; elsewhere a tap sets a new one. A swipe scrolls.
function down(event, trace) {
  const spot = at(trace, event);
  const far = listOf(trace).map((p) => Math.hypot(p.x - spot.x, p.y - spot.y));
  const nearest = far.indexOf(Math.min(...far));
  if (nearest >= 0 && far[nearest] < pixels(trace, 20)) {
    event.preventDefault();
    trace.held = nearest;
    trace.svg.setPointerCapture(event.pointerId);
  } else {
    trace.tapped = { x: event.clientX, y: event.clientY };
  }
}

function drag(event, trace) {
  if (trace.held === null) return;
  const spot = at(trace, event);
  Object.assign(listOf(trace)[trace.held], inside(trace, spot));
  show(trace);
}

function up(event, trace) {
  const tapped = trace.tapped;
  trace.tapped = null;
  if (trace.held !== null) { trace.held = null; return; }
  if (!tapped || Math.hypot(event.clientX - tapped.x, event.clientY - tapped.y) > 8) return;
  if (trace.mode === "nap" && trace.nap.length === 2) trace.nap.pop();
  listOf(trace).push({ ...inside(trace, at(trace, event)), x_mm: "", y_mm: "" });
  show(trace);
}

function inside(trace, { x, y }) {
  return { x: Math.min(Math.max(x, 0), trace.size.width), y: Math.min(Math.max(y, 0), trace.size.height) };
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function onKey(event, trace) {
  const list = listOf(trace);
  if (!trace.size) return;
  if (event.key in ARROWS) {
    if (!list.length) list.push({ x: trace.size.width / 2, y: trace.size.height / 2, x_mm: "", y_mm: "" });
    const last = list.at(-1);
    const step = pixels(trace, event.shiftKey ? 10 : 1);
    Object.assign(last, inside(trace, { x: last.x + ARROWS[event.key][0] * step, y: last.y + ARROWS[event.key][1] * step }));
  } else if (event.key === "Enter") list.push({ ...(list.at(-1) ?? { x: trace.size.width / 2, y: trace.size.height / 2 }), x_mm: "", y_mm: "" });
  else if (event.key === "Backspace") list.pop();
  else return;
  event.preventDefault();
  show(trace);
}

function onButton(event, trace) {
  const button = event.target.closest("button[type=button]");
  if (!button) return;
  if (button.dataset.mode) setMode(trace, button.dataset.mode);
  else if ("back" in button.dataset) takeBack(trace);
  else if ("next" in button.dataset) nextFlaw(trace);
  else if (button.dataset.address) load(button.dataset.address, trace);
  else if (button.dataset.zoom) setZoom(trace, Math.min(Math.max(trace.zoom * Number(button.dataset.zoom), 1), 8));
}

// With no point left in a flaw, the one before is taken up again.
function takeBack(trace) {
  if (trace.mode === "flaw" && !trace.flaws.at(-1).points.length && trace.flaws.length > 1) trace.flaws.pop();
  else listOf(trace).pop();
  show(trace);
}

function nextFlaw(trace) {
  if (trace.flaws.at(-1).points.length > 2) trace.flaws.push(newFlaw(trace.form));
  if (trace.size) setMode(trace, "flaw");
}

function setMode(trace, mode) {
  trace.mode = mode;
  trace.form.querySelectorAll("[data-mode]").forEach((b) => b.setAttribute("aria-pressed", String(b.dataset.mode === mode)));
  show(trace);
}

// The middle of what is seen stays in the middle.
function setZoom(trace, zoom) {
  const view = trace.form.querySelector("[data-window]");
  const grown = zoom / trace.zoom;
  const [x, y] = [view.scrollLeft + view.clientWidth / 2, view.scrollTop + view.clientHeight / 2];
  trace.zoom = zoom;
  trace.svg.style.width = `${zoom * 100}%`;
  view.scrollTo(x * grown - view.clientWidth / 2, y * grown - view.clientHeight / 2);
  show(trace);
}

function show(trace) {
  const marks = trace.svg.querySelector("[data-marks]");
  const unit = pixels(trace, 1);
  marks.replaceChildren(
    ...trace.edge.map((p) => circle(p, trace.mode === "trace" ? 5 * unit : 2.5 * unit, "trace-dot")),
    ...listOf(trace).map((p) => circle(p, 20 * unit, "trace-reach")),
    ...trace.taped.flatMap((p, i) => [circle(p, 10 * unit, "trace-taped"), cross(p, 4 * unit), number(p, i + 1, unit)]),
  );
  const edge = trace.edge.map((p) => `${p.x.toFixed(1)} ${p.y.toFixed(1)}`).join("L");
  trace.svg.querySelector("[data-edge]").setAttribute("d", edge ? `M${edge}${trace.edge.length > 2 ? "Z" : ""}` : "");
  trace.svg.querySelector("[data-flaws]")?.setAttribute("d", trace.flaws.map((f) => line(f.points, "Z")).join(""));
  trace.svg.querySelector("[data-nap]")?.setAttribute("d", line(trace.nap, ""));
  showPlaces(trace);
  write(trace);
  say(trace, {
    taped: `${trace.taped.length} taped point${trace.taped.length === 1 ? "" : "s"}; four or more. Drag one to set it closer.`,
    trace: `${trace.edge.length} points along the edge, once around; more where it bends.`,
    nap: "Two points along the nap: from where it runs, to where.",
    flaw: `Flaw ${trace.flaws.length}: ${trace.flaws.at(-1).points.length} points, once around.`,
  }[trace.mode]);
}

function line(points, end) {
  return points.length > 1 ? `M${points.map((p) => `${p.x.toFixed(1)} ${p.y.toFixed(1)}`).join("L")}${end}` : "";
}

function made(name, attributes) {
  const mark = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) mark.setAttribute(key, value);
  return mark;
}

function circle(p, r, name) { return made("circle", { cx: p.x, cy: p.y, r, class: name }); }

function cross(p, arm) { return made("path", { d: `M${p.x - arm} ${p.y}h${2 * arm}M${p.x} ${p.y - arm}v${2 * arm}`, class: "trace-cross" }); }

function number(p, n, unit) {
  const words = made("text", { x: p.x + 13 * unit, y: p.y - 8 * unit, "font-size": 15 * unit, class: "trace-number" });
  words.textContent = n;
  return words;
}

// Fields for the places of the taped points; a rectangle fills the first four.
function showPlaces(trace) {
  const list = trace.form.querySelector("[data-places]");
  while (list.children.length > trace.taped.length) list.lastElementChild.remove();
  while (list.children.length < trace.taped.length) list.append(placeFields(trace, list.children.length));
}

function placeFields(trace, i) {
  const item = document.createElement("li");
  for (const [key, words] of [["x_mm", "right"], ["y_mm", "down"]]) {
    const label = document.createElement("label");
    const box = document.createElement("input");
    label.textContent = `${i + 1}: ${words}, mm `;
    box.inputMode = "decimal";
    box.dataset.place = key;
    box.addEventListener("input", () => { trace.taped[i][key] = box.value; });
    label.append(box);
    item.append(label);
  }
  return item;
}

// A decimal comma is understood here as it is by the record.
function numberOf(text) { return text.trim() === "" ? NaN : Number(text.trim().replace(",", ".")); }

function write(trace) {
  const width = numberOf(trace.form.querySelector("[data-width]").value);
  const height = numberOf(trace.form.querySelector("[data-height]").value);
  const isRectangle = Number.isFinite(width) && Number.isFinite(height);
  const corners = [[0, 0], [width, 0], [width, height], [0, height]];
  trace.form.querySelectorAll("[data-places] li").forEach((item, i) => {
    item.querySelectorAll("input").forEach((box, side) => {
      const isFilled = isRectangle && i < 4;
      box.readOnly = isFilled;
      if (isFilled) box.value = corners[i][side];
      trace.taped[i][box.dataset.place] = box.value;
    });
  });
  const { taped_px: px, taped_mm: mm, trace_px: edge, nap_px: nap, flaws_px: flaws } = trace.form.elements;
  px.value = written(trace.taped);
  const places = trace.taped.map((p) => [numberOf(p.x_mm), numberOf(p.y_mm)]);
  mm.value = places.filter((p) => p.every(Number.isFinite)).map((p) => p.join(",")).join(" ");
  edge.value = written(trace.edge);
  if (nap) nap.value = written(trace.nap);
  if (!flaws) return;
  trace.flaws.at(-1).kind = newFlaw(trace.form).kind;
  flaws.value = trace.flaws.filter((f) => f.points.length).map((f) => `${f.kind.replace(/[|:]/g, " ")}:${written(f.points)}`).join("|");
}

function written(points) { return points.map((p) => `${p.x.toFixed(2)},${p.y.toFixed(2)}`).join(" "); }

// Name, view and part are asked of a new panel only.
function showNew(trace) { trace.form.querySelector(".trace-new").hidden = trace.form.elements.replaces.value !== ""; }

function say(trace, words) {
  const told = trace.form.querySelector("[data-told]");
  told.hidden = false;
  told.textContent = words;
}

const form = document.querySelector("[data-trace]");
if (form) start(form);
