// Entries of a form that a script builds: a label, and what is typed or chosen under it.

let count = 0;

function labeled(words, entry, id) {
  const box = document.createElement("div");
  box.className = "ask";
  const label = document.createElement("label");
  label.textContent = words;
  entry.id = id ?? `entry-${(count += 1)}`;
  label.htmlFor = entry.id;
  box.append(label, entry);
  return box;
}

/** A line to type in. */
export function ask(words, value, onInput, { placeholder = "", inputmode = "", id } = {}) {
  const entry = document.createElement("input");
  entry.value = value;
  entry.placeholder = placeholder;
  entry.autocomplete = "off";
  if (inputmode) entry.inputMode = inputmode;
  entry.addEventListener("input", () => onInput(entry.value));
  return labeled(words, entry, id);
}

/** A list to choose from: [value, words] each. */
export function choose(words, options, value, onChange, { id } = {}) {
  const entry = document.createElement("select");
  for (const [each, name] of options) entry.add(new Option(name, each, false, each === value));
  entry.addEventListener("change", () => onChange(entry.value));
  return labeled(words, entry, id);
}

export function plainButton(words, onClick, kind = "") {
  const button = document.createElement("button");
  button.type = "button";
  button.className = kind ? `button ${kind}` : "plain";
  button.textContent = words;
  button.addEventListener("click", onClick);
  return button;
}
