import type { Box } from "./box.js";
import { type CubicPath, countCubics } from "./cubic-path.js";

/**
 * The tight box around a path's curves (not around its control points); `undefined` for a path without points.
 * Its width or height is 0 for an upright or level line.
 */
export function pathBounds(path: CubicPath): Box | undefined {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const subpath of path.subpaths) {
    const { points } = subpath;
    const at = (index: number): number => points[index] ?? Number.NaN;
    left = Math.min(left, at(0));
    right = Math.max(right, at(0));
    top = Math.min(top, at(1));
    bottom = Math.max(bottom, at(1));
    for (let k = 0, last = countCubics(subpath); k < last; k += 1) {
      const o = 6 * k;
      const [lowX, highX] = cubicRange(at(o), at(o + 2), at(o + 4), at(o + 6));
      const [lowY, highY] = cubicRange(at(o + 1), at(o + 3), at(o + 5), at(o + 7));
      left = Math.min(left, lowX);
      right = Math.max(right, highX);
      top = Math.min(top, lowY);
      bottom = Math.max(bottom, highY);
    }
  }
  return left <= right ? { x: left, y: top, width: right - left, height: bottom - top } : undefined;
}

/** The smallest and largest value of one coordinate of a cubic, from the roots of its derivative. */
export function cubicRange(p0: number, p1: number, p2: number, p3: number): readonly [number, number] {
  let low = Math.min(p0, p3);
  let high = Math.max(p0, p3);
  if (p1 >= low && p1 <= high && p2 >= low && p2 <= high) return [low, high];
  for (const t of turningPoints(p0, p1, p2, p3)) {
    const s = 1 - t;
    const value = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}

/** Where, for 0 < t < 1, the derivative of one coordinate of a cubic is 0. */
export function turningPoints(p0: number, p1: number, p2: number, p3: number): readonly number[] {
  // A third of the derivative is a t^2 + 2 b t + c.
  const a = p3 - 3 * p2 + 3 * p1 - p0;
  const b = p2 - 2 * p1 + p0;
  const c = p1 - p0;
  const inside = (t: number): boolean => t > 0 && t < 1;
  const square = b * b - a * c;
  if (square < 0) return [];
  // The form without cancellation: W. H. Press and others, "Numerical Recipes", 3rd ed., 2007, section 5.6.
  const q = -(b + Math.sign(b || 1) * Math.sqrt(square));
  return [q / a, c / q].filter(inside);
}
