"use strict";
// A form whose files are larger than the desk takes is not sent: the server would hang up unheard.
const MOST_BYTES_SENT = 512e6;

document.addEventListener("change", ({ target }) => {
  if (target.type !== "file" || target.closest("[data-send]")) return;
  const large = [...target.files].find((file) => file.size > MOST_BYTES_SENT);
  target.setCustomValidity(large ? `${large.name} is ${Math.round(large.size / 1e6)} MB large; the desk takes ${MOST_BYTES_SENT / 1e6} MB at most.` : "");
  target.reportValidity();
});
