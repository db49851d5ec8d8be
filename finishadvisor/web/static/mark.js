// Marking a photo by touch, mouse and keyboard. The marks live in a hidden field; the form saves them.

import { drawPhoto, drawPreview } from "./drawing.js";
import { feetOf } from "./lengths.js";

const HINTS = {
  corners: "Corner 1 is the floor plan's origin, 2 lies along the first side, then around. Drag a corner, or tap it and tap its place. Arrow keys move it.",
  cards: "Tap each gray card or white sheet on the slab. Cards tell how light the slab really is.",
  leave_out: "Tap around whatever is not slab. A new area begins with Add.",
  wet: "Tap around a patch that was wetted on purpose. A new area begins with Add.",
};
const CARD_KINDS = [[0.18, "gray card, 18 %"], [0.85, "white paper, 85 %"]];
const CORNER_NAMES = ["origin corner", "along the first side", "opposite corner", "along the second side"];

const root = document.getElementById("marking");
const field = document.getElementById("marks");
const stage = document.getElementById("stage");
const canvas = document.getElementById("photo");
const handles = document.getElementById("handles");
const preview = document.getElementById("preview");
const undoButton = document.getElementById("undo");
const note = document.getElementById("proposed");
const width = Number(root.dataset.width);
const height = Number(root.dataset.height);

const image = new Image();
const isBack = field.dataset.first !== field.value; // what was marked before a reload
let view = null;
let pixels = null;
let marks = withCorners(read(field.value));
let mode = "corners";
let held = null; // { kind, index, point } under the finger or the keyboard
let chosen = 0;
const past = [];
let isTouched = false;

function read(text) {
  try {
    return { corners: null, cards: [], leave_out: [], wet: [], ...JSON.parse(text) };
  } catch {
    return { corners: null, cards: [], leave_out: [], wet: [] };
  }
}

function withCorners(found) {
  const inset = (x, y) => [Math.round(width * x), Math.round(height * y)];
  return { ...found, corners: found.corners ?? [inset(0.15, 0.85), inset(0.85, 0.85), inset(0.75, 0.25), inset(0.25, 0.25)] };
}

function remember() {
  isTouched = true;
  past.push(JSON.stringify(marks));
  if (past.length > 100) past.shift();
  undoButton.disabled = false;
}

/** Every point of the mode at hand as { at, set, name }. */
function points() {
  if (mode === "corners") {
    return marks.corners.map((at, index) => ({ at, set: (to) => (marks.corners[index] = to), name: `Corner ${index + 1}, ${CORNER_NAMES[index]}` }));
  }
  if (mode === "cards") {
    return marks.cards.map((card, index) => ({ at: card.at, set: (to) => (card.at = to), name: `Card ${index + 1}` }));
  }
  return marks[mode].flatMap((area, areaIndex) =>
    area.map((at, index) => ({ at, set: (to) => (area[index] = to), name: `Area ${areaIndex + 1}, point ${index + 1}` })),
  );
}

const inside = ([x, y]) => [Math.min(width, Math.max(0, Math.round(x * 10) / 10)), Math.min(height, Math.max(0, Math.round(y * 10) / 10))];

