"use strict";
// Correcting an outline: a corner is taken by pointer or keys, and what lies between it and the
// corners beside it goes along. Every step can be taken back; the record takes the outline as text.

const NS = "http://www.w3.org/2000/svg";
const STEP_MM = 5;
const REACH_PX = 22;

function start(figure, form) {
  const svg = figure.querySelector("svg");
  const bench = {
    figure, form, svg,
    points: JSON.parse(svg.dataset.points),
    corners: JSON.parse(svg.dataset.corners),
    chosen: 0,
    past: [],
    began: null,
  };
  bench.first = copyOf(bench);
  figure.addEventListener("keydown", (event) => onKey(event, bench));
  svg.addEventListener("pointerdown", (event) => take(event, bench));
  svg.addEventListener("pointermove", (event) => drag(event, bench));
  for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, (event) => letGo(event, bench));
  form.addEventListener("click", (event) => onButton(event, bench));
  form.elements.outline_wkt.addEventListener("change", () => fromText(bench));
  window.addEventListener("resize", () => show(bench));
  form.querySelector("[data-bench-keys]").hidden = false;
  fromText(bench);
  show(bench);
}

function copyOf(bench) { return { points: bench.points.map((p) => [...p]), corners: [...bench.corners] }; }

function remember(bench) { bench.past.push(copyOf(bench)); }

// Moves a corner; points of the two runs beside it follow by their share of the way along the run.
function move(bench, dx, dy) {
  const n = bench.points.length;
  const at = bench.corners[bench.chosen];
  const count = bench.corners.length;
  const before = bench.corners[(bench.chosen + count - 1) % count];
  const after = bench.corners[(bench.chosen + 1) % count];
  const share = new Map([[at, 1]]);
  for (const [end, way] of [[before, -1], [after, 1]]) {
    const run = runOf(bench.points, at, end, way, n);
    run.places.forEach((place, i) => share.set(place, 1 - run.along[i] / run.total));
  }
  for (const [place, weight] of share) {
    bench.points[place][0] += weight * dx;
    bench.points[place][1] += weight * dy;
  }
}

function runOf(points, at, end, way, n) {
  const places = [];
  const along = [];
  let total = 0;
  let last = at;
  for (let i = (at + way + n) % n; ; i = (i + way + n) % n) {
    total += Math.hypot(points[i][0] - points[last][0], points[i][1] - points[last][1]);
    if (i === end) break;
    places.push(i);
    along.push(total);
    last = i;
  }
  return { places, along, total: total || 1 };
}

function mmAt(svg, event) { return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse()); }

function mmAPixel(svg) { return 1 / svg.getScreenCTM().a; }

function take(event, bench) {
  const spot = mmAt(bench.svg, event);
  const far = bench.corners.map((i) => Math.hypot(bench.points[i][0] - spot.x, bench.points[i][1] - spot.y));
  const nearest = far.indexOf(Math.min(...far));
  if (far[nearest] > REACH_PX * mmAPixel(bench.svg)) return;
  event.preventDefault();
  bench.figure.focus({ preventScroll: true });
  bench.chosen = nearest;
  bench.began = { id: event.pointerId, last: spot, moved: false };
  bench.svg.setPointerCapture(event.pointerId);
  show(bench);
}

function drag(event, bench) {
  if (!bench.began || event.pointerId !== bench.began.id) return;
  const spot = mmAt(bench.svg, event);
  if (!bench.began.moved) remember(bench);
  bench.began.moved = true;
  move(bench, spot.x - bench.began.last.x, spot.y - bench.began.last.y);
  bench.began.last = spot;
  show(bench);
}

