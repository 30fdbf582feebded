"use strict";
// On paper nothing can be opened: what is folded is opened before printing and closed after.

window.addEventListener("beforeprint", () => {
  for (const folded of document.querySelectorAll("main details:not([open], .no-print, .keeps-folded)")) {
    folded.open = true;
    folded.dataset.opened = "for print";
  }
});
window.addEventListener("afterprint", () => {
  for (const opened of document.querySelectorAll("details[data-opened]")) {
    opened.open = false;
    delete opened.dataset.opened;
  }
});
