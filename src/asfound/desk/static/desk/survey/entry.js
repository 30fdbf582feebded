"use strict";
// Entering readings at the car: tap a place, type three numbers, next.
// What could not be sent stays on the device, is shown as waiting and is sent again, once only.

function start(form) {
  const boxes = [...form.querySelectorAll("[data-thickness]")];
  form.elements.key.value = newKey();
  restoreDraft(form, boxes);
  document.addEventListener("click", (event) => placeFromTap(event, form, boxes));
  boxes.forEach((box, i) => box.addEventListener("keydown", (event) => nextOnEnter(event, form, boxes, i)));
  form.addEventListener("input", () => keepDraft(form, boxes));
  form.addEventListener("submit", (event) => { event.preventDefault(); submit(form, boxes); });
  form.querySelector("button").addEventListener("pointerdown", (event) => event.preventDefault());
  window.addEventListener("online", () => sendWaiting(form));
  window.addEventListener("resize", () => { if (boxes.includes(document.activeElement)) showFigure(); });
  document.addEventListener("htmx:afterSwap", () => markPlace(form));
  showWaiting();
  sendWaiting(form);
  markPlace(form);
}

// A tap on the panel becomes a place in the panel's own mm; the focus goes to the number pad.
// The spot's name is left to the record: two spots that wait must not take the same one.
function placeFromTap(event, form, boxes) {
  const svg = event.target.closest("[data-panel-figure] svg");
  if (!svg) return;
  const place = mmAt(svg, event.clientX, event.clientY);
  if (!place) return;
  form.elements.x_mm.value = place.x.toFixed(0);
  form.elements.y_mm.value = place.y.toFixed(0);
  markPlace(form);
  keepDraft(form, boxes);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

// The number pad takes half of a phone: the panel is brought back into what is left.
function showFigure() { document.querySelector("[data-panel-figure] svg")?.scrollIntoView({ block: "nearest" }); }

function mmAt(svg, clientX, clientY) {
  const matrix = svg.getScreenCTM();
  if (!matrix) return null;
  const at = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
  const { x0, y0, scale } = svg.dataset;
  return { x: Number(x0) + at.x / Number(scale), y: Number(y0) + at.y / Number(scale) };
}

// The place that the form names, as a mark on the figure.
function markPlace(form) {
  const svg = document.querySelector("[data-panel-figure] svg");
  if (!svg) return;
  svg.querySelector(".entry-mark")?.remove();
  const { x_mm: x, y_mm: y } = form.elements;
  if (x.value === "" || y.value === "") return;
  const { x0, y0, scale } = svg.dataset;
  const cx = (numberOf(x.value) - Number(x0)) * Number(scale);
  const cy = (numberOf(y.value) - Number(y0)) * Number(scale);
  if (!Number.isFinite(cx) || !Number.isFinite(cy)) return;
  const size = svg.viewBox.baseVal.width / 40;
  const mark = document.createElementNS("http://www.w3.org/2000/svg", "path");
  mark.setAttribute("class", "entry-mark");
  mark.setAttribute("d", `M${cx - size} ${cy}h${2 * size}M${cx} ${cy - size}v${2 * size}`);
  svg.append(mark);
}

// A decimal comma is understood here as it is by the record.
function numberOf(text) { return Number(text.trim().replace(",", ".")); }

function nextOnEnter(event, form, boxes, i) {
  if (event.key !== "Enter") return;
  event.preventDefault();
  if (!boxes[i].value.trim()) return;
  if (i + 1 < boxes.length) boxes[i + 1].focus({ preventScroll: true });
  else form.requestSubmit();
}

function submit(form, boxes) {
  const entry = { url: form.action, user: form.dataset.user, fields: fieldsOf(form), when: new Date().toISOString() };
  entry.fields.taken_at = entry.when.slice(0, 19) + "Z";
  store([...waiting(), entry]);
  showWaiting();
  form.elements.key.value = newKey();
  boxes.forEach((box) => { box.value = ""; });
  form.elements.spot.value = "";
  form.elements.x_mm.value = form.elements.y_mm.value = "";
  localStorage.removeItem(draftName(form));
  boxes[0].focus({ preventScroll: true });
  markPlace(form);
  showFigure();
  say(form, "Tap the next place.");
  sendWaiting(form);
}

function fieldsOf(form) {
  const fields = {};
  for (const [name, value] of new FormData(form)) {
    if (name === "csrfmiddlewaretoken") continue;
    fields[name] = name in fields ? [].concat(fields[name], value) : value;
  }
  return fields;
}

let sending = false;
let pause_ms = 2000;
let again;
async function sendWaiting(form) {
  if (sending) return;
  sending = true;
  clearTimeout(again);
  let sent = 0;
  try {
    for (const entry of waiting().filter((e) => e.user === form.dataset.user && !e.refused)) {
      const outcome = await send(entry, form);
      if (outcome === "later") {
        again = setTimeout(() => sendWaiting(form), pause_ms);
        pause_ms = Math.min(2 * pause_ms, 60000);
        break;
      }
      pause_ms = 2000;
      const rest = waiting().filter((e) => e.fields.key !== entry.fields.key);
      store(outcome === "taken" ? rest : [...rest, { ...entry, refused: outcome }]);
      if (outcome === "taken") sent += 1;
      showWaiting();
    }
  } finally {
    sending = false;
  }
  if (sent) refresh(form);
}

async function send(entry, form) {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(entry.fields)) [].concat(value).forEach((v) => body.append(name, v));
  const token = tokenNow() || form.elements.csrfmiddlewaretoken.value;
  try {
    const answer = await fetch(entry.url, { method: "POST", body, redirect: "manual", headers: { "X-CSRFToken": token, Accept: "application/json" } });
    if (answer.ok) {
      const told = await answer.json();
      if (entry.url === form.action) form.elements.spot.placeholder = told.next_spot;
      say(form, told.said);
      return "taken";
    }
    if (answer.status === 422) return (await answer.json()).faults.join(" ");
    if (answer.status === 404) return "The panel is no longer in the record.";
    if (answer.type === "opaqueredirect") say(form, "Sign in again in another tab; what waits is kept here.");
    return "later";
  } catch {
    return "later";
  }
}

