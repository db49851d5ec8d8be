// The slab's plane: the matrix that takes the slab's unit square to four pixels, and back.

/** Solve the 8 equations of a homography by elimination. corners: [[u, v] x 4] of (0,0), (1,0), (1,1), (0,1). */
export function planeOf(corners) {
  const square = [[0, 0], [1, 0], [1, 1], [0, 1]];
  const rows = [];
  square.forEach(([x, y], index) => {
    const [u, v] = corners[index];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  });
  for (let column = 0; column < 8; column += 1) {
    let best = column;
    for (let row = column + 1; row < 8; row += 1) {
      if (Math.abs(rows[row][column]) > Math.abs(rows[best][column])) best = row;
    }
    if (Math.abs(rows[best][column]) < 1e-9) return null;
    [rows[column], rows[best]] = [rows[best], rows[column]];
    for (let row = 0; row < 8; row += 1) {
      if (row === column) continue;
      const factor = rows[row][column] / rows[column][column];
      for (let each = column; each < 9; each += 1) rows[row][each] -= factor * rows[column][each];
    }
  }
  return [...rows.map((row, index) => row[8] / row[index]), 1];
}

/** The pixel of a place on the unit square. */
export function pixelOf(h, x, y) {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/** Whether four corners go around one way without crossing. */
export function isConvex(corners) {
  let sign = 0;
  for (let index = 0; index < 4; index += 1) {
    const [ax, ay] = corners[index];
    const [bx, by] = corners[(index + 1) % 4];
    const [cx, cy] = corners[(index + 2) % 4];
    const turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx);
    if (turn === 0 || (sign && Math.sign(turn) !== sign)) return false;
    sign = Math.sign(turn);
  }
  return true;
}
