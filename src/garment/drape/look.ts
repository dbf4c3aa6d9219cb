import { type Affine, determinant } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import type { CubicPath } from "../../geometry/cubic-path.js";
import { MAP_NUMBERS, type MapInto } from "../../geometry/smooth-map.js";

/** How far a stroke reaches beyond its path, in widths: half of one, or a mitre of at most 4 times that, and a little. */
export const STROKE_REACH = 2.5;

/** Places along each run of a path at which its scale is looked at. */
const LOOKS = 12;

/** Whether a path may be seen: the box around its control points, grown by `reach`, meets what is shown. */
export function mayShow({ subpaths }: CubicPath, reach: number, shown: Box | undefined): boolean {
  if (shown === undefined) return true;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { points } of subpaths)
    for (let k = 0; k + 1 < points.length; k += 2) {
      const x = points[k] ?? 0;
      const y = points[k + 1] ?? 0;
      if (x < left) left = x;
      if (x > right) right = x;
      if (y < top) top = y;
      if (y > bottom) bottom = y;
    }
  return (
    right + reach >= shown.x &&
    left - reach <= shown.x + shown.width &&
    bottom + reach >= shown.y &&
    top - reach <= shown.y + shown.height
  );
}

/** The mean of the local scale along a path that lies in the map's source by `place`: a stroke has one width only. */
export function meanScale({ subpaths }: CubicPath, place: Affine, into: MapInto): number {
  const own = Math.abs(determinant(place));
  const at = new Float64Array(MAP_NUMBERS);
  let [sum, count] = [0, 0];
  for (const { points } of subpaths) {
    const step = Math.max(1, Math.ceil(points.length / 6 / LOOKS)) * 6;
    for (let k = 0; k < points.length - 1; k += step) {
      const x = points[k] ?? 0;
      const y = points[k + 1] ?? 0;
      into(place.a * x + place.c * y + place.e, place.b * x + place.d * y + place.f, at);
      const area = (at[2] ?? 0) * (at[5] ?? 0) - (at[3] ?? 0) * (at[4] ?? 0);
      sum += Math.sqrt(Math.abs(area) * own);
      count += 1;
    }
  }
  return sum / Math.max(1, count);
}
