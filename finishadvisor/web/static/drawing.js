// Draws the photo with its marks, the magnifier beside the finger, and the squared-up preview.

import { isConvex, pixelOf, planeOf } from "./plane.js";

const INK = "#22262a";
const LIGHT = "#ffffff";
const LOUPE_PX = 120;
const LOUPE_TIMES = 3;

/** Stroke a path twice, so that it shows on dark and on light slabs. */
function strokeTwice(pen, width, dash = []) {
  pen.setLineDash([]);
  pen.strokeStyle = LIGHT;
  pen.lineWidth = width * 2.4;
  pen.stroke();
  pen.setLineDash(dash);
  pen.strokeStyle = INK;
  pen.lineWidth = width;
  pen.stroke();
  pen.setLineDash([]);
}

function trace(pen, points, closed) {
  pen.beginPath();
  points.forEach(([x, y], index) => (index ? pen.lineTo(x, y) : pen.moveTo(x, y)));
  if (closed) pen.closePath();
}

function drawPoint(pen, [x, y], label, size) {
  pen.beginPath();
  pen.arc(x, y, size * 0.55, 0, 2 * Math.PI);
  strokeTwice(pen, size * 0.12);
  pen.beginPath();
  pen.moveTo(x - size * 0.25, y);
  pen.lineTo(x + size * 0.25, y);
  pen.moveTo(x, y - size * 0.25);
  pen.lineTo(x, y + size * 0.25);
  strokeTwice(pen, size * 0.07);
  if (!label) return;
  pen.font = `600 ${size * 0.8}px sans-serif`;
  pen.textAlign = "center";
  pen.lineJoin = "round";
  pen.strokeStyle = LIGHT;
  pen.lineWidth = size * 0.25;
  pen.strokeText(label, x, y - size * 0.75);
  pen.fillStyle = INK;
  pen.fillText(label, x, y - size * 0.75);
}

/** The areas of a kind as paths: left out with a dense dash, wet with a loose one, so that gray print tells them apart. */
const DASHES = { leave_out: [6, 3], wet: [2, 5] };

/** Draw photo and marks. view: { image, scale, handle } with scale from photo pixels to canvas pixels. */
export function drawPhoto(canvas, view, marks, held) {
  const pen = canvas.getContext("2d");
  const toCanvas = ([x, y]) => [x * view.scale, y * view.scale];
  pen.drawImage(view.image, 0, 0, canvas.width, canvas.height);
  const size = view.handle;
  trace(pen, marks.corners.map(toCanvas), true);
  strokeTwice(pen, size * 0.07);
  for (const kind of ["leave_out", "wet"]) {
    marks[kind].forEach((area) => {
      trace(pen, area.map(toCanvas), area.length > 2);
      strokeTwice(pen, size * 0.09, DASHES[kind].map((length) => (length * size) / 20));
    });
  }
  marks.corners.forEach((corner, index) => drawPoint(pen, toCanvas(corner), String(index + 1), size));
  marks.cards.forEach((card, index) => drawPoint(pen, toCanvas(card.at), `card ${index + 1}`, size * 0.8));
  for (const kind of ["leave_out", "wet"]) {
    marks[kind].forEach((area) => area.forEach((point) => drawPoint(pen, toCanvas(point), "", size * 0.6)));
  }
  if (held) drawLoupe(pen, canvas, view, toCanvas(held));
}

/** The magnifier stands in the upper corner that the finger is not near. */
function drawLoupe(pen, canvas, view, [x, y]) {
  const side = LOUPE_PX * view.ratio;
  const left = x > canvas.width / 2 ? 0 : canvas.width - side;
  const top = y > canvas.height / 2 || side > canvas.height / 2 ? 0 : canvas.height - side;
  const reach = side / LOUPE_TIMES / view.scale; // photo pixels shown
  const toImage = view.image.naturalWidth / (canvas.width / view.scale);
  pen.save();
  pen.beginPath();
  pen.rect(left, top, side, side);
  pen.clip();
  pen.fillStyle = INK;
  pen.fillRect(left, top, side, side);
  const [px, py] = [x / view.scale, y / view.scale];
  pen.drawImage(
    view.image,
    (px - reach / 2) * toImage, (py - reach / 2) * toImage, reach * toImage, reach * toImage,
    left, top, side, side,
  );
  pen.beginPath();
  pen.moveTo(left + side / 2, top + side * 0.3);
  pen.lineTo(left + side / 2, top + side * 0.7);
  pen.moveTo(left + side * 0.3, top + side / 2);
  pen.lineTo(left + side * 0.7, top + side / 2);
  strokeTwice(pen, 1.5 * view.ratio);
  pen.restore();
  pen.beginPath();
  pen.rect(left, top, side, side);
  strokeTwice(pen, 2 * view.ratio);
}

/** Draw the slab squared up: what the measurement will see. sides: [first, second] in feet, or null. */
export function drawPreview(canvas, pixels, corners, photoWidth, sides) {
  const aspect = sides ? Math.min(4, Math.max(0.25, sides[1] / sides[0])) : 1;
  canvas.width = aspect > 1 ? Math.round(260 / aspect) : 260;
  canvas.height = Math.round(canvas.width * aspect);
  const pen = canvas.getContext("2d");
  const plane = isConvex(corners) ? planeOf(corners) : null;
  if (!plane) {
    pen.clearRect(0, 0, canvas.width, canvas.height);
    return false;
  }
  const out = pen.createImageData(canvas.width, canvas.height);
  const share = pixels.width / photoWidth;
  for (let row = 0; row < canvas.height; row += 1) {
    for (let column = 0; column < canvas.width; column += 1) {
      const [u, v] = pixelOf(plane, (column + 0.5) / canvas.width, 1 - (row + 0.5) / canvas.height);
      const x = Math.floor(u * share);
      const y = Math.floor(v * share);
      if (x < 0 || y < 0 || x >= pixels.width || y >= pixels.height) continue;
      const from = 4 * (y * pixels.width + x);
      const to = 4 * (row * canvas.width + column);
      for (let channel = 0; channel < 4; channel += 1) out.data[to + channel] = pixels.data[from + channel];
    }
  }
  pen.putImageData(out, 0, 0);
  return true;
}
