"use strict";
// A row that is pointed at or focused marks its panel on the small sheet, and a panel marks its row.
const mark = (event) => {
  const from = event.target.closest?.("[data-panel]");
  if (!from) return;
  const on = event.type === "pointerover" || event.type === "focusin";
  document.querySelectorAll(`[data-panel="${CSS.escape(from.dataset.panel)}"]`)
    .forEach((one) => one.classList.toggle("marked", on));
};
["pointerover", "pointerout", "focusin", "focusout"].forEach((kind) => document.addEventListener(kind, mark));
// A panel leads to its row also where that is folded away.
document.addEventListener("click", (event) => {
  const to = event.target.closest?.("a")?.getAttribute("href") ?? "";
  const fold = to.startsWith("#row-") && document.getElementById(to.slice(1))?.closest("details");
  if (fold) fold.open = true;
});
