"use strict";
// What is on again: a touch on its step keeps it, on the device where there is no network. What was
// kept is gone from the list at once, and what waited for it alone stands among what goes on next.

function startOnAgain(form) {
  form.addEventListener("click", (event) => {
    const button = event.target.closest("button[name=card]");
    if (!button) return;
    event.preventDefault();
    form.elements.part.value = button.value;
    form.elements.part_told.value = button.closest("[data-step]").querySelector("b").textContent;
    form.dataset.sent = button.value;
    keepStep(form, button.value);
  });
  form.addEventListener("submit", () => {
    form.dataset.sent ||= form.elements.part.value;
    form.elements.part_told.value ||= form.elements.part.value;
  }, { capture: true });
  form.addEventListener("reset", () => setTimeout(() => { markOn(form, form.dataset.sent); delete form.dataset.sent; }));
  form.addEventListener("label-read", (event) => {
    event.preventDefault();
    const part = [...form.querySelectorAll("#parts-there option")].find((one) => one.dataset.tag && event.detail.toUpperCase().includes(one.dataset.tag.toUpperCase()));
    form.querySelector("[data-camera-said]").textContent = part ? `${part.textContent}.` : "That label is of no part that is off.";
    if (part) { form.elements.part_told.value = part.textContent; form.elements.part.value = part.value; form.requestSubmit(); }
  });
}

// A step may be a sub-assembly, which only a card names.
function keepStep(form, step) {
  const card = document.createElement("input");
  Object.assign(card, { type: "hidden", name: "card", value: step });
  form.append(card);
  form.requestSubmit();
  card.remove();
}

function markOn(form, step) {
  form.querySelector(`[data-step="${CSS.escape(step)}"]`)?.remove();
  const next = form.querySelector("[data-steps=next]");
  for (const card of form.querySelectorAll("[data-steps=later] [data-step]")) {
    const waits = JSON.parse(card.dataset.waits).filter((one) => one !== step);
    card.dataset.waits = JSON.stringify(waits);
    if (waits.length) continue;
    card.querySelector("[data-waits-told]")?.remove();
    next.append(card);
  }
}

const onAgain = document.querySelector("[data-on-again]");
if (onAgain) startOnAgain(onAgain);
