"use strict";
// What waits and what was refused, shown beside the form.

async function showUnsent(form) {
  const place = document.querySelector("[data-unsent-list]");
  const mine = (await all()).filter((one) => one.user === form.dataset.user);
  place.hidden = !mine.length;
  place.replaceChildren(...mine.map((entry) => lineOf(entry, form)));
  document.dispatchEvent(new CustomEvent("unsent:waits", { detail: mine.filter((one) => !one.refused) }));
}

function lineOf(entry, form) {
  const item = document.createElement("li");
  item.textContent = entry.refused ? `Refused, ${entry.told}. ${entry.refused} ` : `Waiting to be sent, ${entry.told}. `;
  if (!entry.refused) return item;
  item.append(action("Drop it", async () => { await drop(entry.key); await showUnsent(form); }));
  if (isAtOnce(form) && entry.url === form.action) item.append(action("Put back into the form", () => putBack(entry, form)));
  return item;
}

function action(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button button-plain";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

// What was begun meanwhile is not written over: the page's own script may refuse.
async function putBack(entry, form) {
  if (!giveBack(entry, form)) { sayUnsent(form, "Keep or clear the numbers in the form first."); return; }
  await drop(entry.key);
  await showUnsent(form);
}

function giveBack(entry, form) { return form.dispatchEvent(new CustomEvent("unsent:back", { detail: entry, cancelable: true })); }

function faultsOf(form, faults) {
  const place = document.querySelector("[data-unsent-faults]");
  if (!place) return;
  place.hidden = !faults.length;
  place.replaceChildren(...faults.map((words) => { const line = document.createElement("p"); line.textContent = words; return line; }));
  if (faults.length) place.scrollIntoView({ block: "center" });
}

function sayUnsent(form, words) {
  const place = document.querySelector("[data-unsent-said]");
  if (place) place.textContent = words;
}
