// The outline of a floor, entry by entry: rectangles, walls one after another or corners, cut-outs, joints, steps.
// What is typed lives in a hidden field as it was typed; the program reads and checks it when it is saved.

import { apart, areaOf, cornersOf, cornersOfRectangle, crossing, drawPlan, pointOf, SLACK_FT } from "./plan.js";
import { shownLength } from "./lengths.js";
import { ask, choose, plainButton } from "./entries.js";
import { wallsOf, wallRows } from "./walls.js";

const JOINT_KINDS = [["control", "control joint"], ["construction", "construction joint"], ["isolation", "isolation joint"], ["crack", "crack"]];
const form = document.getElementById("drawing");
const field = document.getElementById("shape");
const svg = document.getElementById("plan");
const note = document.getElementById("plan-note");
const metric = "metric" in form.dataset;
const outline = JSON.parse(field.value);
const ways = new Map(); // how each polygon is entered: { way, walls }
let chosen = null;

/** What is saved: the entries as typed, a polygon without a last corner that lies on its first. */
function plain() {
  const closed = (polygon) => {
    const points = polygon.corners.map((corner) => pointOf(corner, metric));
    const doubled = points.length > 3 && points[0] && points.at(-1) && apart(points[0], points.at(-1)) <= SLACK_FT;
    return { ...polygon, corners: doubled ? polygon.corners.slice(0, -1) : polygon.corners };
  };
  return JSON.stringify({ ...outline, polygons: outline.polygons.map(closed), cut_outs: outline.cut_outs.map(closed) });
}

function changed() {
  field.value = plain();
  draw();
}

/** After something was added or taken away: build anew, and let the form know. */
function rebuilt(focus) {
  build();
  changed();
  field.dispatchEvent(new Event("input", { bubbles: true }));
  if (focus) document.getElementById(focus)?.focus();
}

function draw() {
  drawPlan(svg, outline, { metric, chosen });
  document.querySelectorAll(".part").forEach((part) => part.classList.toggle("chosen", part.part === chosen));
  const isShape = chosen && ("corners" in chosen || "corner" in chosen);
  const [words, isOpen] = told(isShape ? chosen : (outline.polygons[0] ?? outline.rectangles[0]));
  note.textContent = words;
  note.classList.toggle("open", isOpen);
}

const areaText = (ft2) => (metric ? `${(ft2 * 0.09290304).toFixed(1)} m²` : `${Math.round(ft2)} ft²`);

/** What is to be said of a part, and whether something is still open. */
function told(part) {
  if (!part) return ["Add a rectangle, or enter the walls one after another.", false];
  if (!("corners" in part)) {
    const corners = cornersOfRectangle(part, metric);
    return corners ? [`${areaText(areaOf(corners))} in this rectangle.`, false] : ["Type both sides.", true];
  }
  const typed = part.corners.map((corner) => pointOf(corner, metric)).filter(Boolean);
  const points = cornersOf(part, metric);
  if (points.length < 3) return ["Enter at least two walls.", true];
  const crossed = crossing(points);
  if (crossed) return [`Walls ${crossed[0]} and ${crossed[1]} cross. Go around once, in order.`, true];
  const gap = apart(points[0], points.at(-1));
  const shortest = Math.min(...points.slice(1).map((point, index) => apart(point, points[index])));
  if (typed.length > points.length) return [`It closes: ${areaText(areaOf(points))}.`, false];
  if (gap < Math.min(1, shortest / 2)) return [`It does not close: the last wall ends ${shownLength(gap, metric)} beside corner 1. Measure again, or take the last wall away.`, true];
  return [`${areaText(areaOf(points))}. The wall from corner ${points.length} back to corner 1 comes out at ${shownLength(gap, metric)}: check it with the tape.`, false];
}

function partBox(part, title, ...inside) {
  const box = document.createElement("fieldset");
  box.className = "part";
  box.part = part;
  const legend = document.createElement("legend");
  legend.textContent = title;
  box.append(legend, ...inside);
  box.addEventListener("focusin", () => { if (chosen !== part) { chosen = part; draw(); } });
  return box;
}

function fields(...asks) {
  const row = document.createElement("div");
  row.className = "fields";
  row.append(...asks);
  return row;
}

/** Two entries for a place on the plan. */
const place = (words, point) => [0, 1].map((axis) => ask(`${words}${"xy"[axis]}`, point[axis], (text) => { point[axis] = text; changed(); }, { placeholder: "0" }));

function takeAway(list, part, what) {
  return plainButton(`Take ${what} away`, () => { list.splice(list.indexOf(part), 1); chosen = null; rebuilt(); });
}

function rectangleBox(rectangle, index) {
  const set = (key) => (text) => { rectangle[key] = text; changed(); };
  return partBox(rectangle, `Rectangle ${index + 1}`,
    fields(ask("Side along x", rectangle.x, set("x"), { placeholder: metric ? "7.5 m" : "24ft 6in", id: `rectangle-${index}` }),
      ask("Side along y", rectangle.y, set("y"), { placeholder: metric ? "6 m" : "18ft" }),
      ...place("Its corner lies at ", rectangle.corner)),
    takeAway(outline.rectangles, rectangle, "this rectangle"));
}

