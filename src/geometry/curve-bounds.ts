import type { MeasuredCurve } from "./arc-length.js";
import type { Cubic } from "./cubic-path.js";
import { cosineOf, type Interval } from "./interval.js";
import { partOfCurve } from "./part-of-curve.js";

/** Where a stretch of a curve can lie, and which ways it can run: unit vectors. */
export interface CurveBounds {
  readonly x: Interval;
  readonly y: Interval;
  readonly directionX: Interval;
  readonly directionY: Interval;
}

const QUARTER = Math.PI / 2;

/**
 * Bounds of a curve between two lengths along it, from control points alone: a cubic lies in the hull of its four, and
 * its direction in the cone of the three differences between them (G. Farin, "Curves and Surfaces for CAGD", 5th
 * edition, 2002, sections 4.3 and 5.3).
 */
export function boundCurve(curve: MeasuredCurve, from: number, to: number): CurveBounds {
  const x: [number, number] = [Infinity, -Infinity];
  const y: [number, number] = [Infinity, -Infinity];
  let angles: Interval | undefined;
  for (const cubic of partOfCurve(curve, from, to)) {
    for (let k = 0; k < 8; k += 2) {
      x[0] = Math.min(x[0], cubic[k] ?? 0);
      x[1] = Math.max(x[1], cubic[k] ?? 0);
      y[0] = Math.min(y[0], cubic[k + 1] ?? 0);
      y[1] = Math.max(y[1], cubic[k + 1] ?? 0);
    }
    angles = widen(angles, directionsOf(cubic, angles === undefined ? 0 : (angles[0] + angles[1]) / 2));
  }
  const all: Interval = angles ?? [-Math.PI, Math.PI];
  const sines = cosineOf([all[0] - QUARTER, all[1] - QUARTER]);
  return { x, y, directionX: cosineOf(all), directionY: sines };
}

function widen(one: Interval | undefined, other: Interval | undefined): Interval | undefined {
  if (one === undefined || other === undefined) return one ?? other;
  return [Math.min(one[0], other[0]), Math.max(one[1], other[1])];
}

/** The angles in which a cubic can run, the first near a given one; `undefined` for a point. */
function directionsOf(cubic: Cubic, near: number): Interval | undefined {
  let range: [number, number] | undefined;
  for (let k = 0; k < 6; k += 2) {
    const dx = (cubic[k + 2] ?? 0) - (cubic[k] ?? 0);
    const dy = (cubic[k + 3] ?? 0) - (cubic[k + 1] ?? 0);
    if (dx === 0 && dy === 0) continue;
    const angle = Math.atan2(dy, dx);
    const turns = Math.round(((range?.[0] ?? near) - angle) / (2 * Math.PI));
    const unwound = angle + 2 * Math.PI * turns;
    range = range ? [Math.min(range[0], unwound), Math.max(range[1], unwound)] : [unwound, unwound];
  }
  // Vectors that do not lie on one side of a line span every direction.
  if (range !== undefined && range[1] - range[0] >= Math.PI) return [near - Math.PI, near + Math.PI];
  return range;
}
