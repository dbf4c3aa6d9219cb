import { applyTo } from "../../geometry/affine.js";
import type { Placement } from "../types.js";
import { CUTS } from "./toss.fixture.js";

/** A corner of an outline, in mm. */
export type Corner = readonly [number, number];

/** A placed motif's corners, from the fixture's own list. */
export function cornersOf({ motif: { name }, map }: Placement): readonly Corner[] {
  const corners = CUTS.find((one) => one.motif.name === name)?.corners ?? [];
  return corners.map(([x, y]) => {
    const at = applyTo(map, { x, y });
    return [at.x, at.y];
  });
}

function toSide([px, py]: Corner, [x0, y0]: Corner, [x1, y1]: Corner): number {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const t = Math.min(1, Math.max(0, ((px - x0) * dx + (py - y0) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(px - x0 - t * dx, py - y0 - t * dy);
}

function crosses(a: Corner, b: Corner, c: Corner, d: Corner): boolean {
  const side = (p: Corner, q: Corner, r: Corner) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);
}

function holds(polygon: readonly Corner[], [x, y]: Corner): boolean {
  return polygon.reduce((inside, [x0, y0], k) => {
    const [x1, y1] = polygon[(k + 1) % polygon.length] ?? [0, 0];
    const met = y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0);
    return met ? !inside : inside;
  }, false);
}

/** The distance of two polygons, by every side against every side; 0 where they overlap. */
export function distance(one: readonly Corner[], other: readonly Corner[]): number {
  if (holds(one, other[0] ?? [0, 0]) || holds(other, one[0] ?? [0, 0])) return 0;
  let least = Infinity;
  for (const [k, a] of one.entries()) {
    const b = one[(k + 1) % one.length] ?? a;
    for (const [m, c] of other.entries()) {
      const d = other[(m + 1) % other.length] ?? c;
      if (crosses(a, b, c, d)) return 0;
      least = Math.min(least, toSide(a, c, d), toSide(b, c, d), toSide(c, a, b), toSide(d, a, b));
    }
  }
  return least;
}