function polygonBox(polygon, list, index, called) {
  const state = ways.get(polygon) ?? wayOf(polygon);
  ways.set(polygon, state);
  const switchTo = plainButton(state.way === "walls" ? "Enter corners instead" : "Enter walls instead", () => {
    ways.set(polygon, { ...wayOf(polygon), way: state.way === "walls" ? "corners" : "walls" });
    chosen = polygon;
    rebuilt();
  });
  const rows = state.way === "walls"
    ? wallRows(polygon, state.walls, { metric, changed, rebuilt: (focus) => { chosen = polygon; rebuilt(focus); }, name: `${called}-${index}` })
    : cornerRows(polygon);
  return partBox(polygon, called === "walls" ? `Walls around part ${index + 1}` : `Cut-out ${index + 1}`, ...rows, switchTo,
    takeAway(list, polygon, called === "walls" ? "this part" : "this cut-out"));
}

/** Walls where they run at right angles, corners otherwise. */
function wayOf(polygon) {
  const points = polygon.corners.map((corner) => pointOf(corner, metric));
  const walls = points.includes(null) ? null : wallsOf(points, metric);
  return { way: walls?.every((wall) => wall.turn % 45 === 0) ? "walls" : "corners", walls: walls ?? [] };
}

function cornerRows(polygon) {
  const again = () => { chosen = polygon; rebuilt(); };
  const rows = polygon.corners.map((corner, index) => {
    const row = fields(...place(`Corner ${index + 1}: `, corner));
    row.classList.add("row");
    row.append(plainButton("One more before it", () => { polygon.corners.splice(index, 0, ["", ""]); again(); }));
    row.append(plainButton("Take it away", () => { polygon.corners.splice(index, 1); again(); }));
    return row;
  });
  return [...rows, plainButton("Add a corner", () => { polygon.corners.push(["", ""]); again(); }, "second")];
}

function jointBox(joint, index) {
  const set = (key) => (text) => { joint[key] = text; changed(); };
  return partBox(joint, `Joint ${index + 1}`,
    fields(choose("Kind", JOINT_KINDS, joint.kind, set("kind"), { id: `joint-${index}` }),
      choose("Does it move?", [["", "not known"], ["no", "no"], ["yes", "yes"]], joint.moving, set("moving")),
      ...place("From ", joint.start), ...place("To ", joint.end),
      ask("Width", joint.width, set("width"), { placeholder: metric ? "6 mm" : "1/4in" }),
      ask("Depth", joint.depth, set("depth"), { placeholder: metric ? "30 mm" : "1in" })),
    takeAway(outline.joints, joint, "this joint"));
}

function stepsBox(steps, index) {
  const set = (key) => (text) => { steps[key] = text; changed(); };
  return partBox(steps, `Flight ${index + 1}`,
    fields(ask("Number of steps", steps.count, set("count"), { inputmode: "numeric", id: `steps-${index}` }),
      ask("Width", steps.width, set("width"), { placeholder: metric ? "1.2 m" : "4ft" }),
      ask("Tread", steps.tread, set("tread"), { placeholder: metric ? "280 mm" : "11in" }),
      ask("Riser", steps.riser, set("riser"), { placeholder: metric ? "180 mm" : "7in" })),
    takeAway(outline.steps, steps, "these steps"));
}

function build() {
  document.getElementById("parts").replaceChildren(
    ...outline.rectangles.map(rectangleBox),
    ...outline.polygons.map((polygon, index) => polygonBox(polygon, outline.polygons, index, "walls")),
    ...outline.cut_outs.map((polygon, index) => polygonBox(polygon, outline.cut_outs, index, "cut-out")));
  document.getElementById("joints").replaceChildren(...outline.joints.map(jointBox));
  document.getElementById("steps").replaceChildren(...outline.steps.map(stepsBox));
}

const ADDED = {
  rectangle: () => [outline.rectangles, { was: null, corner: ["", ""], x: "", y: "" }, "rectangle"],
  walls: () => [outline.polygons, { was: null, corners: [["0", "0"]] }, "walls"],
  cut: () => [outline.cut_outs, { was: null, corners: [["0", "0"]] }, "cut-out"],
  joint: () => [outline.joints, { was: null, kind: "control", start: ["", ""], end: ["", ""], width: "", depth: "", moving: "" }, "joint"],
  steps: () => [outline.steps, { was: null, count: "", width: "", tread: "", riser: "" }, "steps"],
};

for (const [kind, make] of Object.entries(ADDED)) {
  document.getElementById(`add-${kind}`).addEventListener("click", () => {
    const [list, part, name] = make();
    list.push(part);
    if ("corners" in part) ways.set(part, { way: "walls", walls: [{ turn: 0, feet: null, text: "" }] });
    chosen = part;
    rebuilt(`${name}-${list.length - 1}`);
  });
}
for (const key of ["edge", "cove", "origin", "x_direction"]) {
  const entry = document.getElementById(key);
  entry.value = outline[key];
  entry.addEventListener("input", () => { outline[key] = entry.value; changed(); });
}
window.addEventListener("resize", draw);
build();
draw();
form.dataset.ready = "yes";
