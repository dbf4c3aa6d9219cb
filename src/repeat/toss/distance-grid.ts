import { isInside } from "../../motif/covered.js";
import type { Silhouette } from "../../motif/silhouette.js";

/**
 * The distance from every place near a silhouette to it, below 0 inside, on a grid in the silhouette's own units.
 * Read between its points it is good to a fraction of a step: enough to move motifs by, never to judge them.
 */
export interface DistanceGrid {
  readonly left: number;
  readonly top: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
  /** How far the grid goes beyond the silhouette. */
  readonly margin: number;
}

/** The squared distance from a point to a line, five numbers of `segments` from `at` on. */
function squaredTo(segments: Float64Array, at: number, x: number, y: number): number {
  const [x0, y0] = [segments[at] as number, segments[at + 1] as number];
  const dx = (segments[at + 2] as number) - x0;
  const dy = (segments[at + 3] as number) - y0;
  const length = dx * dx + dy * dy;
  let t = length === 0 ? 0 : ((x - x0) * dx + (y - y0) * dy) / length;
  t = Math.max(0, Math.min(1, t));
  const [px, py] = [x - x0 - t * dx, y - y0 - t * dy];
  return px * px + py * py;
}

/**
 * Measures a silhouette: each point takes over the nearest line from its neighbours, in two passes there and two back
 * (vector distance propagation: P.-E. Danielsson, "Euclidean distance mapping", 1980).
 */
export function measureDistances(
  { segments, fills }: Silhouette,
  margin: number,
  points: number,
): DistanceGrid {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < segments.length; k += 5) {
    const radius = segments[k + 4] as number;
    left = Math.min(left, (segments[k] as number) - radius, (segments[k + 2] as number) - radius);
    right = Math.max(right, (segments[k] as number) + radius, (segments[k + 2] as number) + radius);
    top = Math.min(top, (segments[k + 1] as number) - radius, (segments[k + 3] as number) - radius);
    bottom = Math.max(bottom, (segments[k + 1] as number) + radius, (segments[k + 3] as number) + radius);
  }
  const step = Math.max(right - left + 2 * margin, bottom - top + 2 * margin) / points;
  const columns = Math.ceil((right - left + 2 * margin) / step) + 1;
  const rows = Math.ceil((bottom - top + 2 * margin) / step) + 1;
  const [x0, y0] = [left - margin, top - margin];
  const nearest = new Int32Array(columns * rows).fill(-1);
  const values = new Float32Array(columns * rows).fill(Infinity);
  const offer = (cell: number, column: number, row: number, line: number) => {
    if (line < 0 || nearest[cell] === line) return;
    const apart =
      Math.sqrt(squaredTo(segments, line, x0 + column * step, y0 + row * step)) -
      (segments[line + 4] as number);
    if (apart < (values[cell] as number)) {
      values[cell] = apart;
      nearest[cell] = line;
    }
  };
  seedLines(segments, x0, y0, step, columns, rows, offer);
  const sweep = (row: number, columnsBackward: boolean, from: number) => {
    for (let k = 0; k < columns; k += 1) {
      const column = columnsBackward ? columns - 1 - k : k;
      const cell = row * columns + column;
      const beside = columnsBackward ? 1 : -1;
      if (k > 0) offer(cell, column, row, nearest[cell + beside] as number);
      if (row + from < 0 || row + from >= rows) continue;
      for (let side = -1; side <= 1; side += 1) {
        if (column + side < 0 || column + side >= columns) continue;
        offer(cell, column, row, nearest[cell + from * columns + side] as number);
      }
    }
  };
  for (let pass = 0; pass < 2; pass += 1) {
    for (let row = 0; row < rows; row += 1) for (const back of [false, true]) sweep(row, back, -1);
    for (let row = rows - 1; row >= 0; row -= 1) for (const back of [false, true]) sweep(row, back, 1);
  }
  for (let cell = 0; cell < values.length; cell += 1) {
    const x = x0 + (cell % columns) * step;
    const y = y0 + Math.floor(cell / columns) * step;
    if (x < left || x > right || y < top || y > bottom) continue;
    if (fills.some((fill) => isInside(fill, x, y))) values[cell] = -Math.abs(values[cell] as number);
  }
  return { left: x0, top: y0, step, columns, rows, values, margin };
}

function seedLines(
  segments: Float64Array,
  left: number,
  top: number,
  step: number,
  columns: number,
  rows: number,
  offer: (cell: number, column: number, row: number, line: number) => void,
): void {
  for (let line = 0; line < segments.length; line += 5) {
    const [x0, y0] = [segments[line] as number, segments[line + 1] as number];
    const [dx, dy] = [(segments[line + 2] as number) - x0, (segments[line + 3] as number) - y0];
    const pieces = Math.ceil(Math.sqrt(dx * dx + dy * dy) / step) + 1;
    for (let k = 0; k <= pieces; k += 1) {
      const column = Math.floor((x0 + (dx * k) / pieces - left) / step);
      const row = Math.floor((y0 + (dy * k) / pieces - top) / step);
      for (let corner = 0; corner < 4; corner += 1) {
        const [c, r] = [column + (corner % 2), row + (corner >> 1)];
        if (c >= 0 && r >= 0 && c < columns && r < rows) offer(r * columns + c, c, r, line);
      }
    }
  }
}

/** The distance at a place, in the grid's units; beyond the grid no more than it is, and at least the margin. */
export function distanceAt(grid: DistanceGrid, x: number, y: number): number {
  const { columns, rows, values } = grid;
  const gx = (x - grid.left) / grid.step;
  const gy = (y - grid.top) / grid.step;
  const column = Math.floor(gx);
  const row = Math.floor(gy);
  if (!(column >= 0 && row >= 0 && column < columns - 1 && row < rows - 1)) {
    const outX = gx < 0 ? -gx : Math.max(0, gx - columns + 1);
    const outY = gy < 0 ? -gy : Math.max(0, gy - rows + 1);
    return grid.margin + Math.sqrt(outX * outX + outY * outY) * grid.step;
  }
  const [fx, fy] = [gx - column, gy - row];
  const cell = row * columns + column;
  const above = (values[cell] as number) * (1 - fx) + (values[cell + 1] as number) * fx;
  const below = (values[cell + columns] as number) * (1 - fx) + (values[cell + columns + 1] as number) * fx;
  return above * (1 - fy) + below * fy;
}

/** The direction in which the distance grows, of length 1, or 0 and 0 where it has none. */
export function awayFrom(grid: DistanceGrid, x: number, y: number): readonly [number, number] {
  const half = grid.step / 2;
  const dx = distanceAt(grid, x + half, y) - distanceAt(grid, x - half, y);
  const dy = distanceAt(grid, x, y + half) - distanceAt(grid, x, y - half);
  const length = Math.sqrt(dx * dx + dy * dy);
  return length > 0 && Number.isFinite(length) ? [dx / length, dy / length] : [0, 0];
}
