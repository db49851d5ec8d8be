// The floor on the plan: its shape to scale, where a polygon crosses itself, how far it is from closing.

import { feetOf, shownLength } from "./lengths.js";

const SVG = "http://www.w3.org/2000/svg";
export const SLACK_FT = 0.02; // a quarter inch, as the program itself allows

export const apart = ([ax, ay], [bx, by]) => Math.hypot(bx - ax, by - ay);

/** A typed point in feet, or null; nothing typed is the origin. */
export function pointOf([x, y], metric) {
  const found = [x, y].map((text) => (String(text).trim() === "" ? 0 : feetOf(text, metric)));
  return found.includes(null) ? null : found;
}

/** The corners of a typed rectangle, or null while a side is missing. */
export function cornersOfRectangle(rectangle, metric) {
  const at = pointOf(rectangle.corner, metric);
  const [x, y] = [feetOf(rectangle.x, metric), feetOf(rectangle.y, metric)];
  if (!at || !x || !y || x < 0 || y < 0) return null;
  return [at, [at[0] + x, at[1]], [at[0] + x, at[1] + y], [at[0], at[1] + y]];
}

/** The corners of a typed polygon that can be read so far, without a last one that lies on the first. */
export function cornersOf(polygon, metric) {
  const points = polygon.corners.map((corner) => (corner.every((text) => String(text).trim()) ? pointOf(corner, metric) : null)).filter(Boolean);
  return points.length > 2 && apart(points[0], points.at(-1)) <= SLACK_FT ? points.slice(0, -1) : points;
}

export function areaOf(points) {
  return Math.abs(points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length];
    return sum + x * nextY - nextX * y;
  }, 0)) / 2;
}

const side = ([ax, ay], [bx, by], [px, py]) => Math.sign((bx - ax) * (py - ay) - (by - ay) * (px - ax));

/** The numbers of two walls that cross, or null. Wall n runs from corner n to the next. */
export function crossing(points) {
  for (let first = 0; first < points.length; first += 1) {
    for (let second = first + 2; second < points.length; second += 1) {
      if (first === 0 && second === points.length - 1) continue;
      const [a, b, c, d] = [points[first], points[first + 1], points[second], points[(second + 1) % points.length]];
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return [first + 1, second + 1];
    }
  }
  return null;
}

function add(parent, name, attributes, text) {
  const item = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) item.setAttribute(key, value);
  if (text !== undefined) item.textContent = text;
  parent.append(item);
  return item;
}

const path = (points, closed = true) => points.map(([x, y], index) => `${index ? "L" : "M"}${x.toFixed(3)} ${(-y).toFixed(3)}`).join(" ") + (closed ? " Z" : "");

/** Draw a typed outline. chosen: the polygon or rectangle whose corners and walls are lettered. */
export function drawPlan(svg, outline, { metric, chosen = null }) {
  const added = [...outline.rectangles.map((each) => [each, cornersOfRectangle(each, metric)]), ...outline.polygons.map((each) => [each, cornersOf(each, metric)])];
  const taken = outline.cut_outs.map((each) => [each, cornersOf(each, metric)]);
  const shapes = [...added, ...taken].filter(([, points]) => points && points.length);
  const joints = outline.joints.map((joint) => [joint, [pointOf(joint.start, metric), pointOf(joint.end, metric)]]).filter(([, ends]) => ends[0] && ends[1]);
  svg.replaceChildren();
  svg.toggleAttribute("hidden", shapes.length === 0);
  if (!shapes.length) return;
  const all = shapes.flatMap(([, points]) => points);
  const [lowX, highX, lowY, highY] = [0, 1].flatMap((axis) => [Math.min(...all.map((p) => p[axis])), Math.max(...all.map((p) => p[axis]))]);
  const wide = (svg.parentElement.getBoundingClientRect().width || 320) - 140;
  const high = (parseFloat(getComputedStyle(svg).maxHeight) || 350) - 60;
  const type = 13 * Math.max((highX - lowX) / wide, (highY - lowY) / high, 0.5 / wide); // 13 px on the screen
  const [beside, above] = [5.2 * type, 2.6 * type]; // room for the longest length beside a wall: 18' 10 1/2"
  svg.setAttribute("viewBox", [lowX - beside, -highY - above, highX - lowX + 2 * beside, highY - lowY + 2 * above].map((n) => n.toFixed(3)).join(" "));
  svg.setAttribute("font-size", type.toFixed(3));
  const whole = (list) => list.filter(([, points]) => points && points.length > 2);
  for (const [, points] of whole(added)) add(svg, "path", { d: path(points), class: "edge" }); // all edges first, then all
  for (const [, points] of whole(added)) add(svg, "path", { d: path(points), class: "floor" }); // floors: joined parts
  for (const [, points] of whole(taken)) add(svg, "path", { d: path(points), class: "hole" });
  for (const [joint, ends] of joints) add(svg, "path", { d: path(ends, false), class: joint.kind === "crack" ? "crack" : "joint" });
  const shown = shapes.find(([part]) => part === chosen) ?? (added.length === 1 && added[0][1] ? added[0] : null);
  if (shown) letter(svg, shown[1], type, metric, "corners" in shown[0]);
  add(svg, "circle", { cx: 0, cy: 0, r: type * 0.35, class: "origin" });
}

/** Write each wall's length beside it and each corner's number at it; the wall that is not typed is dashed. */
function letter(svg, points, type, metric, isPolygon) {
  if (points.length < 3) add(svg, "path", { d: path(points, false), class: "edge" });
  points.forEach((point, index) => {
    const next = points[(index + 1) % points.length];
    const long = apart(point, next);
    if (long < SLACK_FT || (points.length === 2 && index) || (!isPolygon && (index === 1 || index === 2))) return;
    const beside = across(point, next);
    const out = turnsLeft(points) ? 1 : -1;
    const [x, y] = [0, 1].map((axis) => (point[axis] + next[axis]) / 2 + out * beside[axis] * type * 0.95);
    const anchor = Math.abs(beside[0]) < 0.5 ? "middle" : out * beside[0] > 0 ? "start" : "end";
    const shift = anchor === "middle" ? 0 : (out * beside[0] > 0 ? -1 : 1) * type * 0.45;
    add(svg, "text", { x: x + shift, y: -y + type * 0.35, "text-anchor": anchor, class: "length" }, shownLength(long, metric));
  });
  if (!isPolygon) return;
  const inward = points.length > 2 ? (turnsLeft(points) ? -1 : 1) : 0;
  points.forEach((point, index) => {
    const before = points.at(index - 1);
    const next = points[(index + 1) % points.length];
    const [left, right] = [across(before, point), across(point, next)];
    const [x, y] = [0, 1].map((axis) => point[axis] + inward * (left[axis] + right[axis]) * type * 0.75);
    add(svg, "text", { x, y: -y + type * 0.35, "text-anchor": "middle", class: "corner" }, String(index + 1));
  });
}

/** The direction square to a wall, on the right of who walks it. */
function across(from, to) {
  const long = apart(from, to) || 1;
  return [(to[1] - from[1]) / long, -(to[0] - from[0]) / long];
}

function turnsLeft(points) {
  return points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length];
    return sum + x * nextY - nextX * y;
  }, 0) >= 0;
}

// On the floor's own page the plan is only looked at.
for (const svg of document.querySelectorAll("svg[data-outline]")) {
  drawPlan(svg, JSON.parse(svg.dataset.outline), { metric: "metric" in svg.dataset });
}
