import { type Affine, applyTo } from "./affine.js";

/** An upright rectangle: `x`, `y` of its top left corner, `width` and `height` not negative. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The smallest box around all of these; `undefined` for none. */
export function boxAround(boxes: readonly Box[]): Box | undefined {
  if (boxes.length === 0) return undefined;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const box of boxes) {
    left = Math.min(left, box.x);
    top = Math.min(top, box.y);
    right = Math.max(right, box.x + box.width);
    bottom = Math.max(bottom, box.y + box.height);
  }
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** What two boxes share; `undefined` when they do not meet or only touch. */
export function boxOverlap(one: Box, other: Box): Box | undefined {
  const x = Math.max(one.x, other.x);
  const y = Math.max(one.y, other.y);
  const width = Math.min(one.x + one.width, other.x + other.width) - x;
  const height = Math.min(one.y + one.height, other.y + other.height) - y;
  return width > 0 && height > 0 ? { x, y, width, height } : undefined;
}

/** The upright box around a box that was mapped. */
export function mapBox(map: Affine, box: Box): Box {
  const corners = [
    { x: box.x, y: box.y },
    { x: box.x + box.width, y: box.y },
    { x: box.x, y: box.y + box.height },
    { x: box.x + box.width, y: box.y + box.height },
  ].map((corner) => applyTo(map, corner));
  const xs = corners.map((corner) => corner.x);
  const ys = corners.map((corner) => corner.y);
  const x = Math.min(...xs);
  const y = Math.min(...ys);
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}

/** Whether all of a box lies inside another, edges included. */
export function boxHolds({ x, y, width, height }: Box, box: Box): boolean {
  return box.x >= x && box.y >= y && box.x + box.width <= x + width && box.y + box.height <= y + height;
}

/** The box grown by a margin on all four sides. */
export function growBox(box: Box, margin: number): Box {
  return {
    x: box.x - margin,
    y: box.y - margin,
    width: box.width + 2 * margin,
    height: box.height + 2 * margin,
  };
}
