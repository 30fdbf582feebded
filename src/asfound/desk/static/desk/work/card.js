"use strict";
// A card without a network: what was pressed last and waits to be sent is how the card stands.
// Words touched fill a form with what was used before.

const now = document.querySelector("[data-work-now]");

function stateAfter(entries) {
  const pressed = entries.map((entry) => new URL(entry.url)).filter((url) => url.search === location.search);
  const last = pressed.map((url) => now.dataset[url.pathname.split("/").at(-2)]).filter(Boolean).at(-1);
  return last || now.dataset.workNow;
}

function showState(waits) {
  const state = stateAfter(waits);
  for (const part of now.querySelectorAll("[data-when]")) part.hidden = part.disabled = !part.dataset.when.split(" ").includes(state);
}

// What is being typed is not thrown away for a fresh page.
function isTyping() { return [...document.querySelectorAll("[data-unsent] input:not([type=hidden])")].some((field) => field.value !== field.defaultValue || field.checked !== field.defaultChecked); }

// A word touched fills what it says; what is empty still comes next.
function fill(chip) {
  const form = chip.closest("form");
  for (const [name, value] of Object.entries(JSON.parse(chip.dataset.fills))) form.elements[name].value = value;
  focusEmpty(form);
}

function focusEmpty(form) {
  const fields = [...form.querySelectorAll("input:not([type=hidden])")];
  (fields.find((field) => field.required && !field.value) || form.querySelector("button:not([type])")).focus();
}

document.addEventListener("click", (event) => { const chip = event.target.closest("[data-fills]"); if (chip) fill(chip); });
for (const part of document.querySelectorAll("details[data-focus]")) {
  part.addEventListener("toggle", () => { if (part.open && !part.querySelector(".chip")) focusEmpty(part.querySelector("form")); });
}

if (now) {
  document.addEventListener("unsent:waits", (event) => showState(event.detail));
  document.addEventListener("unsent:sent", (event) => {
    now.dataset.workNow = stateAfter(event.detail);
    if (!isTyping()) location.reload();
  });
}
