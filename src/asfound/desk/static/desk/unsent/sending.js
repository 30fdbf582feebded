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
  const look = () => showUnsent(forms[0]).then(() => sendUnsent(forms[0]));
  for (const form of forms.filter((one) => !isAtOnce(one))) form.addEventListener("submit", (event) => { event.preventDefault(); takeEntry(form, event.submitter); });
  window.addEventListener("online", () => sendUnsent(forms[0]));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
  // Another tab has sent something: it waits here no longer.
  window.addEventListener("storage", (event) => { if (event.key === TAKEN) showUnsent(forms[0]).then(() => tellSent([])); });
  await takeOverOld();
  await takeOverPressed((entry) => sendUnkept(forms[0], entry));
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
  return { key, url: form.action, page: location.href, user: form.dataset.user, at: lastAt, pressed_ms: pressedOnServer(), told: toldOf(form), fields: fields.map(([name, value]) => (name === "key" ? [name, key] : [name, value])) };
}

// When it is by the workshop's clock. Not told where this page cannot know it: it comes from the
// device, or the clock was set or stood still since it came.
function pressedOnServer() {
  const served = Number(document.querySelector("meta[name=served]")?.content) * 1000;
  const { type, transferSize } = performance.getEntriesByType("navigation")[0];
  const isFresh = document.body.dataset.fromDevice === undefined && type !== "back_forward" && transferSize > 0;
  const open_ms = performance.now();
  const isSteady = Math.abs(Date.now() - performance.timeOrigin - open_ms) < 5000;
  return served && isFresh && isSteady ? Math.round(served + open_ms) : "";
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
  holdPressed(entry);
  put(entry).then(() => { letGoOfPressed(entry.key); return showUnsent(form).then(() => sendUnsent(form)); }, () => sendUnkept(form, entry));
  return entry;
}

// The device's store has no room for it: it is sent from the page, and from the next one that opens.
async function sendUnkept(form, entry) {
  const outcome = await sendEntry(entry, form);
  if (outcome.later) {
    sayUnsent(form, `Waiting, ${entry.told}. This device has no room for more: leave the page open. ${outcome.later}`);
    setTimeout(() => sendUnkept(form, entry), unsentPause_ms);
    return;
  }
  if (outcome.faults) {
    if (isBegun(form)) { setTimeout(() => sendUnkept(form, entry), unsentPause_ms); return; } // told when its place is free
    fillAgain(form, entry);
  } else tellSent([{ ...entry, answer: outcome.kept }]);
  letGoOfPressed(entry.key);
  sayUnsent(form, outcome.faults ? `Refused, ${entry.told}. ${outcome.faults.join(" ")}` : outcome.kept.said || `Sent: ${entry.told}.`);
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
  const kept = (await all()).find((one) => one.key === entry.key);
  if (!kept) { location.reload(); return; } // another tab sent it
  if (kept.refused) { await drop(entry.key); form.elements.key.value = newKey(); await showUnsent(form); faultsOf(form, outcome.faults ?? [kept.refused]); return; }
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

// In the order in which it was entered. What the workshop's computer does not take holds back what
// was entered after it on the same page, which may rest on it, and nothing else.
async function drainNow(form) {
  const outcomes = [];
  const heldBack = new Set();
  const next = async () => (await all()).find((one) => one.user === form.dataset.user && !one.refused && !pagesOf(one).some((page) => heldBack.has(page)));
  for (let entry = await next(); entry; entry = await next()) {
    const outcome = await sendEntry(entry, form);
    if (pressed.has(entry.key)) pressed.set(entry.key, outcome);
    else outcomes.push({ ...outcome, entry });
    if (outcome.later && !outcome.tried) break;
    if (outcome.tried) pagesOf(entry).forEach((page) => heldBack.add(page));
    else unsentPause_ms = 2000;
    await settle(entry, outcome);
    await showUnsent(form);
  }
  return outcomes;
}

function pagesOf({ url, page }) { return [url, page || url].map((address) => address.split(/[?#]/)[0]); }

// Only what the record says it has leaves the device.
async function settle(entry, outcome) {
  if (outcome.kept) {
    await drop(entry.key);
    localStorage.setItem(TAKEN, String(Date.now()));
  } else await change({ ...entry, refused: outcome.faults?.join(" "), tried: outcome.tried });
}

function again(form) {
  navigator.storage?.persist?.(); // else a browser may clear away what waits when it wants room
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
  body.append("pressed_ms", entry.pressed_ms ?? "");
  const bytes = entry.fields.reduce((sum, [, value]) => sum + (value.size || 0), 0);
  // A network that is there and carries nothing would else hold all that waits.
  const signal = AbortSignal.timeout?.(30000 + bytes / 10);
  const headers = { "X-CSRFToken": token, "X-Entered-By": entry.user, Accept: "application/json" };
  try {
    return await outcomeOf(await fetch(entry.url, { method: "POST", body, headers, signal }));
  } catch {
    return { later: NO_NETWORK };
  }
}

// What is not the record's own word that it is kept, or why not, is no answer.
async function outcomeOf(answer) {
  const isJson = (answer.headers.get("Content-Type") || "").includes("json");
  const told = isJson ? await answer.json() : null;
  if (answer.ok && (told?.next || told?.said)) return { kept: told };
  if (answer.status === 422 && told?.faults?.length) return { faults: told.faults };
  if (answer.status === 404) return { faults: ["What it is on is no longer in the record."] };
  if (answer.status === 413) return { faults: ["It is too large for the way to the workshop's computer."] };
  if (answer.headers.has("X-Entered-By")) return { later: "Somebody else is signed in on this device now. What waits is kept here until you sign in again." };
  if (answer.ok) return { later: "Sign in again in another tab; what waits is kept here." };
  const why = answer.status === 507 ? "The disk of the workshop's computer is full" : `The workshop's computer did not take it yet (${answer.status})`;
  const tried = `${why}; it is kept here and sent again.`;
  return { later: tried, tried };
}

// Once every script of the page listens.
document.addEventListener("DOMContentLoaded", () => {
  const forms = [...document.querySelectorAll("form[data-unsent]")];
  if (forms.length) startUnsent(forms);
});
