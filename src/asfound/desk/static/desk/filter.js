"use strict";
// Rows of a table that hold every word typed; the rest are hidden, and the count is told.
document.addEventListener("input", (event) => {
  const field = event.target.closest("[data-filter]");
  if (!field) return;
  const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
  const rows = [...document.querySelectorAll(`#${field.dataset.filter} tbody tr`)];
  rows.forEach((row) => { row.hidden = !words.every((word) => row.textContent.toLowerCase().includes(word)); });
  if (words.length) rows.forEach((row) => { const fold = row.closest("details"); if (fold && !row.hidden) fold.open = true; });
  const told = document.querySelector(`[data-filter-count="${field.dataset.filter}"]`);
  if (told) told.textContent = words.length ? `${rows.filter((row) => !row.hidden).length} of ${rows.length} shown` : "";
});
