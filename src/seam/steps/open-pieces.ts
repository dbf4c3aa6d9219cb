import { pixelDifference, type Strip } from "../strip/strip.js";
import { climbsOver, passesAt, rowsBeside } from "./beside-seam.js";
import { isSquareSide, lineAlong } from "./straight-side.js";

/** A stretch of rows whose colours step exactly at the seam, on both sides of which lie the same two plateaus. */
export interface OpenPiece {
  readonly from: number;
  readonly to: number;
  /** The pixels next to the seam in the middle of the piece: indices into the strip. */
  readonly near: number;
  readonly far: number;
  readonly worst: number;
  /** Why it may be right: an outline that passes over the seam, too few rows, a straight side or a line that lies on it. */
  readonly explained: "outline" | "short" | "side" | "line" | undefined;
  /** An outline passes over the seam at both ends, unbroken: only the ink changes in between. */
  readonly isFramed: boolean;
  /** The side on which a thin line of even width follows the seam; outlines of the other side rightly end at it. */
  readonly line: -1 | 1 | undefined;
}

/** The least step that counts: just above what an eye sees side by side, CIEDE2000. */
const LEAST_STEP = 1.5;

/** A step is exactly at the seam when the two neighbours on each side add up to less than this part of it. */
const EXACT_SHARE = 0.25;

/** More than this beside the seam is a mixed pixel of a soft outline that runs along it, however large the step. */
const MOST_AROUND = 6;

/**
 * The rows of an outline one column beside the seam, at either end of a piece, vouch for this many rows at the seam: of a
 * circle that just touches the seam, the seam's rows are 2.7 times those of the next column on one side.
 */
const ROWS_PER_NEIGHBOUR = 3.5;

/** Of a small disc with hard edges, the row next to the seam holds so few rows that a few at the seam go unvouched. */
export const SPARE_ROWS = 3;

/** The differences across the seam of rows that step exactly there; 0 for all other rows. */
export function exactSteps(strip: Strip, jumps: Float32Array): Float32Array {
  const across = 2 * strip.half - 1;
  const seam = strip.half - 1;
  const steps = new Float32Array(strip.length);
  for (let t = 0; t < strip.length; t++) {
    const at = t * across + seam;
    const step = jumps[at] as number;
    if (step < LEAST_STEP) continue;
    let around = 0;
    for (let k = 1; k <= 2; k++) around += (jumps[at - k] as number) + (jumps[at + k] as number);
    if (around <= EXACT_SHARE * step && (strip.isGrainy || around <= MOST_AROUND)) steps[t] = step;
  }
  return steps;
}

function closePiece(strip: Strip, steps: Float32Array, from: number, to: number): OpenPiece {
  const seamOf = (t: number) => (t % strip.length) * 2 * strip.half + strip.half - 1;
  const middle = seamOf(Math.floor((from + to - 1) / 2));
  let worst = 0;
  for (let t = from; t < to; t++) worst = Math.max(worst, steps[t % strip.length] as number);
  const rows = to - from;
  const above = rowsBeside(strip, from - 1, -1, middle, middle + 1, rows);
  const below = rowsBeside(strip, to, 1, middle, middle + 1, rows);
  const beside = Math.max(above, below);
  const isFramed =
    (passesAt(strip, to, middle) || climbsOver(strip, to, 1, middle)) &&
    (passesAt(strip, from - 3, middle) || climbsOver(strip, from - 1, -1, middle));
  const line = lineAlong(strip, from, to, middle);
  const explained =
    beside > 0 && rows <= ROWS_PER_NEIGHBOUR * beside + SPARE_ROWS
      ? "outline"
      : rows <= SPARE_ROWS
        ? "short"
        : isSquareSide(strip, from, to, middle, { above, below })
          ? "side"
          : !isFramed && line !== undefined
            ? "line"
            : undefined;
  return { from, to, near: middle, far: middle + 1, worst, explained, isFramed, line };
}

/** Tells whether two pieces step between the same two colours. */
export function isSameStep(strip: Strip, one: OpenPiece, other: OpenPiece): boolean {
  return (
    pixelDifference(strip, one.near, other.near) <= strip.plateau &&
    pixelDifference(strip, one.far, other.far) <= strip.plateau
  );
}

/** Every piece of the seam at which plateaus meet that differ. Places from 0 up to twice the length, where it wraps. */
export function findOpenPieces(strip: Strip, steps: Float32Array): readonly OpenPiece[] {
  const { length, half } = strip;
  const pieces: OpenPiece[] = [];
  let start = 0;
  if (strip.cyclic) while (start < length && (steps[start] as number) > 0) start++;
  const end = start === length ? length : start + (strip.cyclic ? length : 0);
  const last = strip.cyclic && start < length ? end : length;
  let from: number | undefined;
  const seamOf = (t: number) => (t % length) * 2 * half + half - 1;
  for (let t = start === length ? 0 : start; t <= last; t++) {
    const isOpen = t < last && (steps[t % length] as number) > 0;
    const goesOn =
      isOpen &&
      from !== undefined &&
      pixelDifference(strip, seamOf(t), seamOf(from)) <= strip.plateau &&
      pixelDifference(strip, seamOf(t) + 1, seamOf(from) + 1) <= strip.plateau;
    if (from !== undefined && !goesOn) {
      pieces.push(closePiece(strip, steps, from, t));
      from = undefined;
    }
    if (isOpen && from === undefined) from = t;
  }
  return pieces;
}
