"use strict";
// A gauge may type like a keyboard: its numbers come in bursts, ended with Enter or Tab, some with a
// unit, some two in one burst. None goes where nobody looks, and none runs into another.

const BURST_MS = 60; // no hand goes from a digit to Tab, or from Enter to Enter, so fast
const TWO_NUMBERS = /^(.*?\d.*?)[\s;]+([-+−]?[.,]?\d.*)$/s;
const MAYBE_THOUSANDS = /^[1-9]\d?[\s]\d{3}$/; // 1 234 is one number or two

// ``ended`` is told the place of a box whose number is whole.
function hearGauge(form, boxes, ended) {
  let typedAt = -Infinity;
  let endedAt = -Infinity;
  boxes.forEach((box, i) => {
    box.addEventListener("input", (event) => { typedAt = event.timeStamp; });
    box.addEventListener("beforeinput", (event) => keepWhole(event, form, box));
    box.addEventListener("pointerdown", () => { delete box.dataset.whole; });
    box.addEventListener("paste", (event) => pasteNumbers(event, form, boxes, i));
    box.addEventListener("keydown", (event) => {
      const isGaugesTab = event.key === "Tab" && !event.shiftKey && box.value && event.timeStamp - typedAt < BURST_MS;
      if (event.key !== "Enter" && !isGaugesTab) return;
      event.preventDefault();
      if (!box.value && event.timeStamp - endedAt < BURST_MS) return; // the second half of one end of line
      endedAt = event.timeStamp;
      const last = spread(form, boxes, i);
      if (box.value) box.dataset.whole = boxes[last].dataset.whole = "";
      ended(last);
    });
  });
  document.addEventListener("keydown", (event) => takeFromPage(event, form, boxes));
}

// Digits after the end of a number are another number: they are not put behind it.
function keepWhole(event, form, box) {
  if (!("whole" in box.dataset) || !box.value) { delete box.dataset.whole; return; }
  const isBehind = box.selectionStart === box.selectionEnd && /\d/.test(event.data ?? "");
  if (!isBehind) { if (event.inputType.startsWith("delete")) delete box.dataset.whole; return; }
  event.preventDefault();
  sayNotTaken(form);
}

function sayNotTaken(form) {
  navigator.vibrate?.(200);
  sayUnsent(form, "Not taken: a number came while these were not kept yet. Keep them, and read it again.");
}

// Several numbers in one box go to the boxes after it, as far as these are empty.
function spread(form, boxes, i) {
  const text = boxes[i].value.trim();
  const [, first, rest] = MAYBE_THOUSANDS.test(text) ? [] : (TWO_NUMBERS.exec(text) ?? []);
  if (!first) return i;
  boxes[i].value = first;
  const next = boxes.findIndex((box, n) => n > i && !box.value && box.offsetParent);
  if (next < 0) { sayUnsent(form, `${rest} was not taken: there is no box left for it.`); return i; }
  boxes[next].value = rest;
  boxes[next].dispatchEvent(new Event("input", { bubbles: true }));
  return spread(form, boxes, next);
}

// A field of one line would run the lines of what is pasted into each other.
function pasteNumbers(event, form, boxes, i) {
  const text = event.clipboardData.getData("text").replace(/[\s;]+/g, " ").trim();
  if (!TWO_NUMBERS.test(text)) return;
  event.preventDefault();
  boxes[i].value = text;
  boxes[i].dispatchEvent(new Event("input", { bubbles: true }));
  boxes[spread(form, boxes, i)].focus({ preventScroll: true });
}

// A number that comes while no field has the focus goes to the first empty box.
function takeFromPage(event, form, boxes) {
  const isTyped = event.target.closest("textarea, select, [contenteditable], input:not([type=radio], [type=checkbox], [type=button], [type=file])");
  if (isTyped || !/^\d$/.test(event.key) || event.ctrlKey || event.metaKey || event.altKey) return;
  const empty = boxes.find((box) => !box.value && box.offsetParent);
  if (empty) { empty.focus({ preventScroll: true }); return; }
  event.preventDefault();
  sayNotTaken(form);
}
