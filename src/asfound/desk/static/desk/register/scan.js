"use strict";
// Labels seen by the camera: read in the page itself, told by the record, written into the form.
const scanning = document.querySelector("[data-scan]");
const camera = document.querySelector("[data-camera]");

function startScanning() {
  camera.hidden = false;
  const live = navigator.mediaDevices && window.isSecureContext;
  camera.querySelector("video").hidden = true;
  camera.querySelector("[data-camera-start]").hidden = !live;
  camera.querySelector("[data-camera-start]").addEventListener("click", openCamera);
  camera.querySelector("[data-camera-file]").addEventListener("change", readPhotograph);
  if (scanning.elements.key) scanning.elements.key.value = newKey();
}

async function openCamera() {
  const video = camera.querySelector("video");
  try {
    video.srcObject = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
  } catch {
    tell("The camera did not open. Photograph the label, or type its tag.");
    return;
  }
  video.hidden = false;
  await video.play();
  tell("Hold a label into the picture.");
  requestAnimationFrame(() => look(video));
}

let lastLook = 0;
function look(video) {
  const now = performance.now();
  if (now - lastLook > 200 && video.readyState === video.HAVE_ENOUGH_DATA) {
    lastLook = now;
    seen(decode(video, video.videoWidth, video.videoHeight));
  }
  if (video.srcObject) requestAnimationFrame(() => look(video));
}

async function readPhotograph(event) {
  const [file] = event.target.files;
  event.target.value = "";
  if (!file) return;
  const picture = await createImageBitmap(file);
  const text = decode(picture, picture.width, picture.height);
  if (text) seen(text);
  else tell("No code was found in the photograph. Come nearer, or type the tag.");
}

// Large pictures are made smaller first: the code is found faster and as surely.
function decode(source, width, height) {
  const scale = Math.min(1, 1200 / Math.max(width, height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.drawImage(source, 0, 0, canvas.width, canvas.height);
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
  return window.jsQR(data, canvas.width, canvas.height)?.data ?? "";
}

let last = "";
async function seen(text) {
  if (!text || text === last) return;
  last = text;
  // A page that knows its labels itself takes them without the network.
  if (!scanning.dispatchEvent(new CustomEvent("label-read", { detail: text, cancelable: true }))) return;
  const answer = await fetch(`${camera.dataset.what}?tag=${encodeURIComponent(text)}`, { headers: { Accept: "application/json" } });
  if (!answer.ok) { tell("The record did not answer; scan it once more."); last = ""; return; }
  const told = await answer.json();
  if (!told.kind) { tell(`Nothing carries ${told.tag}.`); return; }
  const { tags, place } = scanning.elements;
  if (told.kind === "place" && place) {
    place.value = told.tag;
    tell(`They go into ${told.name}.`);
    navigator.vibrate?.(60);
    return;
  }
  const lines = tags.value.split(/\s+/).filter(Boolean);
  if (lines.includes(told.tag)) return;
  tags.value = [...lines, told.tag].join("\n");
  navigator.vibrate?.(60);
  tell(`${told.name}${told.place ? `, so far in ${told.place}` : ""}.`);
  const line = document.createElement("li");
  const link = document.createElement("a");
  link.className = "index-line";
  link.href = told.url;
  link.textContent = `${told.name} · ${told.car ?? ""}`;
  line.append(link);
  camera.querySelector("[data-camera-seen]").prepend(line);
}

function tell(words) { camera.querySelector("[data-camera-said]").textContent = words; }

if (scanning && camera) startScanning();
