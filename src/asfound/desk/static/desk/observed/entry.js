"use strict";
// Entering readings at the car: the end of a number goes to the next, a tap on the panel names the
// place, and what was typed stays on the device until the record has it.

let rest = ""; // the form as it stands while nothing is begun

function start(form) {
  rest = JSON.stringify(pairsOf(form));
  restoreDraft(form);
  const boxes = [...form.querySelectorAll("[data-number]")];
  hearGauge(form, boxes, (i) => goOn(form, boxes, i));
  for (const button of form.querySelectorAll("[data-sign]")) {
    button.hidden = false;
    button.addEventListener("click", () => changeSign(document.getElementById(button.dataset.sign)));
  }
  form.elements.spot?.addEventListener("change", () => takeSpot(form));
  form.addEventListener("input", () => { keepDraft(form); showPlace(form); });
  form.addEventListener("submit", (event) => { event.preventDefault(); submit(form, boxes); });
  form.querySelector("button:not([type])").addEventListener("pointerdown", (event) => event.preventDefault());
  document.addEventListener("click", (event) => takeTap(event, form, boxes));
  document.addEventListener("unsent:sent", () => fetchFresh(form, boxes));
  form.addEventListener("unsent:back", (event) => { if (boxes.some((box) => box.value)) event.preventDefault(); });
  showPlace(form);
}

// Nothing in an optional box: what stands is all.
function goOn(form, boxes, i) {
  const isAll = !boxes[i].value && boxes.some((box) => box.value) && form.checkValidity();
  if (i + 1 < boxes.length && !isAll) boxes[i + 1].focus({ preventScroll: true });
  else form.requestSubmit();
}

function takeTap(event, form, boxes) {
  const svg = event.target.closest("[data-panel-figure] svg");
  const place = mmAt(svg, event);
  if (!place || !form.elements.x_mm) return;
  if (!form.elements.spot || !takeNearest(form, svg, place)) putPlace(form, place);
  showPlace(form);
  keepDraft(form);
  (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

// The spot that is nearest to the tap if it lies within a spot's circle; else there is none yet.
function takeNearest(form, svg, place) {
  const reach = Math.max(40, 16 / Number(svg.dataset.scale));
  const away = (option) => Math.hypot(Number(option.dataset.x) - place.x, Number(option.dataset.y) - place.y);
  const near = [...form.elements.spot.options].filter((o) => o.dataset.x && away(o) <= reach);
  near.sort((a, b) => away(a) - away(b));
  form.elements.spot.value = near.length ? near[0].value : "";
  takeSpot(form);
  return near.length > 0;
}

function takeSpot(form) {
  const chosen = form.elements.spot.selectedOptions[0];
  if (!chosen) return;
  form.elements.before_um.value = chosen.dataset.film || "";
  form.elements.x_mm.value = chosen.dataset.x || "";
  form.elements.y_mm.value = chosen.dataset.y || "";
  if (chosen.dataset.area) form.elements.area.value = chosen.dataset.area;
  showPlace(form);
  keepDraft(form);
}

// Kept on the device first and sent without leaving the page, so that the number pad stays up.
function submit(form, boxes) {
  boxes.forEach((_, i) => spread(form, boxes, i));
  keepAtOnce(form);
  localStorage.removeItem(draftName(form));
  for (const name of ["spot", "x_mm", "y_mm"]) if (form.elements[name] && !stays(form, name)) form.elements[name].value = "";
  boxes.forEach((box) => { box.value = ""; });
  rest = JSON.stringify(pairsOf(form));
  boxes[0].focus({ preventScroll: true });
  form.querySelector(":scope > .notice")?.remove();
  showPlace(form);
}

function stays(form, name) { return (form.dataset.stays || "").split(" ").includes(name); }

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
  if (JSON.stringify(pairsOf(form)) === rest) takeNext(form, boxes, fresh);
  const messages = page.querySelector("#body > [role=status]");
  if (messages) sayUnsent(form, [...messages.querySelectorAll("p")].map((p) => p.textContent).join(" "));
  messages?.remove();
  for (const child of [...form.parentElement.children]) if (child !== form) child.remove();
  form.before(...[...page.getElementById("body").children].filter((child) => child !== fresh));
  showPlace(form);
}

// Whoever is typing something is not moved away from it.
function takeNext(form, boxes, fresh) {
  const next = fieldsOf(fresh);
  fieldsOf(form).forEach((field, i) => { if (!stays(form, field.name)) field.value = next[i].value; });
  [...form.querySelectorAll("summary")].forEach((told, i) => told.replaceChildren(...fresh.querySelectorAll("summary")[i].childNodes));
  rest = JSON.stringify(pairsOf(form));
  if (boxes.includes(document.activeElement) || document.activeElement === document.body) (boxes.find((box) => !box.value) || boxes[0]).focus({ preventScroll: true });
}

// A place that is folded away is told where it can be seen.
function showPlace(form) {
  const { x_mm: x, y_mm: y } = form.elements;
  const told = form.querySelector("[data-place-told]");
  if (told && x.value.trim() && y.value.trim()) told.textContent = `At ${x.value}, ${y.value} mm`;
  markPlace(form);
}

function fieldsOf(form) { return [...form.elements].filter((e) => e.name && !["key", "csrfmiddlewaretoken"].includes(e.name)); }

function pairsOf(form) { return fieldsOf(form).map((e) => [e.name, e.value, e.checked ?? false]); }

// Nobody finds what another person had begun.
function draftName(form) { return `asfound.draft:${form.dataset.user}:${form.action}`; }

function keepDraft(form) {
  localStorage.setItem(draftName(form), JSON.stringify(pairsOf(form)));
}

function readDraft(form) {
  try { return JSON.parse(localStorage.getItem(draftName(form))); } catch { return null; }
}

// A page that comes back with what it refused shows it already.
function restoreDraft(form) {
  const draft = readDraft(form);
  if (!draft || form.hasAttribute("data-refused") || JSON.stringify(draft) === rest) return;
  const fields = fieldsOf(form);
  if (draft.length !== fields.length) return;
  fields.forEach((field, i) => { if (field.name === draft[i][0]) [field.value, field.checked] = [draft[i][1], draft[i][2]]; });
  sayUnsent(form, "What you had begun here stands in the form again.");
}

const form = document.querySelector("[data-observed-entry]");
if (form) start(form);
