"use strict";
// Marks drawn by finger or mouse on a layer over the photograph, in shares of its width and height.
const picture = document.querySelector("[data-picture]");
const marking = document.querySelector("[data-marking]");
const drawn = document.querySelector("[data-drawn]");
const SVG = "http://www.w3.org/2000/svg";
const FARTHEST = 0.015;
let marks = [];
let stroke = null;
let layer = null;

if (picture && drawn) {
  drawn.hidden = false;
  marks = drawn.elements.marks.value ? JSON.parse(drawn.elements.marks.value) : [];
  marking.addEventListener("toggle", toggle);
  drawn.querySelector("[data-back]").addEventListener("click", () => { marks.pop(); keep(); });
  picture.addEventListener("pointerdown", start);
  picture.addEventListener("pointermove", go);
  picture.addEventListener("pointerup", finish);
  picture.addEventListener("pointercancel", () => { stroke = null; show(); });
  toggle();
}

function toggle() {
  if (!marking.open) { delete picture.dataset.drawing; return; }
  picture.dataset.drawing = "";
  picture.querySelector("svg.marks")?.remove();
  layer ??= picture.appendChild(document.createElementNS(SVG, "svg"));
  layer.setAttribute("class", "drawing");
  layer.setAttribute("aria-hidden", "true");
  show();
}

function at(event) {
  const box = picture.getBoundingClientRect();
  const share = (value) => Math.round(Math.min(1, Math.max(0, value)) * 1e4) / 1e4;
  return [share((event.clientX - box.left) / box.width), share((event.clientY - box.top) / box.height)];
}

function start(event) {
  if (!marking.open || event.button) return;
  event.preventDefault();
  picture.setPointerCapture(event.pointerId);
  const point = at(event);
  const kind = drawn.elements.tool.value;
  stroke = { kind, points: kind === "words" ? [point] : [point, point], words: drawn.querySelector("[data-says]").value.trim() };
  show();
}

function go(event) {
  if (!stroke) return;
  const point = at(event);
  const last = stroke.points.at(-1);
  if (stroke.kind === "words") stroke.points = [point];
  else if (stroke.kind !== "line") stroke.points[1] = point;
  else if (Math.hypot(point[0] - last[0], point[1] - last[1]) > FARTHEST && stroke.points.length < 290) stroke.points.push(point);
  show();
}

function finish(event) {
  if (!stroke) return;
  go(event);
  const [first, last] = [stroke.points[0], stroke.points.at(-1)];
  const long = Math.max(...stroke.points.map((p) => Math.hypot(p[0] - first[0], p[1] - first[1])));
  const done = stroke;
  stroke = null;
  if (done.kind === "words" && !done.words) { tell("Write what it says first, then tap the place."); drawn.querySelector("[data-says]").focus(); }
  else if (done.kind !== "words" && long < FARTHEST) tell("Draw from one point to another.");
  else { marks.push(done); drawn.querySelector("[data-says]").value = ""; keep(); return; }
  show(last);
}

function keep() {
  drawn.elements.marks.value = JSON.stringify(marks);
  tell(`${marks.length} mark${marks.length === 1 ? "" : "s"}, kept once you say so.`);
  show();
}

function tell(words) { drawn.querySelector("[data-drawn-said]").textContent = words; }

function show() {
  if (!layer) return;
  const box = picture.getBoundingClientRect();
  const high = (1000 * box.height) / box.width;
  layer.setAttribute("viewBox", `0 0 1000 ${high}`);
  layer.replaceChildren(...[...marks, ...(stroke ? [stroke] : [])].flatMap((mark) => shapes(mark, high)));
}

function shapes(mark, high) {
  const points = mark.points.map(([x, y]) => [x * 1000, y * high]);
  const out = [];
  for (const [ink, width] of [["#fdfbf5", 11], ["#1f1c17", 4.5]]) {
    if (mark.kind === "ring") {
      const [[x, y], [u, v]] = points;
      out.push(made("ellipse", { cx: (x + u) / 2, cy: (y + v) / 2, rx: Math.abs(u - x) / 2, ry: Math.abs(v - y) / 2, fill: "none", stroke: ink, "stroke-width": width }));
    } else if (mark.kind !== "words") {
      out.push(made("path", { d: pathOf(points) + (mark.kind === "arrow" ? headOf(points) : ""), fill: "none", stroke: ink, "stroke-width": width, "stroke-linecap": "round", "stroke-linejoin": "round" }));
    }
  }
  if (mark.words) {
    const text = made("text", { x: points[0][0], y: points[0][1] + 10, "font-size": 32, "font-weight": 600, fill: "#1f1c17", stroke: "#fdfbf5", "stroke-width": 9, "paint-order": "stroke", "text-anchor": points[0][0] > 700 ? "end" : points[0][0] < 300 ? "start" : "middle" });
    text.textContent = mark.words;
    out.push(text);
  }
  return out;
}

function pathOf(points) { return `M${points.map((p) => p.join(" ")).join("L")}`; }

function headOf([tail, tip]) {
  const back = Math.atan2(tail[1] - tip[1], tail[0] - tip[0]);
  const long = Math.min(34, 0.6 * Math.hypot(tail[0] - tip[0], tail[1] - tip[1]));
  const end = (turn) => [tip[0] + long * Math.cos(back + turn), tip[1] + long * Math.sin(back + turn)];
  return pathOf([end(-0.42), tip, end(0.42)]);
}

function made(tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}
