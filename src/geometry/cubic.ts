import type { Point } from "./affine.js";
import type { Cubic } from "./cubic-path.js";

/** The point of a cubic at `t`, 0 to 1. */
export function pointOn(cubic: Cubic, t: number): Point {
  const s = 1 - t;
  const [w0, w1, w2, w3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  return {
    x: w0 * cubic[0] + w1 * cubic[2] + w2 * cubic[4] + w3 * cubic[6],
    y: w0 * cubic[1] + w1 * cubic[3] + w2 * cubic[5] + w3 * cubic[7],
  };
}

/** How the point of a cubic moves with `t`: its first derivative. */
export function derivativeOn(cubic: Cubic, t: number): Point {
  const s = 1 - t;
  const [w0, w1, w2] = [3 * s * s, 6 * s * t, 3 * t * t];
  return {
    x: w0 * (cubic[2] - cubic[0]) + w1 * (cubic[4] - cubic[2]) + w2 * (cubic[6] - cubic[4]),
    y: w0 * (cubic[3] - cubic[1]) + w1 * (cubic[5] - cubic[3]) + w2 * (cubic[7] - cubic[5]),
  };
}

/** The second derivative of a cubic. */
export function secondDerivativeOn(cubic: Cubic, t: number): Point {
  const s = 1 - t;
  return {
    x: 6 * (s * (cubic[4] - 2 * cubic[2] + cubic[0]) + t * (cubic[6] - 2 * cubic[4] + cubic[2])),
    y: 6 * (s * (cubic[5] - 2 * cubic[3] + cubic[1]) + t * (cubic[7] - 2 * cubic[5] + cubic[3])),
  };
}

/**
 * The direction of travel at `t` as a vector of length 1, also where the speed is 0 because control points coincide:
 * there the first point that differs says the way. `undefined` for a cubic that is one point.
 */
export function directionOn(cubic: Cubic, t: number): Point | undefined {
  const [x0, y0] = cubic;
  let size = 0;
  for (let k = 2; k < 8; k += 2)
    size = Math.max(size, Math.abs((cubic[k] ?? x0) - x0), Math.abs((cubic[k + 1] ?? y0) - y0));
  const first = derivativeOn(cubic, t);
  const speed = Math.hypot(first.x, first.y);
  if (speed > 1e-9 * size) return { x: first.x / speed, y: first.y / speed };
  // Near a stop the curve moves along its second derivative, or its third; backwards at the end.
  const second = secondDerivativeOn(cubic, t);
  const bend = Math.hypot(second.x, second.y);
  const sign = t > 0.5 ? -1 : 1;
  if (bend > 1e-9 * size) return { x: (sign * second.x) / bend, y: (sign * second.y) / bend };
  const [dx, dy] = [cubic[6] - cubic[0], cubic[7] - cubic[1]];
  const chord = Math.hypot(dx, dy);
  return chord > 0 ? { x: dx / chord, y: dy / chord } : undefined;
}

/** The same cubic run backwards. */
export function reverseCubic(cubic: Cubic): Cubic {
  return [cubic[6], cubic[7], cubic[4], cubic[5], cubic[2], cubic[3], cubic[0], cubic[1]];
}

/** A cubic cut in two at `t`; the parts share the exact same point. P. de Casteljau's construction, 1959. */
export function splitCubic(cubic: Cubic, t: number): readonly [Cubic, Cubic] {
  const mix = (one: number, other: number): number => one + (other - one) * t;
  const [x01, y01] = [mix(cubic[0], cubic[2]), mix(cubic[1], cubic[3])];
  const [x12, y12] = [mix(cubic[2], cubic[4]), mix(cubic[3], cubic[5])];
  const [x23, y23] = [mix(cubic[4], cubic[6]), mix(cubic[5], cubic[7])];
  const [x012, y012] = [mix(x01, x12), mix(y01, y12)];
  const [x123, y123] = [mix(x12, x23), mix(y12, y23)];
  const [x, y] = [mix(x012, x123), mix(y012, y123)];
  return [
    [cubic[0], cubic[1], x01, y01, x012, y012, x, y],
    [x, y, x123, y123, x23, y23, cubic[6], cubic[7]],
  ];
}

/** The part of a cubic from `from` to `to`, 0 <= from < to <= 1; whole ends stay exact. */
export function partOfCubic(cubic: Cubic, from: number, to: number): Cubic {
  const [head] = to < 1 ? splitCubic(cubic, to) : [cubic];
  return from > 0 ? splitCubic(head, from / to)[1] : head;
}