function placeOf(event) {
  const box = canvas.getBoundingClientRect();
  return [((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height];
}

function draw() {
  if (!view) return;
  const list = points();
  drawPhoto(canvas, view, marks, held === null ? null : list[held]?.at);
  const fits = drawPreview(preview, pixels, marks.corners, width, sides());
  document.getElementById("preview-note").textContent = fits
    ? "Joints must run straight and square here. If not, move a corner."
    : "The corners cross. They must go around the slab once: 1, 2, 3, 4.";
  write(JSON.stringify({ ...marks, leave_out: whole(marks.leave_out), wet: whole(marks.wet) }));
  list.forEach((point, index) => {
    const handle = handles.children[index];
    if (!handle) return;
    const box = canvas.getBoundingClientRect();
    handle.style.left = `${(point.at[0] / width) * box.width}px`;
    handle.style.top = `${(point.at[1] / height) * box.height}px`;
  });
}

/** Put the marks into the form; once a hand has moved something, page.js keeps them for a reload. */
function write(text) {
  field.value = text;
  if (isTouched) field.dispatchEvent(new Event("input", { bubbles: true }));
}

const whole = (areas) => areas.filter((area) => area.length > 2);

function sides() {
  const found = ["first", "second"].map((id) => feetOf(document.getElementById(id).value, "metric" in root.dataset));
  return found[0] && found[1] ? found : null;
}

/** Make one button for each point of the mode at hand. */
function rebuild() {
  const list = points();
  handles.replaceChildren(
    ...list.map((point, index) => {
      const handle = document.createElement("button");
      handle.type = "button";
      handle.className = "handle";
      handle.setAttribute("aria-label", `${point.name}. Arrow keys move it.`);
      handle.addEventListener("pointerdown", (event) => hold(event, index));
      handle.addEventListener("keydown", (event) => nudge(event, index));
      handle.addEventListener("focus", () => { chosen = index; });
      handle.addEventListener("blur", () => { held = null; draw(); });
      return handle;
    }),
  );
  chosen = Math.min(chosen, Math.max(0, list.length - 1));
  document.getElementById("hint").textContent = HINTS[mode];
  document.getElementById("add").textContent = { corners: "Start over", cards: "Add a card", leave_out: "Add an area", wet: "Add an area" }[mode];
  document.getElementById("take").disabled = mode === "corners" || list.length === 0;
  listCards();
  draw();
}

function hold(event, index) {
  event.preventDefault();
  const handle = event.currentTarget;
  handle.focus();
  handle.setPointerCapture(event.pointerId);
  remember();
  held = index;
  chosen = index;
  handle.classList.add("held");
  const start = placeOf(event);
  const from = points()[index].at;
  const move = (moved) => {
    const now = placeOf(moved);
    points()[index].set(inside([from[0] + now[0] - start[0], from[1] + now[1] - start[1]]));
    draw();
  };
  const release = () => {
    handle.classList.remove("held");
    handle.removeEventListener("pointermove", move);
    held = null;
    draw();
  };
  handle.addEventListener("pointermove", move);
  handle.addEventListener("pointerup", release, { once: true });
  handle.addEventListener("pointercancel", release, { once: true });
  draw();
}

function nudge(event, index) {
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (event.key === "Delete" || event.key === "Backspace") {
    event.preventDefault();
    chosen = index;
    takeAway();
    return;
  }
  if (!step) return;
  event.preventDefault();
  const far = Math.max(1, Math.round(width / 1600)) * (event.shiftKey ? 20 : 2);
  if (!event.repeat) remember();
  const point = points()[index];
  point.set(inside([point.at[0] + step[0] * far, point.at[1] + step[1] * far]));
  held = index;
  draw();
}

/** A tap on the photo itself: put the chosen corner there, or add a point. */
function tap(event) {
  const at = inside(placeOf(event));
  remember();
  if (mode === "corners") {
    marks.corners[chosen] = at;
    draw();
    return;
  }
  addAt(at);
}

function addAt(at) {
  if (mode === "cards") {
    marks.cards.push({ at, reflectance: CARD_KINDS[0][0] });
    chosen = marks.cards.length - 1;
  } else {
    if (marks[mode].length === 0) marks[mode].push([]);
    marks[mode].at(-1).push(at);
    chosen = points().length - 1;
  }
  rebuild();
}

/** The Add button: a whole mark in the middle, for hands and keyboards that cannot tap the photo. */
function add() {
  remember();
  const [x, y] = [0, 1].map((axis) => marks.corners.reduce((sum, corner) => sum + corner[axis], 0) / 4);
  if (mode === "corners") {
    marks.corners = withCorners({}).corners;
    note.hidden = true;
  } else if (mode === "cards") {
    marks.cards.push({ at: inside([x, y]), reflectance: CARD_KINDS[0][0] });
    chosen = marks.cards.length - 1;
  } else {
    const reach = width / 14;
    marks[mode] = whole(marks[mode]);
    marks[mode].push([[x - reach, y + reach], [x + reach, y + reach], [x + reach, y - reach], [x - reach, y - reach]].map(inside));
    chosen = points().length - 4;
  }
  rebuild();
  handles.children[chosen]?.focus();
}

/** Take the chosen card or point away; an area of less than three points goes with its last. */
function takeAway() {
  if (mode === "corners" || points().length === 0) return;
  remember();
  if (mode === "cards") {
    marks.cards.splice(chosen, 1);
  } else {
    let left = chosen;
    for (const area of marks[mode]) {
      if (left < area.length) {
        area.splice(left, 1);
        break;
      }
      left -= area.length;
    }
    marks[mode] = marks[mode].filter((area) => area.length > 0);
  }
  rebuild();
  handles.children[chosen]?.focus();
}

/** Start on what was found in the photo, unless a hand was quicker; it says so, and undo takes it back. */
async function propose() {
  const answer = root.dataset.proposed && !isBack ? await fetch(root.dataset.proposed).catch(() => null) : null;
  const found = answer?.ok ? await answer.json() : null;
  if (found?.corners && past.length === 0) {
    remember();
    marks = { ...marks, corners: found.corners.map(inside), cards: found.cards };
    const cards = found.cards.length;
    const open = found.cards.some((card) => card.reflectance === null);
    const checked = cards ? `, and under Cards the ${cards === 1 ? "card" : `${cards} cards`}` : "";
    note.textContent = `Proposed from the photo: check each corner${checked}. ${open ? "Say below which kind each card is. " : ""}Undo takes it back.`;
    note.hidden = false;
    rebuild();
  }
  root.dataset.looked = "yes";
}

function undo() {
  if (!past.length) return;
  if (past.length === 1) note.hidden = true;
  marks = JSON.parse(past.pop());
  undoButton.disabled = past.length === 0;
  rebuild();
}

/** What each card is: its reflectance sets the slab's true level. */
function listCards() {
  document.getElementById("card-list").replaceChildren(
    ...marks.cards.map((card, index) => {
      const row = document.createElement("div");
      row.className = "ask";
      const label = document.createElement("label");
      label.textContent = `Card ${index + 1} is a`;
      label.htmlFor = `card-${index}`;
      const select = document.createElement("select");
      select.id = `card-${index}`;
      select.required = true;
      if (card.reflectance === null) select.add(new Option("which of the two?", "", true, true));
      const kinds = card.reflectance === null || CARD_KINDS.some(([value]) => value === card.reflectance) ? CARD_KINDS : [...CARD_KINDS, [card.reflectance, `sheet, ${Math.round(card.reflectance * 100)} %`]];
      kinds.forEach(([value, name]) => select.add(new Option(name, String(value), false, value === card.reflectance)));
      select.addEventListener("change", () => { remember(); card.reflectance = Number(select.value) || null; draw(); });
      row.append(label, select);
      return row;
    }),
  );
}

/** Fit the canvas to its column; twice the screen's pixels are enough. */
function fit() {
  const shown = stage.clientWidth;
  const ratio = Math.min(2, window.devicePixelRatio || 1);
  canvas.width = Math.round(shown * ratio);
  canvas.height = Math.round((canvas.width * height) / width);
  view = { image, scale: canvas.width / width, ratio, handle: 20 * ratio };
  draw();
}

image.addEventListener("load", () => {
  const small = document.createElement("canvas");
  small.width = Math.min(800, image.naturalWidth);
  small.height = Math.round((small.width * height) / width);
  const pen = small.getContext("2d", { willReadFrequently: true });
  pen.drawImage(image, 0, 0, small.width, small.height);
  pixels = pen.getImageData(0, 0, small.width, small.height);
  fit();
  rebuild();
  root.dataset.ready = "yes";
  propose();
});

canvas.addEventListener("click", tap);
document.getElementById("add").addEventListener("click", add);
document.getElementById("take").addEventListener("click", takeAway);
undoButton.addEventListener("click", undo);
document.querySelectorAll("input[name=mode]").forEach((radio) =>
  radio.addEventListener("change", () => { mode = radio.value; chosen = 0; held = null; rebuild(); }),
);
["first", "second"].forEach((id) => document.getElementById(id).addEventListener("input", draw));
window.addEventListener("resize", fit);
window.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key === "z" && event.target.tagName !== "INPUT") { event.preventDefault(); undo(); }
});
image.src = root.dataset.picture;
