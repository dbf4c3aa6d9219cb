import { type Affine, IDENTITY, type Point } from "./affine.js";

/** Where a smooth map takes a point, and how it stretches there: `dX = a dx + c dy`, `dY = b dx + d dy`. */
export interface MappedPoint {
  readonly x: number;
  readonly y: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/**
 * Writes what a smooth map does at a point into seven numbers: x, y, a, b, c, d as in `MappedPoint`, then the piece of
 * the map. Between two places of one piece nothing jumps; across the border of two pieces the stretch may. What asks a
 * map very often asks this way, since nothing is made for an answer.
 */
export type MapInto = (x: number, y: number, into: Float64Array) => void;

/** How many numbers a `MapInto` writes. */
export const MAP_NUMBERS = 7;

/** Any smooth map of the plane, with its Jacobian. A plain function will do. */
export interface SmoothMap {
  (x: number, y: number): MappedPoint;
  /** The same map, for what asks often. */
  readonly into?: MapInto;
}

/** The smooth map that answers as `into` writes. */
export function smoothFrom(into: MapInto): SmoothMap {
  const map = (x: number, y: number): MappedPoint => {
    const [atX = 0, atY = 0, a = 0, b = 0, c = 0, d = 0] = writeAt(into, x, y);
    return { x: atX, y: atY, a, b, c, d };
  };
  return Object.assign(map, { into });
}

function writeAt(into: MapInto, x: number, y: number): Float64Array {
  const numbers = new Float64Array(MAP_NUMBERS);
  into(x, y, numbers);
  return numbers;
}

/** A smooth map in the form that writes; a plain function is all one piece. */
export function intoOf(map: SmoothMap): MapInto {
  if (map.into !== undefined) return map.into;
  return (x, y, into) => {
    const at = map(x, y);
    into[0] = at.x;
    into[1] = at.y;
    into[2] = at.a;
    into[3] = at.b;
    into[4] = at.c;
    into[5] = at.d;
    into[6] = 0;
  };
}

/** An affine map as a smooth one. */
export function smoothAffine(map: Affine): SmoothMap {
  const { a, b, c, d, e, f } = map;
  return smoothFrom((x, y, into) => {
    into[0] = a * x + c * y + e;
    into[1] = b * x + d * y + f;
    into[2] = a;
    into[3] = b;
    into[4] = c;
    into[5] = d;
    into[6] = 0;
  });
}

/** Keeps the pieces of two maps apart, where there are fewer in each of one. */
const MOST_PIECES = 2 ** 20;

/** One map for several: the first listed is applied last, as `compose` has it; Jacobians multiply. */
export function composeSmooth(...maps: readonly SmoothMap[]): SmoothMap {
  const [first = smoothAffine(IDENTITY).into, ...others] = maps.map(intoOf).reverse();
  const next = new Float64Array(MAP_NUMBERS);
  return smoothFrom((x, y, into) => {
    first?.(x, y, into);
    for (const other of others) {
      other(into[0] ?? 0, into[1] ?? 0, next);
      follow(into, next);
    }
  });
}

/** Puts what a second map does after a first into the first's numbers. */
function follow(first: Float64Array, second: Float64Array): void {
  const a = first[2] ?? 0;
  const b = first[3] ?? 0;
  const c = first[4] ?? 0;
  const d = first[5] ?? 0;
  const nextA = second[2] ?? 0;
  const nextB = second[3] ?? 0;
  const nextC = second[4] ?? 0;
  const nextD = second[5] ?? 0;
  first[0] = second[0] ?? 0;
  first[1] = second[1] ?? 0;
  first[2] = nextA * a + nextC * b;
  first[3] = nextB * a + nextD * b;
  first[4] = nextA * c + nextC * d;
  first[5] = nextB * c + nextD * d;
  first[6] = (first[6] ?? 0) + MOST_PIECES * (second[6] ?? 0);
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
