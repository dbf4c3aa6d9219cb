import { cubicLength, gaussLength, type MeasuredCubic, type MeasuredCurve } from "./arc-length.js";
import { derivativeOn, directionOn, pointOn, secondDerivativeOn } from "./cubic.js";
import type { Cubic } from "./cubic-path.js";

/**
 * A measured curve as polynomials of its length, which can be asked in a few multiplications: quintic Hermite
 * interpolation of place, direction and curvature (C. de Boor, "A Practical Guide to Splines", 1978, chapter IV, with
 * two derivatives at each end).
 */
export interface CurveTable {
  readonly length: number;
  /** Lengths at which the intervals begin, and the whole length. */
  readonly starts: Float64Array;
  /** For each interval: six coefficients of x and six of y, by powers of the share of it; then 1 / its length. */
  readonly terms: Float64Array;
  /** How many corners lie before each interval. */
  readonly corners: Uint16Array;
  /** For equal steps of length, the interval in which each step begins. */
  readonly steps: Uint16Array;
}

const TERMS = 13;

/** How far a table may lie off its curve, as a share of its length; lengths of rough curves are known less well. */
const TABLE_TOLERANCE = { smooth: 1e-12, rough: 1e-9 } as const;

/** What rounding alone does to a place, as a share of its coordinates. */
const ROUNDING = 32 * Number.EPSILON;

/** An interval is halved at most this often; below, only a stop or a cusp of the curve is left. */
const DEPTH = 24;

/** A change of direction, in radians, that is a corner; less bends nothing by anything that shows. */
const CORNER = 1e-4;

/** One place of a curve: parameter, length before it, place, direction and curvature by length. */
interface Node {
  readonly t: number;
  readonly along: number;
  readonly x: number;
  readonly y: number;
  readonly directionX: number;
  readonly directionY: number;
  readonly bendX: number;
  readonly bendY: number;
}

interface Interval {
  readonly start: number;
  readonly terms: readonly number[];
  readonly corners: number;
}

/** Tabulates a measured curve, within 1e-12 of its length, 1e-9 where it stops or nearly does. */
export function tabulateCurve(curve: MeasuredCurve): CurveTable {
  const intervals: Interval[] = [];
  let corners = 0;
  let before: Node | undefined;
  for (const piece of curve.cubics) {
    const tolerance = toleranceOf(piece, curve);
    const nodes = piece.stations.map((station, k) =>
      nodeAt(piece.cubic, k / (piece.stations.length - 1), piece.start + station),
    );
    const [first] = nodes;
    if (before && first && turnBetween(before, first) > CORNER) corners += 1;
    for (const [k, node] of nodes.entries()) {
      const last = nodes[k - 1];
      if (last) addIntervals(piece, last, node, tolerance, corners, DEPTH, intervals);
    }
    before = nodes.at(-1) ?? before;
  }
  if (intervals.length === 0) intervals.push(standing(curve));
  return packIntervals(intervals, curve.length);
}

function toleranceOf({ cubic, smooth }: MeasuredCubic, { length }: MeasuredCurve): number {
  const far = Math.max(...cubic.map(Math.abs));
  return Math.max((smooth ? TABLE_TOLERANCE.smooth : TABLE_TOLERANCE.rough) * length, ROUNDING * far);
}

function nodeAt(cubic: Cubic, t: number, along: number): Node {
  const { x, y } = pointOn(cubic, t);
  const direction = directionOn(cubic, t) ?? { x: 0, y: 0 };
  const first = derivativeOn(cubic, t);
  const second = secondDerivativeOn(cubic, t);
  const speed = Math.hypot(first.x, first.y);
  const cross = first.x * second.y - first.y * second.x;
  const size = Math.max(...cubic.map((value, k) => Math.abs(value - (cubic[k % 2] ?? 0))));
  // Curvature times the normal. Where the curve stops, as `directionOn` sees it, it has none that numbers could hold;
  // the halving of intervals sees to that.
  const bend = speed > 1e-9 * size ? cross / speed ** 3 : 0;
  return {
    t,
    along,
    x,
    y,
    directionX: direction.x,
    directionY: direction.y,
    bendX: -bend * direction.y,
    bendY: bend * direction.x,
  };
}

function turnBetween(one: Node, other: Node): number {
  return Math.hypot(one.directionX - other.directionX, one.directionY - other.directionY);
}

function addIntervals(
  piece: MeasuredCubic,
  from: Node,
  to: Node,
  tolerance: number,
  corners: number,
  depth: number,
  intervals: Interval[],
): void {
  if (!(to.along > from.along)) return;
  const terms = termsBetween(from, to);
  const lengthTo = piece.smooth ? gaussLength : cubicLength;
  const nodeWithin = (share: number): Node => {
    const t = from.t + share * (to.t - from.t);
    return nodeAt(piece.cubic, t, from.along + lengthTo(piece.cubic, from.t, t));
  };
  const middle = nodeWithin(0.5);
  const fits = [middle, nodeWithin(0.25)].every((node) => {
    const share = (node.along - from.along) / (to.along - from.along);
    return Math.hypot(horner(terms, 0, share) - node.x, horner(terms, 6, share) - node.y) <= tolerance;
  });
  if (fits || depth === 0) {
    intervals.push({ start: from.along, terms, corners });
    return;
  }
  addIntervals(piece, from, middle, tolerance, corners, depth - 1, intervals);
  addIntervals(piece, middle, to, tolerance, corners, depth - 1, intervals);
}