function letGo(event, bench) {
  if (bench.began && event.pointerId === bench.began.id) bench.began = null;
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function onKey(event, bench) {
  if (event.key in ARROWS) {
    const step = event.shiftKey ? 10 * STEP_MM : STEP_MM;
    nudge(bench, ARROWS[event.key].map((way) => way * step));
  } else if (event.key === "PageDown") choose(bench, 1);
  else if (event.key === "PageUp") choose(bench, -1);
  else if (event.key.toLowerCase() === "z" && (event.ctrlKey || event.metaKey)) undo(bench);
  else return;
  event.preventDefault();
}

function nudge(bench, [dx, dy]) {
  remember(bench);
  move(bench, dx, dy);
  show(bench);
}

function choose(bench, way) {
  const count = bench.corners.length;
  bench.chosen = (bench.chosen + way + count) % count;
  show(bench);
}

function undo(bench) {
  const was = bench.past.pop();
  if (was) putBack(bench, was);
}

function putBack(bench, was) {
  bench.points = was.points.map((p) => [...p]);
  bench.corners = [...was.corners];
  bench.chosen = Math.min(bench.chosen, bench.corners.length - 1);
  show(bench);
}

// A corner in the middle of the run from the chosen one to the next.
function addCorner(bench) {
  remember(bench);
  const n = bench.points.length;
  const at = bench.corners[bench.chosen];
  const end = bench.corners[(bench.chosen + 1) % bench.corners.length];
  const run = runOf(bench.points, at, end, 1, n);
  let place = run.places.find((_, i) => run.along[i] >= run.total / 2) ?? run.places.at(-1);
  if (place === undefined) {
    const [a, b] = [bench.points[at], bench.points[end]];
    place = at + 1;
    bench.points.splice(place, 0, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
    bench.corners = bench.corners.map((i) => (i >= place ? i + 1 : i));
  }
  bench.corners = [...bench.corners, place].sort((a, b) => a - b);
  bench.chosen = bench.corners.indexOf(place);
  show(bench);
}

function onButton(event, bench) {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.move) nudge(bench, button.dataset.move.split(",").map((way) => Number(way) * STEP_MM));
  else if (button.dataset.choose) choose(bench, Number(button.dataset.choose));
  else if ("add" in button.dataset) addCorner(bench);
  else if ("undo" in button.dataset) undo(bench);
  else if ("reset" in button.dataset) { remember(bench); putBack(bench, bench.first); }
}

function area(points) {
  let twice = 0;
  points.forEach(([x, y], i) => {
    const [x1, y1] = points[(i + 1) % points.length];
    twice += x * y1 - x1 * y;
  });
  return Math.abs(twice) / 2e6;
}

function wktOf(points) {
  const text = [...points, points[0]].map(([x, y]) => `${Number(x.toFixed(1))} ${Number(y.toFixed(1))}`);
  return `POLYGON ((${text.join(", ")}))`;
}

// What stands in the text, after a refusal or typed by hand, is drawn; all its points are corners
// when there are others than before.
function fromText(bench) {
  const inside = bench.form.elements.outline_wkt.value.match(/^\s*POLYGON\s*\(\(([^()]+)\)\)\s*$/i);
  if (!inside) return;
  const points = inside[1].split(",").map((pair) => pair.trim().split(/\s+/).map(Number)).slice(0, -1);
  if (points.length < 3 || points.some((p) => p.length !== 2 || !p.every(Number.isFinite))) return;
  if (points.length !== bench.points.length) {
    bench.corners = points.map((_, i) => i);
    bench.chosen = 0;
  }
  bench.points = points;
  show(bench);
}

function show(bench) {
  const { svg, form, points, corners } = bench;
  svg.querySelector(".bench-now").setAttribute("d", `M${points.map((p) => p.map((v) => v.toFixed(1)).join(" ")).join("L")}Z`);
  svg.querySelectorAll(".bench-corner").forEach((mark) => mark.remove());
  const pixel = mmAPixel(svg);
  corners.forEach((place, i) => svg.append(...marks(points[place], i === bench.chosen, pixel)));
  form.elements.outline_wkt.value = wktOf(points);
  const now_m2 = area(points);
  const change_m2 = now_m2 - area(bench.first.points);
  form.querySelector("[data-area]").textContent = `${now_m2.toFixed(3)} m²`;
  form.querySelector("[data-change]").textContent = Math.abs(change_m2) < 0.0005 ? "" : `${change_m2 > 0 ? "+" : "−"}${Math.abs(change_m2).toFixed(3)} m²`;
  const [x, y] = points[corners[bench.chosen]];
  form.querySelector("[data-corner]").textContent = `${bench.chosen + 1} of ${corners.length}, at ${x.toFixed(0)}, ${y.toFixed(0)} mm`;
  form.querySelector("[data-undo]").disabled = bench.past.length === 0;
  form.querySelector("[data-reset]").disabled = bench.past.length === 0;
}

// Under each mark lies ground as wide as a thumb on which the page does not scroll.
function marks([x, y], isChosen, pixel) {
  return [["bench-corner bench-reach", REACH_PX], [`bench-corner bench-dot${isChosen ? " bench-chosen" : ""}`, isChosen ? 8 : 6]].map(([name, size]) => {
    const mark = document.createElementNS(NS, "circle");
    mark.setAttribute("class", name);
    mark.setAttribute("cx", x);
    mark.setAttribute("cy", y);
    mark.setAttribute("r", size * pixel);
    return mark;
  });
}

const figure = document.querySelector("[data-bench]");
const form = document.querySelector("[data-bench-form]");
if (figure && form) start(figure, form);