// Signing in again in another tab makes a new token: the cookie has it, this page's form does not.
function tokenNow() { return document.cookie.match(/(?:^|;\s*)csrftoken=([^;]+)/)?.[1]; }

function refresh(form) {
  if (window.htmx) window.htmx.ajax("GET", form.dataset.fragment, { target: "#panel-state", swap: "outerHTML" });
}

function waiting() {
  try { return JSON.parse(localStorage.getItem("asfound.waiting")) || []; } catch { return []; }
}

function store(entries) { localStorage.setItem("asfound.waiting", JSON.stringify(entries)); }

// What waits, in words, with what was refused and why.
function showWaiting() {
  const place = document.querySelector("[data-waiting]");
  const entries = waiting();
  place.hidden = entries.length === 0;
  place.replaceChildren(...entries.map(line));
}

function line(entry) {
  const item = document.createElement("li");
  const numbers = [].concat(entry.fields.thickness_um).filter(Boolean).join(", ");
  item.textContent = entry.refused
    ? `Refused: ${numbers} µm. ${entry.refused} `
    : `Waiting to be sent: ${numbers} µm at ${entry.fields.x_mm}, ${entry.fields.y_mm} mm. `;
  if (entry.refused) item.append(button("Drop", () => drop(entry)), button("Put back into the form", () => putBack(entry)));
  return item;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button button-plain";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function drop(entry) {
  store(waiting().filter((e) => e.fields.key !== entry.fields.key));
  showWaiting();
}

// What was begun meanwhile is not written over; what is put back is kept as a draft at once.
function putBack(entry) {
  const boxes = [...form.querySelectorAll("[data-thickness]")];
  if (boxes.some((box) => box.value)) {
    say(form, "Keep or clear the numbers in the form first.");
    return;
  }
  for (const name of ["spot", "x_mm", "y_mm", "gauge"]) if (form.elements[name]) form.elements[name].value = entry.fields[name] ?? "";
  const numbers = [].concat(entry.fields.thickness_um);
  boxes.forEach((box, i) => { box.value = numbers[i] ?? ""; });
  keepDraft(form, boxes);
  drop(entry);
}

function draftName(form) { return `asfound.draft:${form.action}`; }

function keepDraft(form, boxes) {
  const { x_mm, y_mm, spot } = form.elements;
  localStorage.setItem(draftName(form), JSON.stringify({ x: x_mm.value, y: y_mm.value, spot: spot.value, boxes: boxes.map((b) => b.value) }));
  markPlace(form);
}

function restoreDraft(form, boxes) {
  try {
    const draft = JSON.parse(localStorage.getItem(draftName(form)));
    if (!draft || !draft.boxes.some(Boolean)) return;
    form.elements.x_mm.value = draft.x;
    form.elements.y_mm.value = draft.y;
    form.elements.spot.value = draft.spot;
    boxes.forEach((box, i) => { box.value = draft.boxes[i] ?? ""; });
  } catch { /* a draft that cannot be read is no draft */ }
}

function say(form, words) { form.querySelector("[data-said]").textContent = words; }

// Not crypto.randomUUID: it is missing where a workshop's own network has no certificate.
function newKey() { return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join(""); }

const form = document.querySelector("[data-entry]");
if (form) start(form);
