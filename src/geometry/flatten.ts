import type { Point } from "./affine.js";
import { pointOn } from "./cubic.js";
import { type Cubic, type CubicPath, cubicsOf } from "./cubic-path.js";

/**
 * How many equal steps of `t` keep the chords of a cubic within `tolerance` of it: a chord over a step h misses by at
 * most h^2/8 of the largest second derivative, which for a cubic is at most 6 times the larger second difference of
 * its control points (the error of linear interpolation, in any book on numerical analysis).
 */
export function flatSteps(cubic: Cubic, tolerance: number): number {
  const bend = Math.max(
    Math.hypot(cubic[0] - 2 * cubic[2] + cubic[4], cubic[1] - 2 * cubic[3] + cubic[5]),
    Math.hypot(cubic[2] - 2 * cubic[4] + cubic[6], cubic[3] - 2 * cubic[5] + cubic[7]),
  );
  return Math.max(1, Math.min(65_536, Math.ceil(Math.sqrt((0.75 * bend) / tolerance))));
}

/** Points along a cubic whose chords stay within `tolerance` of it, both ends exact. */
export function flattenCubic(cubic: Cubic, tolerance: number): readonly Point[] {
  const steps = flatSteps(cubic, tolerance);
  return Array.from({ length: steps + 1 }, (_, k) =>
    k === 0
      ? { x: cubic[0], y: cubic[1] }
      : k === steps
        ? { x: cubic[6], y: cubic[7] }
        : pointOn(cubic, k / steps),
  );
}

/** One polygon or line a run, within `tolerance` of the path; a closed run's polygon ends on its start. */
export function flattenPath(path: CubicPath, tolerance: number): readonly (readonly Point[])[] {
  return path.subpaths.map((subpath) => {
    const start = { x: subpath.points[0] ?? Number.NaN, y: subpath.points[1] ?? Number.NaN };
    return [start, ...cubicsOf(subpath).flatMap((cubic) => flattenCubic(cubic, tolerance).slice(1))];
  });
}

/**
 * The area that a path encloses, exact for cubics: Green's theorem, half the integral of x dy - y dx. Positive where
 * it runs clockwise on the page. Open runs are closed by a straight line.
 */
export function pathArea(path: CubicPath): number {
  let sum = 0;
  for (const subpath of path.subpaths) {
    const cubics = cubicsOf(subpath);
    for (const [x0, y0, x1, y1, x2, y2, x3, y3] of cubics) {
      sum +=
        (6 * (x0 * y1 - x1 * y0) +
          3 * (x0 * y2 - x2 * y0) +
          (x0 * y3 - x3 * y0) +
          3 * (x1 * y2 - x2 * y1) +
          3 * (x1 * y3 - x3 * y1) +
          6 * (x2 * y3 - x3 * y2)) /
        20;
    }
    const [first, last] = [cubics[0], cubics[cubics.length - 1]];
    if (first && last) sum += (last[6] * first[1] - first[0] * last[7]) / 2;
  }
  return sum;
}
