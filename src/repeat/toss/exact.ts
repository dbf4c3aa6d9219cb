import { isInside } from "../../motif/covered.js";
import type { Contact } from "./contact.js";
import { distanceAt } from "./distance-grid.js";
import type { Piece } from "./piece.js";

/** The lines of a piece in mm of the space, five numbers each, and boxes around runs of them, four numbers each. */
export interface PlacedLines {
  readonly lines: Float64Array;
  readonly boxes: Float64Array;
}

const NUMBERS = 5;
/** Lines in one box: neighbours in the drawing, so near each other. */
const IN_A_BOX = 8;

/** Places the lines of a piece: x0, y0, x1, y1, how far around; and the boxes left, top, right, bottom. */
export function placeLines(piece: Piece): PlacedLines {
  const { segments } = piece.kind.silhouette;
  const count = segments.length / NUMBERS;
  const lines = new Float64Array(segments.length);
  const boxes = new Float64Array(4 * Math.ceil(count / IN_A_BOX));
  const { a, b, c, d, x, y, scale } = piece;
  for (let from = 0, box = 0; from < count; from += IN_A_BOX, box += 4) {
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    const to = Math.min(count, from + IN_A_BOX) * NUMBERS;
    for (let k = from * NUMBERS; k < to; k += NUMBERS) {
      const radius = (segments[k + 4] as number) * scale;
      lines[k + 4] = radius;
      for (let end = k; end < k + 4; end += 2) {
        const [sx, sy] = [segments[end] as number, segments[end + 1] as number];
        const px = a * sx + c * sy + x;
        const py = b * sx + d * sy + y;
        lines[end] = px;
        lines[end + 1] = py;
        if (px - radius < left) left = px - radius;
        if (px + radius > right) right = px + radius;
        if (py - radius < top) top = py - radius;
        if (py + radius > bottom) bottom = py + radius;
      }
    }
    boxes[box] = left;
    boxes[box + 1] = top;
    boxes[box + 2] = right;
    boxes[box + 3] = bottom;
  }
  return { lines, boxes };
}

/** The lowest and highest level that the lines of a piece reach. */
export function levelsOf({ boxes }: PlacedLines): readonly [number, number] {
  let [top, bottom] = [Infinity, -Infinity];
  for (let k = 0; k < boxes.length; k += 4) {
    top = Math.min(top, boxes[k + 1] as number);
    bottom = Math.max(bottom, boxes[k + 3] as number);
  }
  return [top, bottom];
}

/** The nearest place found so far: of two points their squared distance, the one's, and the way from the other to it. */
interface Nearest {
  squared: number;
  x: number;
  y: number;
  nx: number;
  ny: number;
}

/** From a point to a line; `sign` is 1 where the point is the one piece's, -1 where the line is. */
function toLine(
  px: number,
  py: number,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  sign: number,
  best: Nearest,
): void {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const length = dx * dx + dy * dy;
  let t = length === 0 ? 0 : ((px - x0) * dx + (py - y0) * dy) / length;
  t = Math.max(0, Math.min(1, t));
  const qx = x0 + t * dx;
  const qy = y0 + t * dy;
  const nx = px - qx;
  const ny = py - qy;
  const squared = nx * nx + ny * ny;
  if (squared >= best.squared) return;
  best.squared = squared;
  best.x = sign > 0 ? px : qx;
  best.y = sign > 0 ? py : qy;
  best.nx = nx * sign;
  best.ny = ny * sign;
}

/** The distance from a point to the nearest line, less what is painted around it. */
export function toLines({ lines }: PlacedLines, x: number, y: number): number {
  let least = Infinity;
  const best: Nearest = { squared: Infinity, x: 0, y: 0, nx: 0, ny: 0 };
  for (let k = 0; k < lines.length; k += NUMBERS) {
    best.squared = Infinity;
    const [x0, y0] = [lines[k] as number, lines[k + 1] as number];
    toLine(x, y, x0, y0, lines[k + 2] as number, lines[k + 3] as number, 1, best);
    least = Math.min(least, Math.sqrt(best.squared) - (lines[k + 4] as number));
  }
  return least;
}

/** Twice the area of a triangle: its sign tells on which side of the first two points the third lies. */
const side = (px: number, py: number, qx: number, qy: number, x: number, y: number): number =>
  (qx - px) * (y - py) - (qy - py) * (x - px);

