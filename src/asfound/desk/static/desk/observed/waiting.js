"use strict";
// Readings that were entered and not yet sent: kept on the device, shown, sent in order, once only.

const QUEUE = "asfound.observed.waiting";
let sending = false;
let pause_ms = 2000;
let again;

async function sendWaiting(form, boxes) {
  showWaiting(form);
  if (sending) return;
  sending = true;
  clearTimeout(again);
  try {
    for (let entry = nextOf(form); entry; entry = nextOf(form)) {
      const outcome = await send(entry, form, boxes);
      if (outcome === "later") {
        again = setTimeout(() => sendWaiting(form, boxes), pause_ms);
        pause_ms = Math.min(2 * pause_ms, 60000);
        break;
      }
      pause_ms = 2000;
      settle(entry, outcome);
      showWaiting(form);
    }
  } finally {
    sending = false;
  }
}

function nextOf(form) { return waiting().find((e) => e.user === form.dataset.user && !e.refused); }

function settle(entry, outcome) {
  store(waiting().flatMap((e) => {
    if (keyOf(e) !== keyOf(entry)) return [e];
    return outcome === "kept" ? [] : [{ ...e, refused: outcome }];
  }));
}

// The record answers with the page that follows; what breaks a rule comes back with the rule.
async function send(entry, form, boxes) {
  const token = document.cookie.match(/(?:^|;\s*)csrftoken=([^;]+)/)?.[1] || form.elements.csrfmiddlewaretoken.value;
  try {
    const answer = await fetch(entry.url, { method: "POST", body: new URLSearchParams(entry.fields), headers: { "X-CSRFToken": token } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.querySelector("[data-observed-entry]");
    if (answer.status === 404) return "The panel or edge is no longer in the record.";
    if (answer.status === 422 && fresh) return fresh.querySelector(".notice")?.textContent.trim() || "It breaks a rule.";
    if (answer.ok && fresh) {
      if (entry.url === form.action) takeOver(form, boxes, fresh, page);
      return "kept";
    }
    if (answer.ok) say(form, "Sign in again in another tab; what waits is kept here.");
    return "later";
  } catch {
    say(form, "There is no network; what waits is kept on this device and sent when there is.");
    return "later";
  }
}

function keyOf(entry) { return entry.fields.find(([name]) => name === "key")[1]; }

function waiting() {
  try { return JSON.parse(localStorage.getItem(QUEUE)) || []; } catch { return []; }
}

function store(entries) { localStorage.setItem(QUEUE, JSON.stringify(entries)); }

function showWaiting(form) {
  const place = form.querySelector("[data-waiting]");
  const entries = waiting();
  place.hidden = entries.length === 0;
  place.replaceChildren(...entries.map((entry) => line(entry, form)));
}

function line(entry, form) {
  const item = document.createElement("li");
  const where = decodeURIComponent(new URL(entry.url).pathname.split("/").at(-2));
  const numbers = entry.fields.filter(([name, value]) => /_(um|mm)$/.test(name) && !/^[xy]_/.test(name) && value);
  const told = `${where}: ${numbers.map(([, value]) => value).join(", ")}`;
  item.textContent = entry.refused ? `Refused, ${told}. ${entry.refused} ` : `Waiting to be sent, ${told}. `;
  if (entry.refused) {
    item.append(action("Drop", () => drop(entry, form)));
    if (entry.url === form.action) item.append(action("Put back into the form", () => putBack(entry, form)));
  }
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

function drop(entry, form) {
  store(waiting().filter((e) => keyOf(e) !== keyOf(entry)));
  showWaiting(form);
}

// What was begun meanwhile is not written over.
function putBack(entry, form) {
  if ([...form.querySelectorAll("[data-number]")].some((box) => box.value)) {
    say(form, "Keep or clear the numbers in the form first.");
    return;
  }
  fieldsOf(form).forEach((field, i) => { if (field.name === entry.fields[i]?.[0]) field.value = entry.fields[i][1]; });
  form.elements.key.value = newKey();
  drop(entry, form);
  keepDraft(form);
  markPlace(form);
}
