"use strict";
// A part at the bench: a key so that a part sent twice is kept once, and the focus on its name.
const quick = document.querySelector("[data-quick]");
if (quick) {
  quick.elements.key.value = [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  quick.elements.name.focus();
  quick.addEventListener("submit", () => { quick.querySelector("button").disabled = true; });
}
