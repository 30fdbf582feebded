"use strict";
// What came off after what: parts to touch, those handled last first; the second touch keeps it.
// Everything that is offered stands in the page, so that it works without a network too.

const OFFERED = 6;

function startCameOff(form) {
  const parts = [...form.querySelectorAll("#parts-there option")].map((o) => ({ number: o.value, name: o.textContent, tag: o.dataset.tag, off: "off" in o.dataset }));
  const halves = [...form.querySelectorAll("[data-offers]")].map((hold) => ({ hold, field: form.elements[hold.dataset.offers] }));
  const draw = () => halves.forEach(({ hold, field }) => offer(form, parts, hold, field));
  halves.forEach(({ hold, field }) => {
    field.addEventListener("input", () => offer(form, parts, hold, field, field.value));
    hold.addEventListener("click", (event) => {
      const chip = event.target.closest("[data-number]");
      if (chip) choose(form, field, chip.dataset.number, draw);
    });
  });
  form.addEventListener("submit", () => { tellNames(form, parts); }, { capture: true });
  form.addEventListener("reset", () => setTimeout(() => { markOff(form, parts); draw(); }));
  form.addEventListener("label-read", (event) => {
    event.preventDefault();
    const part = parts.find((one) => one.tag && event.detail.toUpperCase().includes(one.tag.toUpperCase()));
    const field = halves[form.elements.part.value ? 1 : 0].field;
    if (part) choose(form, field, part.number, draw);
    form.querySelector("[data-camera-said]").textContent = part ? `${part.name}.` : "That label is of no part of this car.";
  });
  draw();
}

// The first touch names the part; the second, what was off before it, and with that it is kept.
function choose(form, field, number, draw) {
  field.value = number;
  if (field.name === "part" || !form.elements.part.value) { draw(); return; }
  form.requestSubmit();
}

function offer(form, parts, hold, field, typed = "") {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const chosen = field.name === "part" ? field.value : "";
  const likely = parts.filter((one) => one.number === chosen || (field.name === "part" ? !one.off : one.number !== form.elements.part.value));
  likely.sort((a, b) => (b.number === chosen) - (a.number === chosen) || (field.name === "after" ? b.off - a.off : 0));
  const known = typed && words.length && !parts.some((one) => one.number === typed);
  const shown = (known ? parts.filter((one) => words.every((w) => `${one.number} ${one.name}`.toLowerCase().includes(w))) : likely).slice(0, OFFERED);
  hold.replaceChildren(...shown.map((one) => chipOf(one, one.number === chosen)));
  if (field.name === "after") hold.append(nothingChip());
}

function chipOf(part, pressed) {
  const chip = document.createElement("button");
  chip.type = "button";
  chip.className = "chip";
  chip.dataset.number = part.number;
  chip.textContent = part.name + (part.off ? ", off" : "");
  chip.setAttribute("aria-pressed", String(pressed));
  return chip;
}

function nothingChip() {
  const chip = chipOf({ number: "", name: "nothing held it", off: false }, false);
  chip.classList.add("chip-nothing");
  return chip;
}

// Names go along, so that what waits on the device is told in words.
function tellNames(form, parts) {
  for (const name of ["part", "after"]) form.elements[`${name}_told`].value = parts.find((one) => one.number === form.elements[name].value)?.name || form.elements[name].value;
  form.dataset.sentPart = form.elements.part.value;
  form.dataset.sentAfter = form.elements.after.value;
}

// What was kept without a network is off here already, and offered first.
function markOff(form, parts) {
  for (const number of [form.dataset.sentAfter, form.dataset.sentPart]) {
    const at = parts.findIndex((one) => one.number === number);
    if (at >= 0) parts.unshift({ ...parts.splice(at, 1)[0], off: true });
  }
}

const cameOff = document.querySelector("[data-came-off]");
if (cameOff) startCameOff(cameOff);
