"use strict";
// What was entered and not yet sent: kept on the device, shown, sent in order, once only.

let sending = false;
let pause_ms = 2000;
let again;
async function sendWaiting(form) {
  if (sending) return;
  sending = true;
  clearTimeout(again);
  let sent = 0;
  try {
    for (const entry of waiting().filter((e) => e.user === form.dataset.user && !e.refused)) {
      const outcome = await send(entry, form);
      if (outcome === "later") {
        again = setTimeout(() => sendWaiting(form), pause_ms);
        pause_ms = Math.min(2 * pause_ms, 60000);
        break;
      }
      pause_ms = 2000;
      const rest = waiting().filter((e) => e.fields.key !== entry.fields.key);
      store(outcome === "taken" ? rest : [...rest, { ...entry, refused: outcome }]);
      if (outcome === "taken") {
        sent += 1;
        localStorage.setItem("asfound.taken", String(Date.now()));
      }
      showWaiting();
    }
  } finally {
    sending = false;
  }
  if (sent) refresh(form);
}

// A page may have been drawn while the page before it, still alive, had its last entries taken.
function refreshIfStale(form) {
  if (Number(localStorage.getItem("asfound.taken")) > performance.timeOrigin) refresh(form);
}

async function send(entry, form) {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(entry.fields)) [].concat(value).forEach((v) => body.append(name, v));
  const token = tokenNow() || form.elements.csrfmiddlewaretoken.value;
  try {
    const answer = await fetch(entry.url, { method: "POST", body, redirect: "manual", headers: { "X-CSRFToken": token, Accept: "application/json" } });
    if (answer.ok) {
      const told = await answer.json();
      if (entry.url === form.action) {
        form.elements.spot.placeholder = told.next_spot;
        nameLast(form, entry, told.spot);
      }
      say(form, told.said);
      return "taken";
    }
    if (answer.status === 422) return (await answer.json()).faults.join(" ");
    if (answer.status === 404) return "The panel is no longer in the record.";
    if (answer.type === "opaqueredirect") say(form, "Sign in again in another tab; what waits is kept here.");
    return "later";
  } catch {
    return "later";
  }
}

// Signing in again in another tab makes a new token: the cookie has it, this page's form does not.
function tokenNow() { return document.cookie.match(/(?:^|;\s*)csrftoken=([^;]+)/)?.[1]; }

// One after the other: what one brings takes the place that the next must find.
let refreshed = Promise.resolve();
function refresh(form) {
  refreshed = refreshed.then(() => window.htmx?.ajax("GET", form.dataset.fragment, { target: "#panel-state", swap: "outerHTML" })).catch(() => {});
}

function waiting() {
  try { return JSON.parse(localStorage.getItem("asfound.waiting")) || []; } catch { return []; }
}

function store(entries) { localStorage.setItem("asfound.waiting", JSON.stringify(entries)); }

// What waits, in words, with what was refused and why.
function showWaiting() {
  const place = document.querySelector("[data-waiting]");
  const entries = waiting();
  place.hidden = entries.length === 0;
  place.replaceChildren(...entries.map(line));
}

function line(entry) {
  const item = document.createElement("li");
  const numbers = [].concat(entry.fields.thickness_um).filter(Boolean).join(", ");
  item.textContent = entry.refused
    ? `Refused: ${numbers} µm. ${entry.refused} `
    : `Waiting to be sent: ${numbers} µm${entry.fields.more ? ", one more" : ""} at ${entry.fields.x_mm}, ${entry.fields.y_mm} mm. `;
  if (entry.refused) item.append(button("Drop", () => drop(entry)), button("Put back into the form", () => putBack(entry)));
  return item;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button button-plain";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function drop(entry) {
  store(waiting().filter((e) => e.fields.key !== entry.fields.key));
  showWaiting();
}

// What was begun meanwhile is not written over; what is put back is kept as a draft at once.
function putBack(entry) {
  const boxes = [...form.querySelectorAll("[data-thickness]")];
  if (boxes.some((box) => box.value)) {
    say(form, "Keep or clear the numbers in the form first.");
    return;
  }
  for (const name of ["spot", "more", "x_mm", "y_mm", "gauge"]) if (form.elements[name]) form.elements[name].value = entry.fields[name] ?? "";
  const numbers = [].concat(entry.fields.thickness_um);
  boxes.forEach((box, i) => { box.value = numbers[i] ?? ""; });
  keepDraft(form, boxes);
  tellSpot(form, boxes);
  drop(entry);
}
