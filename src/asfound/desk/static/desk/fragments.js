"use strict";
// A fragment that could not be fetched says so and offers to try again.
document.addEventListener("htmx:responseError", (event) => tell(event.detail.target, "The answer could not be made."));
document.addEventListener("htmx:sendError", (event) => tell(event.detail.target, "The network did not answer."));

function tell(target, what) {
  if (!target || !target.classList.contains("waiting")) return;
  const again = document.createElement("a");
  again.href = window.location.href;
  again.textContent = "Load the page again";
  target.className = "notice notice-warn";
  target.replaceChildren(`${what} `, again, ".");
}