function horner(terms: readonly number[], first: number, share: number): number {
  let value = 0;
  for (let k = 5; k >= 0; k -= 1) value = value * share + (terms[first + k] ?? 0);
  return value;
}

function termsBetween(from: Node, to: Node): readonly number[] {
  const length = to.along - from.along;
  const axis = (p: number, q: number, m: number, n: number, a: number, b: number): readonly number[] => {
    const [rise, in0, in1] = [q - p, length * m, length * n];
    const [bend0, bend1] = [length * length * a, length * length * b];
    return [
      p,
      in0,
      bend0 / 2,
      10 * rise - 6 * in0 - 4 * in1 - 1.5 * bend0 + 0.5 * bend1,
      -15 * rise + 8 * in0 + 7 * in1 + 1.5 * bend0 - bend1,
      6 * rise - 3 * (in0 + in1) - 0.5 * bend0 + 0.5 * bend1,
    ];
  };
  return [
    ...axis(from.x, to.x, from.directionX, to.directionX, from.bendX, to.bendX),
    ...axis(from.y, to.y, from.directionY, to.directionY, from.bendY, to.bendY),
    1 / length,
  ];
}

/** The one interval of a curve that is a point. */
function standing({ cubics }: MeasuredCurve): Interval {
  const [x, y] = cubics[0]?.cubic ?? [Number.NaN, Number.NaN];
  return { start: 0, terms: [x, 0, 0, 0, 0, 0, y, 0, 0, 0, 0, 0, 0], corners: 0 };
}

function packIntervals(intervals: readonly Interval[], length: number): CurveTable {
  const starts = Float64Array.from([...intervals.map(({ start }) => start), length]);
  const steps = new Uint16Array(2 * intervals.length);
  let interval = 0;
  for (let step = 0; step < steps.length; step += 1) {
    const along = (step / steps.length) * length;
    while (interval < intervals.length - 1 && (starts[interval + 1] ?? 0) <= along) interval += 1;
    steps[step] = interval;
  }
  return {
    length,
    starts,
    terms: Float64Array.from(intervals.flatMap(({ terms }) => terms)),
    corners: Uint16Array.from(intervals, ({ corners }) => corners),
    steps,
  };
}

/**
 * Writes place and direction at a length along the curve into four numbers from `first` on: x, y and the direction's x
 * and y; gives the number of corners before. Before its start and beyond its end the curve goes on straight.
 */
export function lookUpCurve(table: CurveTable, along: number, into: Float64Array, first: number): number {
  const { length, starts, terms, steps, corners } = table;
  const inside = Math.max(0, Math.min(length, along));
  const last = corners.length - 1;
  // The last step ends on the whole length, where rounding may point one beyond it.
  const step = length > 0 ? Math.min(steps.length - 1, Math.floor((inside / length) * steps.length)) : 0;
  let k = steps[step] ?? 0;
  // Rounding may also point one step too far.
  while (k > 0 && (starts[k] ?? 0) > inside) k -= 1;
  while (k < last && (starts[k + 1] ?? 0) <= inside) k += 1;
  const at = TERMS * k;
  const scale = terms[at + 12] ?? 0;
  const s = (inside - (starts[k] ?? 0)) * scale;
  const x1 = terms[at + 1] ?? 0;
  const x2 = terms[at + 2] ?? 0;
  const x3 = terms[at + 3] ?? 0;
  const x4 = terms[at + 4] ?? 0;
  const x5 = terms[at + 5] ?? 0;
  const y1 = terms[at + 7] ?? 0;
  const y2 = terms[at + 8] ?? 0;
  const y3 = terms[at + 9] ?? 0;
  const y4 = terms[at + 10] ?? 0;
  const y5 = terms[at + 11] ?? 0;
  const directionX = scale * (x1 + s * (2 * x2 + s * (3 * x3 + s * (4 * x4 + s * 5 * x5))));
  const directionY = scale * (y1 + s * (2 * y2 + s * (3 * y3 + s * (4 * y4 + s * 5 * y5))));
  const beyond = along - inside;
  into[first] = (terms[at] ?? 0) + s * (x1 + s * (x2 + s * (x3 + s * (x4 + s * x5)))) + beyond * directionX;
  into[first + 1] =
    (terms[at + 6] ?? 0) + s * (y1 + s * (y2 + s * (y3 + s * (y4 + s * y5)))) + beyond * directionY;
  into[first + 2] = directionX;
  into[first + 3] = directionY;
  return corners[k] ?? 0;
}
