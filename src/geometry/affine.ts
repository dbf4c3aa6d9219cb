/**
 * An affine map of the plane, in the order of SVG's `matrix(a b c d e f)`:
 * `x' = a x + c y + e`, `y' = b x + d y + f`, x right, y down.
 */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

/** A point or a vector; the unit is said where it is used. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The map that changes nothing. */
export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** Moves by (x, y). */
export function translation(x: number, y: number): Affine {
  return { a: 1, b: 0, c: 0, d: 1, e: x, f: y };
}

/** Scales about the origin, by `y` down and by `x` along; one number scales both. */
export function scaling(x: number, y: number = x): Affine {
  return { a: x, b: 0, c: 0, d: y, e: 0, f: 0 };
}

/** Turns about the origin by an angle in radians, clockwise on the page (y points down). */
export function turning(radians: number): Affine {
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

/** One map for several: the first listed is applied last, as in a `transform` attribute. */
export function compose(...maps: readonly Affine[]): Affine {
  return maps.reduce(
    (m, n) => ({
      a: m.a * n.a + m.c * n.b,
      b: m.b * n.a + m.d * n.b,
      c: m.a * n.c + m.c * n.d,
      d: m.b * n.c + m.d * n.d,
      e: m.a * n.e + m.c * n.f + m.e,
      f: m.b * n.e + m.d * n.f + m.f,
    }),
    IDENTITY,
  );
}

/** The area factor of a map; negative when it mirrors, 0 when it cannot be undone. */
export function determinant(map: Affine): number {
  return map.a * map.d - map.b * map.c;
}

/** The map that undoes this one, or `undefined` for a map that flattens the plane. */
export function invert(map: Affine): Affine | undefined {
  const det = determinant(map);
  if (det === 0 || !Number.isFinite(det)) return undefined;
  return {
    a: map.d / det,
    b: -map.b / det,
    c: -map.c / det,
    d: map.a / det,
    e: (map.c * map.f - map.d * map.e) / det,
    f: (map.b * map.e - map.a * map.f) / det,
  };
}

/** Where a map takes a point. */
export function applyTo(map: Affine, point: Point): Point {
  return { x: map.a * point.x + map.c * point.y + map.e, y: map.b * point.x + map.d * point.y + map.f };
}
