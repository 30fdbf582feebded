"use strict";
// A marker that walks along the points of the front, with what each of them would change.
const startWalk = () => {
  const told = document.getElementById("front-walk");
  const hold = document.querySelector(".front-walk[hidden]");
  if (!told || !hold) return;
  const points = JSON.parse(told.textContent);
  const figure = hold.closest("figure");
  const dots = figure.querySelectorAll(".front-dot");
  const step = hold.querySelector("input");
  if (dots.length !== points.length) return;
  const marker = document.createElementNS("http://www.w3.org/2000/svg", "circle");
  marker.setAttribute("r", "10");
  marker.setAttribute("class", "front-marker");
  dots[0].parentNode.append(marker);
  const show = () => {
    const point = points[step.value], dot = dots[step.value];
    marker.setAttribute("cx", dot.getAttribute("cx"));
    marker.setAttribute("cy", dot.getAttribute("cy"));
    step.setAttribute("aria-valuetext", point.said);
    hold.querySelector("[data-said]").textContent = point.said;
    const beside = hold.querySelector("[data-beside]");
    beside.href = point.href;
    beside.hidden = point.is_chosen;
  };
  dots.forEach((dot, place) => dot.addEventListener("click", () => { step.value = place; show(); }));
  step.addEventListener("input", show);
  hold.hidden = false;
  show();
};
document.addEventListener("htmx:load", startWalk);
document.addEventListener("DOMContentLoaded", startWalk);
