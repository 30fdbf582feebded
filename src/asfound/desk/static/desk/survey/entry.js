"use strict";
// Entering readings at the car: tap a place, type three numbers, next.
// spot.js says which spot a number goes to; unsent/ keeps what could not be sent.

function start(form) {
  const boxes = [...form.querySelectorAll("[data-thickness]")];
  form.elements.key.value = newKey();
  const before = restoreDraft(form, boxes);
  document.addEventListener("click", (event) => placeFromTap(event, form, boxes));
  hearGauge(form, boxes, (i) => goOn(form, boxes, i));
  form.addEventListener("input", (event) => typed(event, form, boxes));
  form.addEventListener("submit", (event) => { event.preventDefault(); submit(form, boxes); });
  form.querySelector("button").addEventListener("pointerdown", (event) => event.preventDefault());
  form.addEventListener("click", (event) => answerQuestion(event, form, boxes));
  window.addEventListener("resize", () => { if (boxes.includes(document.activeElement)) showFigure(); });
  document.addEventListener("htmx:afterSwap", () => markPlace(form));
  document.addEventListener("unsent:sent", (event) => takeAnswers(form, event.detail));
  form.addEventListener("unsent:back", (event) => { if (boxes.some((box) => box.value)) event.preventDefault(); });
  markPlace(form);
  tellSpot(form, boxes, before);
  if (hasPlace(form)) window.addEventListener("load", () => setTimeout(showFigure));
}

// A tap on the panel becomes a place in the panel's own mm; the focus goes to the number pad.
// The spot's name is left to the record: two spots that wait must not take the same one.
function placeFromTap(event, form, boxes) {
  const svg = event.target.closest("[data-panel-figure] svg");
  if (!svg) return;
  const place = mmAt(svg, event);
  if (!place) return;
  const before = numbersIn(boxes);
  forgetAddress();
  if (form.elements.more.value) form.elements.spot.value = "";
  form.elements.more.value = "";
  putPlace(form, place);
  markPlace(form);
  keepDraft(form, boxes);
  tellSpot(form, boxes, before);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

function numbersIn(boxes) { return boxes.map((box) => box.value.trim()).filter(Boolean); }

// The place in the address was taken, or another is: a reload must not bring it back.
function forgetAddress() { if (location.search) history.replaceState(null, "", location.pathname); }

// The number pad takes half of a phone: the panel is brought back into what is left.
function showFigure() { document.querySelector("[data-panel-figure] svg")?.scrollIntoView({ block: "nearest" }); }

function typed(event, form, boxes) {
  if (["x_mm", "y_mm"].includes(event.target.name)) { form.elements.more.value = ""; forgetAddress(); }
  keepDraft(form, boxes);
  tellSpot(form, boxes);
}

// The end of a number goes on to the next, and keeps the spot after the last; never past a number
// that has no place or could mean two things.
function goOn(form, boxes, i) {
  if (!boxes[i].value.trim() || asksBack(form, boxes)) return;
  if (i + 1 < boxes.length && !form.elements.more.value) boxes[i + 1].focus({ preventScroll: true });
  else if (hasPlace(form)) form.requestSubmit();
  else tellSpot(form, boxes);
}

function submit(form, boxes) {
  boxes.forEach((_, i) => spread(form, boxes, i));
  if (asksBack(form, boxes)) return;
  document.querySelector(".entry-mark")?.setAttribute("class", "kept-mark"); // until the panel is drawn anew
  form.dataset.told = toldWords(form, boxes);
  rememberLast(form, boxes, keepAtOnce(form).key);
  boxes.forEach((box) => { box.value = ""; });
  for (const name of ["spot", "more", "x_mm", "y_mm"]) form.elements[name].value = "";
  localStorage.removeItem(draftName(form));
  forgetAddress();
  boxes[0].focus({ preventScroll: true });
  markPlace(form);
  showFigure();
  tellSpot(form, boxes);
  sayUnsent(form, "");
}

function toldWords(form, boxes) {
  const { x_mm, y_mm, more } = form.elements;
  const numbers = numbersIn(boxes).map((text) => text.replace(UNIT, "")).join(", ");
  return `${form.dataset.panel}: ${numbers} µm${more.value ? ", one more" : ""} at ${x_mm.value}, ${y_mm.value} mm`;
}

// The record has them: it names their spots, and the reading of the panel is another.
function takeAnswers(form, entries) {
  for (const { key, answer } of entries.filter((one) => one.url === form.action)) {
    form.elements.spot.placeholder = answer.next_spot;
    nameLast(form, key, answer.spot);
  }
  refresh(form);
}

// One after the other: what one brings takes the place that the next must find.
let refreshed = Promise.resolve();
function refresh(form) {
  refreshed = refreshed.then(() => window.htmx?.ajax("GET", form.dataset.fragment, { target: "#panel-state", swap: "outerHTML" })).catch(() => {});
}

// Nobody finds what another person had begun.
function draftName(form) { return `asfound.draft:${form.dataset.user}:${form.action}`; }

function keepDraft(form, boxes) {
  const { x_mm, y_mm, spot, more } = form.elements;
  localStorage.setItem(draftName(form), JSON.stringify({ x: x_mm.value, y: y_mm.value, spot: spot.value, more: more.value, boxes: boxes.map((b) => b.value) }));
  markPlace(form);
}

// Numbers that stand again where a link has just named a place were typed before it, as before a tap.
function restoreDraft(form, boxes) {
  try {
    const draft = JSON.parse(localStorage.getItem(draftName(form)));
    if (!draft || !draft.boxes.some(Boolean)) return [];
    boxes.forEach((box, i) => { box.value = draft.boxes[i] ?? ""; });
    const isLed = hasPlace(form) && performance.getEntriesByType("navigation")[0].type === "navigate";
    if (isLed) return numbersIn(boxes);
    form.elements.x_mm.value = draft.x;
    form.elements.y_mm.value = draft.y;
    form.elements.spot.value = draft.spot;
    form.elements.more.value = draft.more ?? "";
  } catch { /* a draft that cannot be read is no draft */ }
  return [];
}

const form = document.querySelector("[data-entry]");
if (form) start(form);
