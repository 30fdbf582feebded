"use strict";
// What was entered at the car and not yet sent, photographs among it: kept on the device until the
// record has it, shown as waiting, sent again by itself, and kept once by the key it bears.

const STORE = "unsent";
const pressed = new Map(); // what was pressed here and is waited for, by key, with what became of it
let draining = null;
let unsentPause_ms = 2000;
let unsentAgain;

function startUnsent(forms) {
  if (!("indexedDB" in window)) return;
  for (const form of forms) form.addEventListener("submit", (event) => { event.preventDefault(); takeEntry(form); });
  window.addEventListener("online", () => sendUnsent(forms[0]));
  sendUnsent(forms[0]);
}

// Kept on the device first; the page goes on once the record answers, or says that it waits.
async function takeEntry(form) {
  const button = form.querySelector("button:not([type])");
  const entry = { key: form.elements.key.value || newKey(), url: form.action, user: form.dataset.user, at: Date.now(), told: toldOf(form), fields: [...new FormData(form)].filter(([name, value]) => name !== "csrfmiddlewaretoken" && !(value instanceof File && !value.size)) };
  entry.fields = entry.fields.map(([name, value]) => (name === "key" ? [name, entry.key] : [name, value]));
  button.disabled = true;
  faultsOf(form, []);
  pressed.set(entry.key, { later: true });
  try {
    await put(entry);
  } catch {
    form.submit(); // no room on the device: the browser sends it, and says so if it cannot
    return;
  }
  await draining;
  await drain(form);
  const outcome = pressed.get(entry.key);
  pressed.delete(entry.key);
  button.disabled = false;
  if (outcome.next) { location.assign(outcome.next); return; }
  if (outcome.faults) { await drop(entry.key); form.elements.key.value = newKey(); await showUnsent(form); faultsOf(form, outcome.faults); return; }
  const stays = (form.dataset.stays || "").split(" ").filter(Boolean).map((name) => [name, form.elements[name].value]);
  form.reset();
  stays.forEach(([name, value]) => { form.elements[name].value = value; });
  form.elements.key.value = newKey();
  sayUnsent(form, "There is no network; it is kept on this device and sent when there is.");
  await showUnsent(form);
  document.querySelector("[data-unsent-list]").scrollIntoView({ block: "center" });
  again(form);
}

function toldOf(form) {
  const words = [form.dataset.told, form.elements.kind?.value, form.elements.name?.value, form.elements.extent?.value];
  const typed = new FormData(form);
  const told = (form.dataset.tells || "").split(" ").flatMap((name) => typed.getAll(name));
  return [...words, ...told].filter(Boolean).join(", ");
}

// Sends what waits, and says what went.
async function sendUnsent(form) {
  clearTimeout(unsentAgain);
  if (draining) return;
  const sent = await drain(form);
  if (sent.some((outcome) => outcome.later)) again(form);
  const went = sent.filter((outcome) => outcome.next);
  if (went.length) sayUnsent(form, `Sent: ${went.map((outcome) => outcome.entry.told).join("; ")}.`);
  if (went.length) document.dispatchEvent(new CustomEvent("unsent:sent", { detail: went.map((outcome) => outcome.entry) }));
  await showUnsent(form);
}

function drain(form) {
  draining ||= drainNow(form).finally(() => { draining = null; });
  return draining;
}

// In the order in which it was entered: nothing goes before what was entered earlier.
async function drainNow(form) {
  const outcomes = [];
  const next = async () => (await all()).find((one) => one.user === form.dataset.user && !one.refused);
  for (let entry = await next(); entry; entry = await next()) {
    const outcome = await sendEntry(entry, form);
    if (pressed.has(entry.key)) pressed.set(entry.key, outcome);
    else outcomes.push({ ...outcome, entry });
    if (outcome.later) break;
    unsentPause_ms = 2000;
    if (outcome.faults) await put({ ...entry, refused: outcome.faults.join(" ") });
    else await drop(entry.key);
  }
  return outcomes;
}

function again(form) {
  unsentAgain = setTimeout(() => sendUnsent(form), unsentPause_ms);
  unsentPause_ms = Math.min(2 * unsentPause_ms, 60000);
}

async function sendEntry(entry, form) {
  const token = document.cookie.match(/(?:^|;\s*)csrftoken=([^;]+)/)?.[1] || form.elements.csrfmiddlewaretoken.value;
  const body = new FormData();
  entry.fields.forEach(([name, value]) => body.append(name, value));
  body.append("waited_s", Math.round((Date.now() - entry.at) / 1000));
  try {
    const answer = await fetch(entry.url, { method: "POST", body, headers: { "X-CSRFToken": token, Accept: "application/json" } });
    if (answer.status === 404) return { faults: ["What it is on is no longer in the record."] };
    if (!(answer.headers.get("Content-Type") || "").includes("json")) {
      if (answer.ok) sayUnsent(form, "Sign in again in another tab; what waits is kept here.");
      return answer.status === 413 ? { faults: ["The photograph is too large."] } : { later: true };
    }
    const told = await answer.json();
    if (answer.ok) return { next: told.next };
    return answer.status === 422 ? { faults: told.faults } : { later: true };
  } catch {
    return { later: true };
  }
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
  if (entry.refused) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button button-plain";
    button.textContent = "Drop it";
    button.addEventListener("click", async () => { await drop(entry.key); showUnsent(form); });
    item.append(button);
  }
  return item;
}

// The device's own store; unlike the store for words it holds photographs.
function opened() {
  return new Promise((done, fail) => {
    const asked = indexedDB.open("asfound", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: "key" });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

async function within(mode, act) {
  const store = await opened();
  try {
    return await new Promise((done, fail) => {
      const turn = store.transaction(STORE, mode);
      const asked = act(turn.objectStore(STORE));
      turn.oncomplete = () => done(asked.result);
      turn.onabort = turn.onerror = () => fail(turn.error);
    });
  } finally {
    store.close();
  }
}

function put(entry) { return within("readwrite", (store) => store.put(entry)); }

function drop(key) { return within("readwrite", (store) => store.delete(key)); }

async function all() { return (await within("readonly", (store) => store.getAll())).sort((a, b) => a.at - b.at); }

const unsentForms = [...document.querySelectorAll("form[data-unsent]")];
if (unsentForms.length) startUnsent(unsentForms);
