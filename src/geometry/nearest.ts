import type { Point } from "./affine.js";
import { derivativeOn, pointOn, secondDerivativeOn } from "./cubic.js";
import type { Cubic } from "./cubic-path.js";

/** The place of a curve that lies nearest to a point. */
export interface Nearest {
  /** Which cubic, from 0, and where on it, 0 to 1. */
  readonly index: number;
  readonly t: number;
  readonly x: number;
  readonly y: number;
  readonly distance: number;
}

/** Steps at which a cubic is looked at before the nearest ones are polished; its distance has at most 5 extremes. */
const LOOKS = 24;

/** The nearest place on a chain of cubics; `undefined` for an empty chain. Ties go to the earlier place. */
export function nearestOnCubics(cubics: readonly Cubic[], point: Point): Nearest | undefined {
  let best: Nearest | undefined;
  for (const [index, cubic] of cubics.entries()) {
    const squares = Array.from({ length: LOOKS + 1 }, (_, k) => squareAt(cubic, k / LOOKS, point));
    for (const [k, square] of squares.entries()) {
      if (square > (squares[k - 1] ?? Infinity) || square > (squares[k + 1] ?? Infinity)) continue;
      const t = polish(cubic, point, Math.max(0, (k - 1) / LOOKS), Math.min(1, (k + 1) / LOOKS));
      const at = pointOn(cubic, t);
      const distance = Math.hypot(at.x - point.x, at.y - point.y);
      if (best === undefined || distance < best.distance) best = { index, t, x: at.x, y: at.y, distance };
    }
  }
  return best;
}

function squareAt(cubic: Cubic, t: number, point: Point): number {
  const at = pointOn(cubic, t);
  return (at.x - point.x) ** 2 + (at.y - point.y) ** 2;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The parameter of least distance in a bracket: golden section first (J. Kiefer, "Sequential minimax search for a
 * maximum", Proc. Amer. Math. Soc. 4, 1953), which flat places cannot mislead, then Newton on the slope.
 */
function polish(cubic: Cubic, point: Point, from: number, to: number): number {
  let [low, high] = [from, to];
  while (high - low > 1e-7) {
    const [one, other] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    if (squareAt(cubic, one, point) <= squareAt(cubic, other, point)) high = other;
    else low = one;
  }
  let best = (low + high) / 2;
  for (const end of [from, to]) if (squareAt(cubic, end, point) < squareAt(cubic, best, point)) best = end;
  for (let round = 0; round < 4; round += 1) {
    const at = pointOn(cubic, best);
    const first = derivativeOn(cubic, best);
    const second = secondDerivativeOn(cubic, best);
    const [dx, dy] = [at.x - point.x, at.y - point.y];
    const bend = first.x * first.x + first.y * first.y + dx * second.x + dy * second.y;
    const next = best - (dx * first.x + dy * first.y) / bend;
    if (!(bend > 0 && next >= from && next <= to)) break;
    if (squareAt(cubic, next, point) > squareAt(cubic, best, point)) break;
    best = next;
  }
  return best;
}