/** Pairs of boxes nearer than `below`, the nearest first: squared distance, then the two boxes. */
function nearBoxes(
  ones: Float64Array,
  others: Float64Array,
  mx: number,
  my: number,
  below: number,
): readonly (readonly [number, number, number])[] {
  const near: (readonly [number, number, number])[] = [];
  for (let k = 0; k < ones.length; k += 4) {
    const left = (ones[k] as number) - mx;
    const top = (ones[k + 1] as number) - my;
    const right = (ones[k + 2] as number) - mx;
    const bottom = (ones[k + 3] as number) - my;
    for (let m = 0; m < others.length; m += 4) {
      const dx = Math.max((others[m] as number) - right, left - (others[m + 2] as number), 0);
      if (dx >= below) continue;
      const dy = Math.max((others[m + 1] as number) - bottom, top - (others[m + 3] as number), 0);
      const squared = dx * dx + dy * dy;
      if (squared < below * below) near.push([squared, k / 4, m / 4]);
    }
  }
  return near.sort((one, other) => one[0] - other[0]);
}

/**
 * Where two silhouettes are nearest, line by line, if nearer than `below` mm; the other one moved by (mx, my). 0 where
 * they cross or one lies inside of the other.
 */
export function exactContact(
  one: Piece,
  ones: PlacedLines,
  other: Piece,
  others: PlacedLines,
  mx: number,
  my: number,
  below: number,
): Contact | undefined {
  const dx = one.x - other.x - mx;
  const dy = one.y - other.y - my;
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length > one.radius + other.radius + below) return undefined;
  const [awayX, awayY] = length === 0 ? [1, 0] : [dx / length, dy / length];
  if (isWithin(one, other, mx, my) || isWithin(other, one, -mx, -my)) {
    return { apart: 0, x: one.x, y: one.y, nx: awayX, ny: awayY };
  }
  let found: Contact | undefined;
  let least = below;
  const best: Nearest = { squared: 0, x: 0, y: 0, nx: 0, ny: 0 };
  const [a, b] = [ones.lines, others.lines];
  for (const [squared, boxA, boxB] of nearBoxes(ones.boxes, others.boxes, mx, my, below)) {
    if (squared >= least * least) break;
    const endA = Math.min(a.length, (boxA + 1) * IN_A_BOX * NUMBERS);
    const endB = Math.min(b.length, (boxB + 1) * IN_A_BOX * NUMBERS);
    for (let k = boxA * IN_A_BOX * NUMBERS; k < endA; k += NUMBERS) {
      const x0 = a[k] as number;
      const y0 = a[k + 1] as number;
      const x1 = a[k + 2] as number;
      const y1 = a[k + 3] as number;
      for (let m = boxB * IN_A_BOX * NUMBERS; m < endB; m += NUMBERS) {
        const u0 = (b[m] as number) + mx;
        const v0 = (b[m + 1] as number) + my;
        const u1 = (b[m + 2] as number) + mx;
        const v1 = (b[m + 3] as number) + my;
        const around = (a[k + 4] as number) + (b[m + 4] as number);
        if (
          side(x0, y0, x1, y1, u0, v0) * side(x0, y0, x1, y1, u1, v1) < 0 &&
          side(u0, v0, u1, v1, x0, y0) * side(u0, v0, u1, v1, x1, y1) < 0
        ) {
          return { apart: 0, x: x0, y: y0, nx: awayX, ny: awayY };
        }
        const limit = (least + around) * (least + around);
        best.squared = limit;
        toLine(x0, y0, u0, v0, u1, v1, 1, best);
        toLine(x1, y1, u0, v0, u1, v1, 1, best);
        toLine(u0, v0, x0, y0, x1, y1, -1, best);
        toLine(u1, v1, x0, y0, x1, y1, -1, best);
        if (best.squared >= limit) continue;
        const distance = Math.sqrt(best.squared);
        least = Math.max(0, distance - around);
        const [nx, ny] = distance === 0 ? [awayX, awayY] : [best.nx / distance, best.ny / distance];
        found = { apart: least, x: best.x, y: best.y, nx, ny };
        if (least === 0) return found;
      }
    }
  }
  return found;
}

/** Whether a part of the one piece begins inside of the other, moved by (mx, my). */
function isWithin(one: Piece, other: Piece, mx: number, my: number): boolean {
  const { marks } = one.kind.silhouette;
  const { distances, silhouette } = other.kind;
  const area = other.a * other.d - other.b * other.c;
  for (let k = 0; k < marks.length; k += 2) {
    const [sx, sy] = [marks[k] as number, marks[k + 1] as number];
    const x = one.a * sx + one.c * sy + one.x - other.x - mx;
    const y = one.b * sx + one.d * sy + one.y - other.y - my;
    if (x * x + y * y > other.radius * other.radius) continue;
    const ux = (other.d * x - other.c * y) / area;
    const uy = (other.a * y - other.b * x) / area;
    // The grid is good to a step: only near or below 0 the point may lie inside.
    if (distanceAt(distances, ux, uy) > 2 * distances.step) continue;
    if (silhouette.fills.some((fill) => isInside(fill, ux, uy))) return true;
  }
  return false;
}
