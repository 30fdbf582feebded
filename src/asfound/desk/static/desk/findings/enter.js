"use strict";
// A finding at the car: words to touch, a place to tap on the panel, or corners of its outline.

function startFinding(form) {
  document.querySelectorAll("[data-chips]").forEach((chips) => startChips(chips, form));
  const figure = form.querySelector("[data-outlining]");
  if (figure) startPlace(form, figure);
}

// A word touched fills the field; typing shows the words that hold what is typed.
function startChips(chips, form) {
  const field = document.getElementById(chips.dataset.chips);
  chips.addEventListener("click", (event) => {
    const chip = event.target.closest("[data-word]");
    if (!chip) return;
    field.value = chip.dataset.word;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    const more = chip.closest("details");
    if (more) more.open = false;
  });
  field.addEventListener("input", () => pressChips(chips, field));
  form.addEventListener("reset", () => setTimeout(() => pressChips(chips, field)));
  pressChips(chips, field);
}

function pressChips(chips, field) {
  const typed = field.value.trim().toLowerCase();
  const all = [...chips.querySelectorAll("[data-word]")];
  const is = (chip) => chip.dataset.word.toLowerCase() === typed;
  const none = all.some(is) || !typed;
  all.forEach((chip) => {
    chip.setAttribute("aria-pressed", String(is(chip)));
    chip.hidden = !none && !chip.dataset.word.toLowerCase().includes(typed);
  });
}

function startPlace(form, figure) {
  const svg = figure.querySelector("svg");
  const bar = figure.querySelector("[data-place-bar]");
  const outline = { points: pointsOf(form.elements.outline_wkt.value), mode: "place" };
  if (outline.points.length) outline.mode = "outline";
  bar.hidden = false;
  svg.addEventListener("click", (event) => tapPlace(event, form, svg, outline, bar));
  bar.addEventListener("click", (event) => pressBar(event, form, svg, outline, bar));
  form.addEventListener("input", () => markPlace(form));
  form.addEventListener("reset", () => setTimeout(() => { outline.points = []; outline.mode = "place"; showOutline(form, svg, outline, bar); markPlace(form); }));
  showOutline(form, svg, outline, bar);
  markPlace(form);
}

function tapPlace(event, form, svg, outline, bar) {
  const place = mmAt(svg, event);
  if (!place) return;
  if (outline.mode === "outline") outline.points.push([Math.round(place.x), Math.round(place.y)]);
  else putPlace(form, place);
  showOutline(form, svg, outline, bar);
  markPlace(form);
}

function pressBar(event, form, svg, outline, bar) {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.mode) outline.mode = button.dataset.mode;
  if (button.dataset.mode === "place") outline.points = [];
  if (button.dataset.mode === "outline") form.elements.x_mm.value = form.elements.y_mm.value = "";
  if ("takeBack" in button.dataset) outline.points.pop();
  showOutline(form, svg, outline, bar);
  markPlace(form);
}

// Fewer than three corners are no outline yet.
function showOutline(form, svg, outline, bar) {
  const { points } = outline;
  const whole = points.length >= 3;
  form.elements.outline_wkt.value = whole ? `POLYGON ((${[...points, points[0]].map((p) => p.join(" ")).join(", ")}))` : "";
  bar.querySelectorAll("[data-mode]").forEach((b) => b.setAttribute("aria-pressed", String(b.dataset.mode === outline.mode)));
  bar.querySelector("[data-take-back]").hidden = !points.length;
  bar.querySelector("[data-place-said]").textContent = outline.mode === "place" ? "" : whole ? areaOf(points) : `${points.length} of at least 3 corners`;
  svg.querySelector(".outline-mark")?.remove();
  if (!points.length) return;
  const { x0, y0, scale } = svg.dataset;
  const at = points.map(([x, y]) => `${(x - x0) * scale} ${(y - y0) * scale}`);
  const drawn = document.createElementNS("http://www.w3.org/2000/svg", "path");
  drawn.setAttribute("class", "outline-mark");
  drawn.setAttribute("d", `M${at.join("L")}${whole ? "Z" : ""}${at.map((p) => `M${p}h0.01`).join("")}`);
  svg.append(drawn);
}

function areaOf(points) {
  const twice = points.reduce((sum, [x, y], i) => { const [u, v] = points[(i + 1) % points.length]; return sum + x * v - u * y; }, 0);
  const cm2 = Math.abs(twice) / 200;
  return cm2 < 100 ? `${cm2.toPrecision(2)} cm²` : `${(cm2 / 100).toPrecision(3)} dm²`;
}

function pointsOf(wkt) {
  const found = /\(\(([^()]+)\)/.exec(wkt || "");
  return found ? found[1].split(",").slice(0, -1).map((pair) => pair.trim().split(/\s+/).map(Number)) : [];
}

const finding = document.querySelector("[data-finding]");
if (finding) startFinding(finding);
