import { distanceAt } from "./distance-grid.js";
import type { Piece } from "./piece.js";
import { movesNear, type Space } from "./space.js";

/** The distance from every place of the space to the nearest piece, across all seams, on a grid. mm. */
export interface HoleMap {
  readonly space: Space;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  /** Rows above the space's upper limit, and as many below its lower one. */
  readonly above: number;
  /** Distances are told up to this. */
  readonly far: number;
  readonly values: Float32Array;
}

/** Measures how far every place is from all pieces, up to `most`; about `points` places, and as dense where motifs lean out. */
export function mapHoles(space: Space, pieces: readonly Piece[], most: number, points: number): HoleMap {
  const far = Math.fround(most); // as the values keep it: what is so far off is told by it
  const step = Math.sqrt((space.width * space.height) / points);
  const columns = Math.ceil(space.width / step);
  const above = Math.ceil(space.lean / step);
  const rows = Math.ceil(space.height / step) + 2 * above;
  const values = new Float32Array(columns * rows).fill(far);
  const edge = space.edges;
  if (edge !== undefined) {
    for (let cell = 0; cell < values.length; cell += 1) {
      const y = (Math.floor(cell / columns) + 0.5) * step;
      values[cell] = Math.min(far, y - edge.keep, space.height - edge.keep - y);
    }
  }
  const map = { space, step, columns, rows, above, far, values };
  for (const piece of pieces) addToMap(map, piece);
  return map;
}

/** Adds a piece to a map of holes. */
export function addToMap(map: HoleMap, piece: Piece): void {
  const { space, far } = map;
  const [middleX, middleY] = [space.width / 2, space.height / 2 + space.lean];
  const half = Math.sqrt(middleX * middleX + middleY * middleY);
  const reach = piece.radius + far;
  const moves = movesNear(space, piece.x - middleX, piece.y - space.height / 2, reach + half);
  for (let m = 0; m < moves.length; m += 2) {
    layDown(map, piece, piece.x + (moves[m] as number), piece.y + (moves[m + 1] as number), reach);
  }
}

function layDown(
  { values, columns, rows, above, step }: HoleMap,
  piece: Piece,
  px: number,
  py: number,
  reach: number,
): void {
  const area = piece.a * piece.d - piece.b * piece.c;
  const [a, b, c, d] = [piece.d / area, -piece.b / area, -piece.c / area, piece.a / area];
  const firstColumn = Math.max(0, Math.floor((px - reach) / step));
  const lastColumn = Math.min(columns - 1, Math.ceil((px + reach) / step));
  const firstRow = Math.max(0, Math.floor((py - reach) / step) + above);
  const lastRow = Math.min(rows - 1, Math.ceil((py + reach) / step) + above);
  for (let row = firstRow; row <= lastRow; row += 1) {
    const dy = (row - above + 0.5) * step - py;
    for (let column = firstColumn; column <= lastColumn; column += 1) {
      const dx = (column + 0.5) * step - px;
      const apart = distanceAt(piece.kind.distances, a * dx + c * dy, b * dx + d * dy) * piece.scale;
      const cell = row * columns + column;
      if (apart < (values[cell] as number)) values[cell] = apart;
    }
  }
}

/** The distance at any place of the endless cloth; beyond where motifs lean there is nothing. Asked a million times. */
export function holeAt(map: HoleMap, x: number, y: number): number {
  const { space, step, columns, rows, above, far, values } = map;
  const { width, height, u, v } = space;
  let [wx, wy] = [x, y];
  if (v === undefined || v[0] === 0) {
    const column = Math.floor(x / width);
    wx = x - column * u[0];
    wy = y - column * u[1];
    if (v !== undefined) wy -= Math.floor(wy / height) * height;
  } else {
    const row = Math.floor(y / height);
    wx = x - row * v[0];
    wy = y - row * v[1];
    wx -= Math.floor(wx / width) * width;
  }
  const row = Math.floor(wy / step) + above;
  if (row < 0 || row >= rows) return space.edges === undefined ? far : -far;
  const column = Math.min(columns - 1, Math.max(0, Math.floor(wx / step)));
  return values[row * columns + column] as number;
}

/** Places that are farther from all pieces than those around them, the widest first. */
export function listHoles(
  map: HoleMap,
  most: number,
): readonly { readonly x: number; readonly y: number; readonly apart: number }[] {
  const { space, columns, rows, above, step, values } = map;
  const [first, last] = [above, rows - 1 - above];
  const found: { x: number; y: number; apart: number }[] = [];
  for (let cell = first * columns; cell < (last + 1) * columns; cell += 1) {
    const apart = values[cell] as number;
    if (apart <= 0) continue;
    const column = cell % columns;
    const row = Math.floor(cell / columns);
    // Inside of the map its own neighbours tell; at its rim those across the seam.
    const isRim = column === 0 || row === first || column === columns - 1 || row === last;
    const [x, y] = [(column + 0.5) * step, (row - above + 0.5) * step];
    const near = (across: number, down: number): number =>
      isRim
        ? space.v === undefined && (row + down < first || row + down > last)
          ? 0
          : holeAt(map, x + across * step, y + down * step)
        : (values[cell + down * columns + across] as number);
    const isTop = near(-1, 0) <= apart && near(1, 0) < apart && near(0, -1) <= apart && near(0, 1) < apart;
    if (isTop || apart === map.far) found.push({ x, y, apart });
  }
  return found.sort((one, other) => other.apart - one.apart).slice(0, most);
}
