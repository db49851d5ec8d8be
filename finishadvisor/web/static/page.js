// Forms: one tap sends one form, and what was typed outlives a reload, a step back, or a phone that fell asleep.

const SENT_FOR_MS = 15000; // then the same form may be sent again; the page carries it out once all the same
const KEPT = (form) => `entered ${location.pathname} ${new URL(form.action).pathname}`;
const SENT = "sent";
const OWN = ["token", "once"];
const CAME_BY = performance.getEntriesByType("navigation")[0]?.type; // navigate, reload, back_forward

/** The fields that were changed, by name; the version that they were thought out for goes with them. */
function changedFields(form) {
  const found = {};
  for (const field of form.elements) {
    if (!field.name || OWN.includes(field.name) || field.type === "file") continue;
    if (field.type === "radio") {
      if (field.checked && !field.defaultChecked) found[field.name] = field.value;
    } else if (field.type === "checkbox") {
      if (field.checked !== field.defaultChecked) found[field.name] = field.checked;
    } else if (field.tagName === "SELECT") {
      const first = [...field.options].find((option) => option.defaultSelected) ?? field.options[0];
      if (field.value !== first?.value) found[field.name] = field.value;
    } else if (field.name === "version" || (field.dataset.first ?? field.defaultValue) !== field.value) {
      found[field.name] = field.value;
    }
  }
  return Object.keys(found).some((name) => name !== "version") ? found : null;
}

function keep(form) {
  const found = changedFields(form);
  if (found) sessionStorage.setItem(KEPT(form), JSON.stringify(found));
  else sessionStorage.removeItem(KEPT(form));
}

function restore(form) {
  const found = JSON.parse(sessionStorage.getItem(KEPT(form)) ?? "null");
  if (!found) return;
  for (const field of form.elements) {
    if (!(field.name in found) || OWN.includes(field.name)) continue;
    if (field.type === "radio") field.checked = field.value === found[field.name];
    else if (field.type === "checkbox") field.checked = found[field.name];
    else field.value = found[field.name];
  }
  const note = document.createElement("p");
  note.className = "notice";
  note.setAttribute("role", "status");
  note.textContent = "What you entered before is back. It is not saved yet. ";
  const forget = document.createElement("button");
  forget.type = "button";
  forget.className = "plain";
  forget.textContent = "Drop it";
  forget.addEventListener("click", () => { sessionStorage.removeItem(KEPT(form)); location.reload(); });
  note.append(forget);
  form.prepend(note);
}

// Any page but one that says "not done" means that what was sent arrived: saved, or shown again by the page itself.
const sent = sessionStorage.getItem(SENT);
if (sent && document.querySelector("main[data-conflict]")) {
  const { version, ...entries } = JSON.parse(sessionStorage.getItem(sent) ?? "{}"); // thought over, it is for the newer job
  sessionStorage.setItem(sent, JSON.stringify(entries));
  document.querySelector("form[data-held]").addEventListener("submit", () => sessionStorage.setItem(SENT, sent));
} else if (sent && !document.querySelector("main[data-not-done]")) {
  sessionStorage.removeItem(sent);
}
sessionStorage.removeItem(SENT);

for (const form of document.querySelectorAll("form[data-kept]")) {
  for (const field of form.querySelectorAll("input[type=hidden]")) field.dataset.first = field.value;
  // A page that refused a form shows itself what was entered; what was changed on it since outlives its reload.
  if (form.dataset.kept === "refused" && CAME_BY !== "reload") sessionStorage.removeItem(KEPT(form));
  else restore(form);
  form.addEventListener("input", () => keep(form));
  form.addEventListener("change", () => keep(form));
}

function again(form) {
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("button[data-words]")) {
    button.textContent = button.dataset.words;
    button.removeAttribute("aria-disabled");
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  if (form.dataset.kept !== undefined) sessionStorage.setItem(SENT, KEPT(form));
  const button = event.submitter;
  if (button?.dataset.meanwhile) {
    button.dataset.words = button.textContent;
    button.textContent = button.dataset.meanwhile;
    button.setAttribute("aria-disabled", "true");
  }
  setTimeout(() => again(form), SENT_FOR_MS);
});

// "Saved." is said once, not again when the page is loaded anew or come back to.
if (CAME_BY !== "navigate") document.querySelector(".notice.saved")?.remove();

// A page that a browser kept and shows again is a new wish: its forms get new marks.
window.addEventListener("pageshow", (event) => {
  if (!event.persisted) return;
  for (const field of document.querySelectorAll("input[name=once]")) field.value = crypto.randomUUID?.() ?? String(Math.random());
  document.querySelectorAll("form[data-sent]").forEach(again);
});
