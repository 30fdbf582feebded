"use strict";
// Photographs sent in small batches: progress is seen, what failed is named, the rest goes again.
const form = document.querySelector("[data-send]");
const BATCH_FILES = 4;
const BATCH_BYTES = 30e6;
let waiting = [];
let sent = 0;
let all = 0;
let elsewhere = 0;
let subject = "";

if (form) {
  form.addEventListener("submit", begin);
  part("again").addEventListener("click", () => sendAll());
  addEventListener("beforeunload", (event) => { if (form.dataset.busy) event.preventDefault(); });
}

function part(name) { return form.querySelector(`[data-${name}]`); }

function begin(event) {
  const files = [...form.elements.sent.files, ...form.elements.camera.files];
  if (!files.length) return;
  event.preventDefault();
  const order = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });
  files.sort((a, b) => order.compare(a.name, b.name));
  const most = Number(form.dataset.mostBytes);
  for (const file of files.filter((f) => f.size > most)) fault(file.name, `It is ${Math.round(file.size / 1e6)} MB; a photograph may be ${most / 1e6} MB large. Export it as JPEG at full size.`);
  waiting = files.filter((f) => f.size <= most);
  [sent, elsewhere, all, subject] = [0, 0, waiting.length, form.elements.subject.value];
  part("sending").hidden = false;
  sendAll();
}

async function sendAll() {
  form.dataset.busy = "1";
  form.querySelector("button").disabled = true;
  part("again").hidden = true;
  part("done").hidden = true;
  let broken = "";
  while (waiting.length && !broken) {
    const batch = nextBatch();
    tell(`${sent} of ${all} are kept; sending ${batch.map((f) => f.name).join(", ")} …`);
    broken = await send(batch);
    if (!broken) waiting.splice(0, batch.length);
  }
  delete form.dataset.busy;
  form.querySelector("button").disabled = false;
  part("again").hidden = !broken;
  part("done").hidden = !sent;
  tell(broken ? `${sent} of ${all} are kept, ${waiting.length} wait here. ${broken}` : `${sent} of ${all} are kept.${elsewhere ? ` ${elsewhere} of them the record had already; they stay sorted as they were.` : ""}`);
  if (!broken) { form.elements.sent.value = ""; form.elements.camera.value = ""; }
}

function nextBatch() {
  const batch = [];
  let bytes = 0;
  for (const file of waiting.slice(0, BATCH_FILES)) {
    if (batch.length && bytes + file.size > BATCH_BYTES) break;
    batch.push(file);
    bytes += file.size;
  }
  return batch;
}

// What stands in the way is given back in words; nothing does where they were answered for.
async function send(batch) {
  const body = new FormData();
  for (const name of ["csrfmiddlewaretoken", "view", "stage"]) body.append(name, form.elements[name].value);
  body.append("subject", subject);
  if (form.elements.by_labels.checked) body.append("by_labels", "on");
  for (const file of batch) body.append("sent", file, file.name);
  let answer;
  try {
    answer = await fetch(location.pathname, { method: "POST", body, headers: { Accept: "application/json" } });
  } catch {
    return "The network did not answer.";
  }
  if (answer.status === 507) return "The disk of the workshop's computer is full. Tell the head of the workshop; when there is room again, send the rest.";
  if (answer.status === 422) return (await answer.json()).refused.join(" ");
  if (!answer.ok || answer.redirected) return `The desk did not take them (${answer.redirected ? "sign in again" : answer.status}).`;
  const told = await answer.json();
  subject = told.subject;
  sent += told.kept.length;
  elsewhere += told.elsewhere_n;
  told.kept.forEach(kept);
  told.faults.forEach((one) => fault(one.file, one.told));
  part("progress").value = (all - waiting.length + batch.length) / all;
  return "";
}

function tell(words) { part("said").textContent = words; }

function fault(name, words) {
  const line = document.createElement("li");
  const strong = document.createElement("b");
  strong.textContent = name;
  line.append(strong, `: ${words}`);
  part("faults").append(line);
}

function kept(one) {
  const line = document.createElement("li");
  const link = document.createElement("a");
  const hold = document.createElement("span");
  const picture = document.createElement("img");
  const words = document.createElement("span");
  link.href = one.page;
  hold.className = "picture";
  picture.src = one.small;
  picture.alt = "";
  picture.loading = "lazy";
  words.className = "thumb-words";
  words.textContent = one.told;
  hold.append(picture);
  link.append(hold, words);
  line.append(link);
  part("kept").prepend(line);
}
