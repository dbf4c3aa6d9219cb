import type { Likeness, Peak } from "./likeness.js";

/** A shift, in pixels. */
export interface Shift {
  readonly x: number;
  readonly y: number;
}

/** Two shifts whose whole sums are all the shifts of a lattice. */
export type Basis = readonly [Shift, Shift];

/** Maps both shifts. */
export function mapBasis([one, other]: Basis, map: (shift: Shift) => Shift): Basis {
  return [map(one), map(other)];
}

const dot = (one: Shift, other: Shift): number => one.x * other.x + one.y * other.y;
const cross = (one: Shift, other: Shift): number => one.x * other.y - one.y * other.x;

/** The area of a lattice's cell. */
export function cellArea([one, other]: Basis): number {
  return Math.abs(cross(one, other));
}

/** i times the one shift and j times the other. */
export function combine([one, other]: Basis, i: number, j: number): Shift {
  return { x: i * one.x + j * other.x, y: i * one.y + j * other.y };
}

const towardsRight = (shift: Shift): Shift =>
  shift.x < -1e-9 || (Math.abs(shift.x) <= 1e-9 && shift.y < 0) ? { x: -shift.x, y: -shift.y } : shift;

/** The two shortest shifts of a lattice, by Lagrange's and Gauss's reduction in the plane. */
export function reduceBasis(basis: Basis): Basis {
  let [short, long] = basis;
  if (dot(short, short) > dot(long, long)) [short, long] = [long, short];
  for (let turn = 0; turn < 64; turn++) {
    const times = Math.round(dot(short, long) / dot(short, short));
    const rest = { x: long.x - times * short.x, y: long.y - times * short.y };
    if (dot(rest, rest) >= dot(short, short) * (1 - 1e-9)) {
      long = rest;
      break;
    }
    [short, long] = [rest, short];
  }
  return [towardsRight(short), towardsRight(long)];
}

/** The whole numbers that come nearest to a shift. */
export function indicesOf([one, other]: Basis, shift: Shift): { readonly i: number; readonly j: number } {
  const area = cross(one, other);
  return { i: Math.round(cross(shift, other) / area), j: Math.round(cross(one, shift) / area) };
}

/** A lattice on which a picture may repeat. */
export interface LatticeGuess {
  readonly basis: Basis;
  readonly area: number;
  /** The mean likeness at its shifts, as far as they are in reach. */
  readonly likeness: number;
}

/** A likeness is read within so many pixels of where it should be: the peaks are known to about half a pixel. */
function highestNear(likeness: Likeness, shift: Shift, slack: number): number {
  const [x, y] = [Math.round(shift.x), Math.round(shift.y)];
  let best = -1;
  for (let dx = -slack; dx <= slack; dx++)
    for (let dy = -slack; dy <= slack; dy++) best = Math.max(best, likeness.at(x + dx, y + dy));
  return best;
}

/** The mean likeness at all shifts of a lattice that are in reach. */
export function latticeLikeness(likeness: Likeness, basis: Basis): number {
  const most = 6;
  let [sum, count] = [0, 0];
  for (let i = -most; i <= most; i++)
    for (let j = 0; j <= most; j++) {
      if (j === 0 && i <= 0) continue;
      const shift = combine(basis, i, j);
      if (Math.abs(shift.x) > likeness.reachX - 1 || Math.abs(shift.y) > likeness.reachY - 1) continue;
      sum += highestNear(likeness, shift, Math.min(3, 1 + Math.floor((Math.abs(i) + j) / 3)));
      count++;
    }
  return count === 0 ? 0 : sum / count;
}

/** So many of the highest peaks are paired, and so many of the shortest that are nearly as high. */
const PAIRED = 18;
const NEARLY = 0.1;

/**
 * The lattices that pairs of peaks span, smallest cell first; only those nearly as like as the best one. `least` is the shortest
 * shift that counts, in pixels.
 */
export function guessLattices(
  likeness: Likeness,
  peaks: readonly Peak[],
  least: number,
): readonly LatticeGuess[] {
  const best = peaks[0]?.value ?? 0;
  const highest = peaks.slice(0, PAIRED).filter((peak) => peak.value >= 0.6 * best);
  const shortest = peaks
    .filter((peak) => peak.value >= best - NEARLY)
    .sort((one, other) => Math.hypot(one.x, one.y) - Math.hypot(other.x, other.y))
    .slice(0, PAIRED);
  const high = [...new Set([...shortest, ...highest])];
  const guesses: LatticeGuess[] = [];
  for (const [index, one] of high.entries())
    for (const other of high.slice(index + 1)) {
      if (
        Math.abs(cross(one, other)) <
        least * Math.min(Math.hypot(one.x, one.y), Math.hypot(other.x, other.y))
      )
        continue;
      const basis = reduceBasis([one, other]);
      const [short, long] = basis;
      const area = cellArea(basis);
      if (Math.hypot(short.x, short.y) < least || area < least * Math.hypot(long.x, long.y)) continue;
      if (guesses.some((guess) => isSameLattice(guess.basis, basis, 2.5))) continue;
      guesses.push({ basis, area, likeness: latticeLikeness(likeness, basis) });
    }
  const top = Math.max(0, ...guesses.map((guess) => guess.likeness));
  return guesses.filter((guess) => guess.likeness >= 0.8 * top).sort((one, other) => one.area - other.area);
}

/** Tells whether two reduced lattices are the same, to within `slack` pixels. */
export function isSameLattice(one: Basis, other: Basis, slack: number): boolean {
  if (Math.abs(cellArea(one) / cellArea(other) - 1) > 0.1) return false;
  return other.every((shift) => {
    const { i, j } = indicesOf(one, shift);
    const nearest = combine(one, i, j);
    return Math.hypot(nearest.x - shift.x, nearest.y - shift.y) <= slack;
  });
}
