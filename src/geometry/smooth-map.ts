import type { Affine, Point } from "./affine.js";

/** Where a smooth map takes a point, and how it stretches there: `dX = a dx + c dy`, `dY = b dx + d dy`. */
export interface MappedPoint {
  readonly x: number;
  readonly y: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/** Any smooth map of the plane, with its Jacobian. */
export type SmoothMap = (x: number, y: number) => MappedPoint;

/** An affine map as a smooth one. */
export function smoothAffine(map: Affine): SmoothMap {
  const { a, b, c, d, e, f } = map;
  return (x, y) => ({ x: a * x + c * y + e, y: b * x + d * y + f, a, b, c, d });
}

/** One map for several: the first listed is applied last, as `compose` has it; Jacobians multiply. */
export function composeSmooth(...maps: readonly SmoothMap[]): SmoothMap {
  return (x, y) => {
    let at: MappedPoint = { x, y, a: 1, b: 0, c: 0, d: 1 };
    for (let k = maps.length - 1; k >= 0; k -= 1) {
      const n = at;
      const m = maps[k]?.(n.x, n.y);
      if (m === undefined) continue;
      at = {
        x: m.x,
        y: m.y,
        a: m.a * n.a + m.c * n.b,
        b: m.b * n.a + m.d * n.b,
        c: m.a * n.c + m.c * n.d,
        d: m.b * n.c + m.d * n.d,
      };
    }
    return at;
  };
}

/** Where a smooth map takes a point. */
export function mapPoint(map: SmoothMap, point: Point): Point {
  const { x, y } = map(point.x, point.y);
  return { x, y };
}

/** The affine map that agrees with a smooth one at a point, in place and in stretch: the best one nearby. */
export function localAffine(map: SmoothMap, point: Point): Affine {
  const { x, y, a, b, c, d } = map(point.x, point.y);
  return { a, b, c, d, e: x - a * point.x - c * point.y, f: y - b * point.x - d * point.y };
}

/** The area factor of a smooth map at a point; negative where it mirrors, 0 where it folds. */
export function stretchAt(map: SmoothMap, point: Point): number {
  const { a, b, c, d } = map(point.x, point.y);
  return a * d - b * c;
}

/**
 * The point that a smooth map takes to `target`, by Newton's method with halved steps from `start`, until the image
 * misses by at most `tolerance` (in the unit of the image); `undefined` where no such point is found from there.
 */
export function invertAt(map: SmoothMap, target: Point, start: Point, tolerance: number): Point | undefined {
  let { x, y } = start;
  let at = map(x, y);
  let miss = Math.hypot(at.x - target.x, at.y - target.y);
  for (let round = 0; round < 60 && miss > tolerance; round += 1) {
    const area = at.a * at.d - at.b * at.c;
    if (area === 0 || !Number.isFinite(miss)) return undefined;
    const [dx, dy] = [target.x - at.x, target.y - at.y];
    const stepX = (at.d * dx - at.c * dy) / area;
    const stepY = (at.a * dy - at.b * dx) / area;
    let share = 1;
    let [next, missed] = [at, Infinity];
    for (; share > 1e-6; share /= 2) {
      next = map(x + share * stepX, y + share * stepY);
      missed = Math.hypot(next.x - target.x, next.y - target.y);
      if (missed < miss) break;
    }
    if (!(missed < miss)) return undefined;
    x += share * stepX;
    y += share * stepY;
    [at, miss] = [next, missed];
  }
  return miss <= tolerance ? { x, y } : undefined;
}
