"use strict";
// A part at the bench: a key so that a part sent twice is kept once, and the focus on its name,
// once the page is there and again when the camera is done.
const quick = document.querySelector("[data-quick]");
if (quick) {
  quick.elements.key.value = newKey();
  quick.elements.name.focus();
  quick.elements.photo.addEventListener("change", () => quick.elements.name.focus());
  quick.addEventListener("submit", () => { quick.querySelector("button").disabled = true; });
}
