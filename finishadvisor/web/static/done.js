// What is finished: the entries for a part are there when a part is chosen, the zones only of the task's own floor.

const form = document.getElementById("done-form");
const part = document.getElementById("done-part");

function fit() {
  const chosen = form.elements.how.value === "part";
  part.hidden = part.disabled = !chosen;
  const floor = form.elements.task.selectedOptions[0]?.dataset.floor;
  for (const zones of part.querySelectorAll("[data-floor]")) zones.hidden = zones.disabled = zones.dataset.floor !== floor;
}

form.addEventListener("change", fit);
window.addEventListener("pageshow", fit); // after the browser has put back what was chosen
fit();
