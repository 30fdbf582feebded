"use strict";
// What was entered at the car and not yet sent, photographs among it: kept on the device until the
// record has it, shown as waiting, sent again by itself, and kept once by the key it bears.

const TAKEN = "asfound.taken"; // when something was sent last from this device
const NO_NETWORK = "There is no network; what waits is kept on this device and sent when there is.";
const pressed = new Map(); // what was pressed here and is waited for, by key, with what became of it
let draining = null;
let unsentPause_ms = 2000;
let unsentAgain;
let lastAt = 0;

async function startUnsent(forms) {
  if (!("indexedDB" in window)) return;
  for (const form of forms.filter((one) => !isAtOnce(one))) form.addEventListener("submit", (event) => { event.preventDefault(); takeEntry(form, event.submitter); });
  window.addEventListener("online", () => sendUnsent(forms[0]));
  await takeOverOld();
  // The page may have been drawn while the page before it, still alive, had its last entries sent.
  if (Number(localStorage.getItem(TAKEN)) > performance.timeOrigin) tellSent([]);
  await showUnsent(forms[0]);
  sendUnsent(forms[0]);
}

// A form of readings is free for the next numbers at once; its page hears what became of the last.
function isAtOnce(form) { return form.dataset.unsent === "at-once"; }

function entryOf(form, pressedButton) {
  const key = newKey(); // of this press: a page that is kept on the device has the same key each time
  form.elements.key.value = key;
  const fields = [...new FormData(form, pressedButton)].filter(([name, value]) => name !== "csrfmiddlewaretoken" && !(value instanceof File && !value.size));
  unsentPause_ms = 2000;
  lastAt = Math.max(Date.now(), lastAt + 1); // in the order in which they were pressed
  return { key, url: form.action, page: location.href, user: form.dataset.user, at: lastAt, told: toldOf(form), fields: fields.map(([name, value]) => (name === "key" ? [name, key] : [name, value])) };
}

function toldOf(form) {
  const words = [form.dataset.told, form.elements.kind?.value, form.elements.name?.value, form.elements.extent?.value];
  const typed = new FormData(form);
  const told = (form.dataset.tells || "").split(" ").flatMap((name) => typed.getAll(name));
  return [...words, ...told].filter(Boolean).join(", ");
}

// The caller may clear the form as soon as this has returned what is kept.
function keepAtOnce(form) {
  const entry = entryOf(form);
  form.elements.key.value = newKey();
  put(entry).then(() => showUnsent(form)).then(() => sendUnsent(form), () => { fillAgain(form, entry); form.submit(); });
  return entry;
}

// Kept on the device first; the page goes on once the record answers, or says that it waits.
async function takeEntry(form, pressedButton) {
  const buttons = form.querySelectorAll("button:not([type])");
  const entry = entryOf(form, pressedButton);
  const free = (isFree) => buttons.forEach((button) => { button.disabled = !isFree; });
  free(false);
  faultsOf(form, []);
  pressed.set(entry.key, { later: NO_NETWORK });
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
  free(true);
  if (outcome.kept) { location.assign(outcome.kept.next); return; }
  if (outcome.faults) { await drop(entry.key); form.elements.key.value = newKey(); await showUnsent(form); faultsOf(form, outcome.faults); return; }
  const stays = (form.dataset.stays || "").split(" ").filter(Boolean).map((name) => [name, form.elements[name].value]);
  form.reset();
  stays.forEach(([name, value]) => { form.elements[name].value = value; });
  form.elements.key.value = newKey();
  sayUnsent(form, outcome.later);
  await showUnsent(form);
  document.querySelector("[data-unsent-list]").scrollIntoView({ block: "center" });
  again(form);
}

// Sends what waits, and says what went.
async function sendUnsent(form) {
  clearTimeout(unsentAgain);
  await draining;
  const outcomes = await drain(form);
  if (!outcomes.length) return;
  const later = outcomes.find((outcome) => outcome.later);
  const went = outcomes.filter((outcome) => outcome.kept);
  const told = [...went.map(({ kept, entry }) => kept.said || `Sent: ${entry.told}.`), later?.later];
  sayUnsent(form, told.filter(Boolean).join(" "));
  if (later) again(form);
  if (went.length) tellSent(went.map(({ kept, entry }) => ({ ...entry, answer: kept })));
}

function tellSent(entries) { document.dispatchEvent(new CustomEvent("unsent:sent", { detail: entries })); }

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
    await settle(entry, outcome);
    await showUnsent(form);
  }
  return outcomes;
}

async function settle(entry, outcome) {
  if (outcome.faults) { await put({ ...entry, refused: outcome.faults.join(" ") }); return; }
  await drop(entry.key);
  localStorage.setItem(TAKEN, String(Date.now()));
}

function again(form) {
  clearTimeout(unsentAgain);
  unsentAgain = setTimeout(() => sendUnsent(form), unsentPause_ms);
  unsentPause_ms = Math.min(2 * unsentPause_ms, 60000);
}

async function sendEntry(entry, form) {
  // Signing in again in another tab makes a new token: the cookie has it, this page's form does not.
  const token = document.cookie.match(/(?:^|;\s*)csrftoken=([^;]+)/)?.[1] || form.elements.csrfmiddlewaretoken.value;
  const body = new FormData();
  entry.fields.forEach(([name, value]) => body.append(name, value));
  body.append("waited_s", Math.round((Date.now() - entry.at) / 1000));
  try {
    return await outcomeOf(await fetch(entry.url, { method: "POST", body, headers: { "X-CSRFToken": token, Accept: "application/json" } }));
  } catch {
    return { later: NO_NETWORK };
  }
}

async function outcomeOf(answer) {
  if (answer.status === 404) return { faults: ["What it is on is no longer in the record."] };
  if (answer.status === 413) return { faults: ["The photograph is too large."] };
  const isJson = (answer.headers.get("Content-Type") || "").includes("json");
  if (isJson && answer.ok) return { kept: await answer.json() };
  if (isJson && answer.status === 422) return { faults: (await answer.json()).faults };
  return { later: answer.ok ? "Sign in again in another tab; what waits is kept here." : "The workshop's computer did not take it yet; what waits is kept here and sent again." };
}

// Once every script of the page listens.
document.addEventListener("DOMContentLoaded", () => {
  const forms = [...document.querySelectorAll("form[data-unsent]")];
  if (forms.length) startUnsent(forms);
});
