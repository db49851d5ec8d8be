// A polygon as a person walks it: from corner 1 wall after wall, each with its turn and its length.

import { feetOf, lengthText } from "./lengths.js";
import { apart, pointOf } from "./plan.js";
import { ask, choose, plainButton } from "./entries.js";

const HEADINGS = [["0", "along x"], ["90", "along y"], ["180", "against x"], ["-90", "against y"], ["other", "another way"]];
const TURNS = [["90", "left"], ["-90", "right"], ["0", "straight on"], ["45", "half left"], ["-45", "half right"], ["other", "another angle"]];

const within = (degrees) => ((((degrees + 180) % 360) + 360) % 360) - 180 || 0;
const rounded = (degrees) => (Math.abs(degrees - Math.round(degrees)) < 1e-4 ? Math.round(degrees) : degrees);

/** The walls between corners; the one back to corner 1 is not among them. turn: degrees to the left, first against x. */
export function wallsOf(points, metric) {
  let heading = 0;
  const walls = points.slice(1).map((point, index) => {
    const [x, y] = [0, 1].map((axis) => point[axis] - points[index][axis]);
    const now = (Math.atan2(y, x) * 180) / Math.PI;
    const turn = rounded(within(now - heading));
    heading = now;
    const feet = apart(point, points[index]);
    return { turn: turn === -180 ? 180 : turn, feet, text: lengthText(feet, metric) };
  });
  return walls.length ? walls : [{ turn: 0, feet: null, text: "" }];
}

/** The corners that walls lead to, as far as their lengths are known. */
export function pointsOf(start, walls) {
  const points = [start];
  let heading = 0;
  for (const wall of walls) {
    if (!wall.feet || wall.feet < 0) break;
    heading += wall.turn;
    const along = [Math.cos((heading * Math.PI) / 180), Math.sin((heading * Math.PI) / 180)];
    points.push([0, 1].map((axis) => points.at(-1)[axis] + wall.feet * along[axis]));
  }
  return points;
}

/** Entries for the walls of a polygon. on: { metric, changed, rebuilt, name }. */
export function wallRows(polygon, walls, on) {
  const reckon = (from) => {
    const first = polygon.corners[0];
    const points = pointsOf(pointOf(first, on.metric) ?? [0, 0], walls);
    polygon.corners = points.map((point, index) => (index === 0 ? first : index < from ? polygon.corners[index] : point.map((each) => lengthText(each, on.metric))));
    on.changed();
  };
  const again = (from, focus) => { reckon(from); on.rebuilt(focus); };
  const start = [0, 1].map((axis) => ask(`Corner 1 lies at ${"xy"[axis]}`, polygon.corners[0][axis], (text) => { polygon.corners[0][axis] = text; reckon(1); }, { placeholder: "0" }));
  const rows = walls.map((wall, index) => {
    const row = document.createElement("div");
    row.className = "fields row";
    const options = index ? TURNS : HEADINGS;
    const named = options.some(([value]) => value === String(wall.turn)) && !wall.other ? String(wall.turn) : "other";
    row.append(
      choose(index ? `Then turn` : "Wall 1 runs", options, named, (value) => {
        wall.other = value === "other";
        if (!wall.other) wall.turn = Number(value);
        again(index + 1, `${on.name}-turn-${index}`);
      }, { id: `${on.name}-turn-${index}` }),
      ask(`Wall ${index + 1}`, wall.text, (text) => { wall.text = text; wall.feet = feetOf(text, on.metric); reckon(index + 1); },
        { placeholder: on.metric ? "7.5 m" : "24ft 6in", id: index ? `${on.name}-wall-${index}` : on.name }));
    if (named === "other") {
      row.append(ask("Degrees to the left", String(Number(wall.turn.toFixed(3))), (text) => { if (text.trim() && !Number.isNaN(Number(text))) { wall.turn = Number(text); reckon(index + 1); } }));
    }
    if (index < walls.length - 1) {
      row.append(plainButton("Take this wall away", () => { walls.splice(index, 1); again(index + 1); }));
    }
    return row;
  });
  const tools = document.createElement("div");
  tools.className = "part-tools";
  const add = plainButton("Add a wall", () => {
    walls.push({ turn: 90, feet: null, text: "" });
    again(walls.length, `${on.name}-wall-${walls.length - 1}`);
  }, "second");
  const take = plainButton("Take the last away", () => { walls.pop(); again(walls.length + 1); }, "second");
  take.disabled = walls.length < 2;
  tools.append(add, take);
  const head = document.createElement("div");
  head.className = "fields";
  head.append(...start);
  return [head, ...rows, tools];
}

