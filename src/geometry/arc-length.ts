import type { Point } from "./affine.js";
import { derivativeOn, directionOn, pointOn } from "./cubic.js";
import type { Cubic } from "./cubic-path.js";
import { turningPoints } from "./path-bounds.js";

/** Nodes and weights of the Gauss–Legendre rule with 5 points on -1 to 1: closed forms, any handbook. */
const GAUSS: readonly (readonly [number, number])[] = [
  [0, 128 / 225],
  [Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
  [-Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
  [Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
  [-Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
];

/** Share of the curve's size to which a length is found. */
const LENGTH_TOLERANCE = 1e-10;

function speedOn(cubic: Cubic, t: number): number {
  const { x, y } = derivativeOn(cubic, t);
  return Math.hypot(x, y);
}

/** The length between two parameters by one Gauss rule: good where the curve is smooth and the step short. */
export function gaussLength(cubic: Cubic, from: number, to: number): number {
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  let sum = 0;
  for (const [node, weight] of GAUSS) sum += weight * speedOn(cubic, middle + half * node);
  return sum * half;
}

/**
 * The length of a cubic between two parameters: Gauss–Legendre on halves of halves until both agree to 1e-10 of the
 * size of its control polygon.
 */
export function cubicLength(cubic: Cubic, from: number = 0, to: number = 1): number {
  const size =
    Math.hypot(cubic[2] - cubic[0], cubic[3] - cubic[1]) +
    Math.hypot(cubic[4] - cubic[2], cubic[5] - cubic[3]) +
    Math.hypot(cubic[6] - cubic[4], cubic[7] - cubic[5]);
  // Where the curve stops, its speed has a kink that a rule over both sides can miss: cut there first.
  const cuts = [...turningPoints(...axisOf(cubic, 0)), ...turningPoints(...axisOf(cubic, 1))]
    .filter((t) => t > from && t < to)
    .sort((one, other) => one - other);
  let length = 0;
  for (const [k, end] of [...cuts, to].entries()) {
    const start = cuts[k - 1] ?? from;
    length += refineLength(cubic, start, end, gaussLength(cubic, start, end), LENGTH_TOLERANCE * size, 40);
  }
  return length;
}

function axisOf(cubic: Cubic, axis: 0 | 1): readonly [number, number, number, number] {
  return axis === 0 ? [cubic[0], cubic[2], cubic[4], cubic[6]] : [cubic[1], cubic[3], cubic[5], cubic[7]];
}

function refineLength(
  cubic: Cubic,
  from: number,
  to: number,
  whole: number,
  slack: number,
  depth: number,
): number {
  const middle = (from + to) / 2;
  const first = gaussLength(cubic, from, middle);
  const second = gaussLength(cubic, middle, to);
  if (depth === 0 || Math.abs(first + second - whole) <= slack) return first + second;
  return (
    refineLength(cubic, from, middle, first, slack / 2, depth - 1) +
    refineLength(cubic, middle, to, second, slack / 2, depth - 1)
  );
}

/** How many stations a measured cubic keeps: between two of them, Newton's method starts close enough for 1 step. */
const STATIONS = 16;

/** One cubic of a measured curve. */
export interface MeasuredCubic {
  readonly cubic: Cubic;
  /** Length of the curve before this cubic. */
  readonly start: number;
  readonly length: number;
  /** Length from this cubic's start to t = k / 16, for k from 0 to 16. */
  readonly stations: readonly number[];
  /** Whether one Gauss rule between two stations is as good as the full refinement: not where the curve stops. */
  readonly smooth: boolean;
}

/** A chain of cubics that can be asked by length. Lengths in the unit of its points. */
export interface MeasuredCurve {
  readonly cubics: readonly MeasuredCubic[];
  readonly length: number;
}

/** Where a curve is and which way it runs, at some length along it. */
export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  /** The direction of travel, of length 1; (0, 0) on a curve that is one point. */
  readonly directionX: number;
  readonly directionY: number;
}

/** Measures a chain of cubics once, so that it can be asked by length often. Cubics of no length are dropped. */
export function measureCurve(cubics: readonly Cubic[]): MeasuredCurve {
  const measured: MeasuredCubic[] = [];
  let start = 0;
  for (const cubic of cubics) {
    const stations = [0];
    let length = 0;
    let rough = 0;
    for (let k = 0; k < STATIONS; k += 1) {
      const [from, to] = [k / STATIONS, (k + 1) / STATIONS];
      const span = cubicLength(cubic, from, to);
      rough = Math.max(rough, Math.abs(span - gaussLength(cubic, from, to)));
      length += span;
      stations.push(length);
    }
    if (length === 0 && (measured.length > 0 || cubics.length > 1)) continue;
    measured.push({ cubic, start, length, stations, smooth: rough <= 1e-12 * length });
    start += length;
  }
  const first = cubics[0];
  if (measured.length === 0 && first)
    measured.push({ cubic: first, start: 0, length: 0, stations: [], smooth: true });
  return { cubics: measured, length: start };
}

/** Which cubic of a measured curve, and which of its parameters, lies at this length along the curve. */
export function locateLength(
  curve: MeasuredCurve,
  along: number,
): { readonly index: number; readonly t: number } {
  const { cubics } = curve;
  let [low, high] = [0, cubics.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((cubics[middle]?.start ?? 0) <= along) low = middle;
    else high = middle - 1;
  }
  const piece = cubics[low];
  return { index: low, t: piece === undefined ? 0 : parameterAt(piece, along - piece.start) };
}

/** The parameter at which a measured cubic has this length behind it, to 1e-12 of its length; 0 and 1 beyond its ends. */
export function parameterAt(piece: MeasuredCubic, along: number): number {
  const { cubic, length, stations } = piece;
  if (along <= 0 || length === 0) return 0;
  if (along >= length) return 1;
  let [k, high] = [0, STATIONS];
  while (high - k > 1) {
    const middle = (k + high) >> 1;
    if ((stations[middle] ?? 0) <= along) k = middle;
    else high = middle;
  }
  const before = stations[k] ?? 0;
  const span = (stations[k + 1] ?? length) - before;
  let [from, to] = [k / STATIONS, (k + 1) / STATIONS];
  const base = from;
  const lengthTo = piece.smooth ? gaussLength : cubicLength;
  let t = span > 0 ? from + ((along - before) / span) * (to - from) : from;
  // Newton's method, kept inside a bracket that shrinks, so that a stop of the curve cannot throw it out.
  for (let round = 0; round < 60; round += 1) {
    const miss = before + lengthTo(cubic, base, t) - along;
    if (Math.abs(miss) <= 1e-12 * length) break;
    if (miss > 0) to = t;
    else from = t;
    const next = t - miss / speedOn(cubic, t);
    t = next > from && next < to ? next : (from + to) / 2;
    if (to - from < 1e-15) break;
  }
  return t;
}

/**
 * Point and direction at a length along the curve. Before the start and beyond the end the curve goes on straight, so
 * that what leans a little out of it has a place too.
 */
export function curveAt(curve: MeasuredCurve, along: number): CurvePoint {
  const { index, t } = locateLength(curve, along);
  const piece = curve.cubics[index];
  if (piece === undefined) return { x: Number.NaN, y: Number.NaN, directionX: 0, directionY: 0 };
  const at: Point = pointOn(piece.cubic, t);
  const direction = directionOn(piece.cubic, t) ?? { x: 0, y: 0 };
  const beyond = along < 0 ? along : along > curve.length ? along - curve.length : 0;
  return {
    x: at.x + beyond * direction.x,
    y: at.y + beyond * direction.y,
    directionX: direction.x,
    directionY: direction.y,
  };
}
