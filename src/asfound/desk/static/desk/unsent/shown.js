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
  item.textContent = entry.refused ? `Refused, ${entry.told}. ${entry.refused} ` : `Waiting to be sent, ${entry.told}. ${entry.tried || ""}`;
  const acts = document.createElement("div");
  acts.className = "row";
  if (entry.refused) acts.append(...actsOfRefused(entry, form));
  if (entry.refused || entry.tried) acts.append(action("Drop it", async () => { await drop(entry.key); await showUnsent(form); }));
  if (acts.children.length) item.append(acts);
  return item;
}

function actsOfRefused(entry, form) {
  const own = formOf(entry);
  const again = action("Send it again", async () => { await change({ ...entry, refused: "" }); await showUnsent(form); await sendUnsent(form); });
  return [own ? action("Put back into the form", () => putBack(entry, own)) : linkTo(entry.page || entry.url, "Open its page"), again];
}

function formOf(entry) { return [...document.querySelectorAll("form[data-unsent]")].find((form) => form.action === entry.url); }

function linkTo(address, words) {
  const made = document.createElement("a");
  made.href = address;
  made.className = "button button-plain";
  made.textContent = words;
  return made;
}

function action(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button button-plain";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

// What was begun meanwhile is not written over.
async function putBack(entry, form) {
  if (isBegun(form)) { sayUnsent(form, "Keep or clear what stands in the form first."); return; }
  fillAgain(form, entry);
  sayUnsent(form, "");
  await drop(entry.key);
  await showUnsent(form);
  form.scrollIntoView({ block: "center" });
}

// A form that is free at once knows itself which of its fields were begun.
function isBegun(form) {
  if (isAtOnce(form)) return !form.dispatchEvent(new CustomEvent("unsent:back", { cancelable: true }));
  const stays = (form.dataset.stays || "").split(" ");
  return [...form.elements].some((field) => field.type !== "hidden" && !stays.includes(field.name) && (field.files?.length || (field.value !== field.defaultValue && "defaultValue" in field && field.type !== "file")));
}

// What was entered stands in the form again, photographs too.
function fillAgain(form, entry) {
  const left = entry.fields.filter(([name]) => name !== "key");
  for (const field of [...form.elements].filter((one) => one.name && one.type !== "submit" && !["key", "csrfmiddlewaretoken"].includes(one.name))) {
    if (["radio", "checkbox"].includes(field.type)) { field.checked = left.some(([name, value]) => name === field.name && value === field.value); continue; }
    const at = left.findIndex(([name]) => name === field.name);
    const [, value] = at < 0 ? [field.name, ""] : left.splice(at, 1)[0];
    if (field.type !== "file") field.value = value;
    else if (value) takeFile(field, value);
  }
  const folded = form.closest("details");
  if (folded) folded.open = true;
  form.dispatchEvent(new Event("input", { bubbles: true }));
}

function takeFile(field, file) {
  const taken = new DataTransfer();
  taken.items.add(file);
  field.files = taken.files;
  field.dispatchEvent(new Event("change", { bubbles: true }));
}

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
