"use strict";
// The device's own store of what is not sent yet; unlike the store for words it holds photographs.

const STORE = "unsent";

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
      const turn = store.transaction(STORE, mode, { durability: "strict" }); // kept means kept, whatever becomes of the battery
      const asked = act(turn.objectStore(STORE));
      turn.oncomplete = () => done(asked.result);
      turn.onabort = turn.onerror = () => fail(turn.error);
    });
  } finally {
    store.close();
  }
}

// Numbered in the order in which it was kept: the device's clock may be set meanwhile.
function put(entry) {
  return within("readwrite", (store) => {
    const asked = store.getAll();
    asked.onsuccess = () => store.put({ ...entry, n: entry.n ?? 1 + Math.max(0, ...asked.result.map((one) => one.n ?? 0)) });
    return asked;
  });
}

// What another tab has sent or dropped meanwhile stays gone.
function change(entry) {
  return within("readwrite", (store) => {
    const asked = store.getKey(entry.key);
    asked.onsuccess = () => { if (asked.result !== undefined) store.put(entry); };
    return asked;
  });
}

function drop(key) { return within("readwrite", (store) => store.delete(key)); }

async function all() { return (await within("readonly", (store) => store.getAll())).sort((a, b) => (a.n ?? 0) - (b.n ?? 0) || a.at - b.at); }

// The store answers in its own time, and the page may be closed before: what was just pressed stands
// in the store for words until then. A photograph does not go in there.
const PRESSED = "asfound.pressed:";

function holdPressed(entry) {
  try { localStorage.setItem(PRESSED + entry.key, JSON.stringify(entry)); } catch { /* no room for words: the store has it in a moment */ }
}

function letGoOfPressed(key) { localStorage.removeItem(PRESSED + key); }

async function takeOverPressed(otherwise) {
  const names = Object.keys(localStorage).filter((name) => name.startsWith(PRESSED));
  const held = names.map((name) => JSON.parse(localStorage.getItem(name))).filter(Boolean);
  for (const entry of held.sort((a, b) => a.at - b.at)) await put(entry).then(() => letGoOfPressed(entry.key), () => otherwise(entry));
}

// Film, polish and gaps once waited in stores of their own: what still waits there is taken over,
// once, for each bears its key.
async function takeOverOld() {
  for (const name of ["asfound.waiting", "asfound.observed.waiting"]) {
    const old = JSON.parse(localStorage.getItem(name) || "[]");
    for (const [i, entry] of old.entries()) await put(asNow(entry, i - old.length));
    localStorage.removeItem(name);
  }
}

function asNow({ url, user, fields, when, refused }, before) {
  const pairs = Array.isArray(fields) ? fields : Object.entries(fields).flatMap(([name, value]) => [].concat(value).map((one) => [name, one]));
  const where = decodeURIComponent(new URL(url).pathname.split("/").at(-2));
  const numbers = pairs.filter(([name, value]) => /_(um|mm)$/.test(name) && !/^[xy]_/.test(name) && value);
  const told = `${where}: ${numbers.map(([, value]) => value).join(", ")}`;
  return { key: pairs.find(([name]) => name === "key")[1], url, user, at: Date.parse(when) || Date.now() + before, told, fields: pairs, refused };
}
