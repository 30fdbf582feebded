"use strict";
// Which spot a number goes to, said beside the numbers at every moment; and what is asked back.

const ORDINALS = ["1st", "2nd", "3rd"];
// 1.234 and 12,345 are thousands to some and decimals to others (the record asks the same).
const EITHER = /^\+?[1-9]\d{0,2}[.,]\d{3}$/;
const UNIT = /\s*[µμu]m$/i; // of a gauge that types it

function hasPlace(form) { return form.elements.x_mm.value.trim() !== "" && form.elements.y_mm.value.trim() !== ""; }

function ordinal(n) { return ORDINALS[n - 1] ?? `${n}th`; }

// ``before`` are numbers that were typed before the tap that gave them this place.
function tellSpot(form, boxes, before = []) {
  const more = form.elements.more.value !== "";
  const last = lastSpot(form);
  const numbers = boxes.map((box) => box.value.trim()).filter(Boolean);
  const lost = !hasPlace(form) && numbers.length > 0;
  boxes.forEach((box, i) => {
    box.closest(".field").hidden = more && i > 0;
    box.closest(".field").querySelector("label").textContent = `${ordinal(i + 1 + (more ? (last?.n ?? 0) : 0))} µm`;
  });
  const line = form.querySelector("[data-spot-line]");
  line.hidden = false;
  line.classList.toggle("entry-spot-asks", lost);
  const offers = !more && last && (lost || before.length || !hasPlace(form)) ? [ask(`One more on ${nameOf(last)}`, "more")] : [];
  line.replaceChildren(words(spotWords(form, { more, last, lost, numbers, before })), ...offers);
}

function spotWords(form, { more, last, lost, numbers, before }) {
  const { x_mm, y_mm, spot } = form.elements;
  const place = `${x_mm.value.trim()}, ${y_mm.value.trim()} mm`;
  if (lost) return `${numbers.join(", ")} µm: which spot? Tap its place${last ? ", or say:" : "."}`;
  if (more) return `One more on ${nameOf(last ?? { x: x_mm.value, y: y_mm.value })}`;
  if (!hasPlace(form)) return last ? `${capital(nameOf(last))} is done. Tap the next place.` : "Tap the place of the first spot.";
  const name = spot.value.trim() ? `Spot ${spot.value.trim()}` : "New spot";
  return before.length ? `${name} at ${place} takes ${before.join(", ")} µm, typed before the tap` : `${name} at ${place}`;
}

function nameOf(last) { return last.name ? `spot ${last.name}` : `the spot at ${last.x}, ${last.y} mm`; }

function capital(text) { return text[0].toUpperCase() + text.slice(1); }

function words(text) {
  const made = document.createElement("span");
  made.textContent = text;
  return made;
}

function ask(text, answer, value = "") {
  const made = action(text, () => {});
  made.className = "button button-quiet";
  made.dataset.answer = answer;
  made.dataset.value = value;
  return made;
}

// A number that could mean two things stays where it is until the person says which.
function asksBack(form, boxes) {
  const unclear = unclearOf(boxes);
  if (!unclear) return false;
  const text = unclear.value.trim().replace(UNIT, "");
  const digits = text.replace(/\D/g, "");
  const decimals = `${digits.slice(0, -3)}.${digits.slice(-3)}`;
  const [one, other] = text.split(/\s/);
  const otherwise = other ? ask(`${one} µm and ${other} µm`, "number", `${one};${other}`) : ask(`${decimals} µm`, "number", `${decimals}0`);
  const line = form.querySelector("[data-spot-line]");
  line.hidden = false;
  line.classList.add("entry-spot-asks");
  line.replaceChildren(words(`${text}: which is meant?`), ask(`${digits} µm`, "number", digits), otherwise);
  unclear.focus({ preventScroll: true });
  return true;
}

function unclearOf(boxes) {
  const texts = boxes.map((box) => box.value.trim().replace(UNIT, ""));
  return boxes.find((_, i) => EITHER.test(texts[i]) || MAYBE_THOUSANDS.test(texts[i]));
}

function answerQuestion(event, form, boxes) {
  const given = event.target.closest("[data-answer]");
  if (!given) return;
  if (given.dataset.answer === "number") {
    const unclear = unclearOf(boxes);
    if (unclear) unclear.value = given.dataset.value;
    if (unclear) spread(form, boxes, boxes.indexOf(unclear));
  } else if (!takeMore(form, boxes)) return;
  keepDraft(form, boxes);
  tellSpot(form, boxes);
  (boxes.find((box) => !box.value && !box.closest(".field").hidden) || boxes[0]).focus({ preventScroll: true });
}

// The numbers typed so far go to the spot before: its place, its name where the person gave one.
function takeMore(form, boxes) {
  const last = lastSpot(form);
  if (!last) return false;
  if (boxes.filter((box) => box.value.trim()).length > 1) {
    sayUnsent(form, "One more takes one number. Clear the others first.");
    return false;
  }
  const number = boxes.map((box) => box.value.trim()).find(Boolean) ?? "";
  boxes.forEach((box, i) => { box.value = i ? "" : number; });
  form.elements.x_mm.value = last.x;
  form.elements.y_mm.value = last.y;
  form.elements.spot.value = last.typed;
  form.elements.more.value = "yes";
  return true;
}

// The spot entered last on this panel, on this device: it outlives a reload of the page.
function lastSpot(form) {
  try { return JSON.parse(sessionStorage.getItem(lastName(form))); } catch { return null; }
}

function rememberLast(form, boxes, key) {
  const { x_mm: x, y_mm: y, spot, more } = form.elements;
  const numbers = boxes.filter((box) => box.value.trim()).length;
  const before = more.value ? lastSpot(form) : null;
  const last = { x: x.value, y: y.value, typed: spot.value, name: before?.name || spot.value, n: numbers + (before?.n ?? 0), key };
  sessionStorage.setItem(lastName(form), JSON.stringify(last));
}

// The record gave the spot its name.
function nameLast(form, key, name) {
  const last = lastSpot(form);
  if (!name || !last || last.key !== key) return;
  sessionStorage.setItem(lastName(form), JSON.stringify({ ...last, name }));
  const boxes = [...form.querySelectorAll("[data-thickness]")];
  if (!form.querySelector("[data-answer='number']")) tellSpot(form, boxes);
}

function lastName(form) { return `asfound.last:${form.action}`; }
