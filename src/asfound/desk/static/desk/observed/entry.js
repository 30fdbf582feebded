"use strict";
// Entering readings at the car: Enter goes to the next number, a tap on the panel names the spot,
// and what was typed stays on the device until the record has it.

function start(form) {
  restoreDraft(form);
  const boxes = [...form.querySelectorAll("[data-number]")];
  boxes.forEach((box, i) => box.addEventListener("keydown", (event) => nextOnEnter(event, form, boxes, i)));
  for (const button of form.querySelectorAll("[data-sign]")) {
    button.hidden = false;
    button.addEventListener("click", () => changeSign(document.getElementById(button.dataset.sign)));
  }
  form.elements.spot?.addEventListener("change", () => takeSpot(form));
  form.addEventListener("input", () => keepDraft(form));
  form.addEventListener("submit", (event) => { event.preventDefault(); submit(form, boxes); });
  form.querySelector("button:not([type])").addEventListener("pointerdown", (event) => event.preventDefault());
  document.addEventListener("click", (event) => spotFromTap(event, form, boxes));
  document.addEventListener("unsent:sent", () => fetchFresh(form, boxes));
  form.addEventListener("unsent:back", (event) => { if (boxes.some((box) => box.value)) event.preventDefault(); });
  markPlace(form);
}

function nextOnEnter(event, form, boxes, i) {
  if (event.key !== "Enter") return;
  event.preventDefault();
  if (i + 1 < boxes.length) boxes[i + 1].focus({ preventScroll: true });
  else form.requestSubmit();
}

// The spot that is nearest to the tap if it lies within a spot's circle, or a new one there.
function spotFromTap(event, form, boxes) {
  const svg = event.target.closest("[data-panel-figure] svg");
  const place = mmAt(svg, event);
  if (!place || !form.elements.spot) return;
  const reach = Math.max(40, 16 / Number(svg.dataset.scale));
  const away = (option) => Math.hypot(Number(option.dataset.x) - place.x, Number(option.dataset.y) - place.y);
  const near = [...form.elements.spot.options].filter((o) => o.dataset.x && away(o) <= reach);
  near.sort((a, b) => away(a) - away(b));
  form.elements.spot.value = near.length ? near[0].value : "";
  takeSpot(form);
  if (!near.length) putPlace(form, place);
  markPlace(form);
  keepDraft(form);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

function takeSpot(form) {
  const chosen = form.elements.spot.selectedOptions[0];
  if (!chosen) return;
  form.elements.before_um.value = chosen.dataset.film || "";
  form.elements.x_mm.value = chosen.dataset.x || "";
  form.elements.y_mm.value = chosen.dataset.y || "";
  if (chosen.dataset.area) form.elements.area.value = chosen.dataset.area;
  markPlace(form);
  keepDraft(form);
}

// Kept on the device first and sent without leaving the page, so that the number pad stays up.
function submit(form, boxes) {
  keepAtOnce(form);
  localStorage.removeItem(draftName(form));
  if (form.elements.spot) form.elements.spot.value = form.elements.x_mm.value = form.elements.y_mm.value = "";
  boxes.forEach((box) => { box.value = ""; });
  boxes[0].focus({ preventScroll: true });
  form.querySelector(":scope > .notice")?.remove();
  markPlace(form);
}

async function fetchFresh(form, boxes) {
  const answer = await fetch(form.action).catch(() => null);
  const page = answer?.ok ? new DOMParser().parseFromString(await answer.text(), "text/html") : null;
  const fresh = page?.querySelector("[data-observed-entry]");
  if (fresh) takeOver(form, boxes, fresh, page);
}

// The page around the form as the record answers it, and in the form what comes next, unless
// somebody is typing that already.
function takeOver(form, boxes, fresh, page) {
  if (form.elements.spot?.options) {
    const chosen = form.elements.spot.value;
    form.elements.spot.replaceChildren(...fresh.elements.spot.options);
    form.elements.spot.value = chosen;
  }
  if (boxes.every((box) => !box.value)) {
    const [old, next] = [fieldsOf(form), fieldsOf(fresh)];
    old.forEach((field, i) => { field.value = next[i].value; });
    (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
  }
  const messages = page.querySelector("#body > [role=status]");
  if (messages) sayUnsent(form, [...messages.querySelectorAll("p")].map((p) => p.textContent).join(" "));
  messages?.remove();
  for (const child of [...form.parentElement.children]) if (child !== form) child.remove();
  form.before(...[...page.getElementById("body").children].filter((child) => child !== fresh));
  markPlace(form);
}

function fieldsOf(form) { return [...form.elements].filter((e) => e.name && e.name !== "csrfmiddlewaretoken"); }

function pairsOf(form) { return fieldsOf(form).map((e) => [e.name, e.value]); }

function draftName(form) { return `asfound.draft:${location.pathname}`; }

function keepDraft(form) {
  localStorage.setItem(draftName(form), JSON.stringify(pairsOf(form)));
}

function readDraft(form) {
  try { return JSON.parse(localStorage.getItem(draftName(form))); } catch { return null; }
}

// A page that comes back with what it refused shows it already.
function restoreDraft(form) {
  const draft = readDraft(form);
  if (!draft || form.hasAttribute("data-refused")) return;
  const fields = fieldsOf(form);
  if (draft.length !== fields.length) return;
  fields.forEach((field, i) => { if (field.name === draft[i][0]) field.value = draft[i][1]; });
}

const form = document.querySelector("[data-observed-entry]");
if (form) start(form);
