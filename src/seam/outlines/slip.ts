import type { Strip } from "../strip/strip.js";
import { type Contour, followContours, isSameOutline } from "./contours.js";
import { fitStairs } from "./stairs.js";

/** One outline that crosses the seam, and by how much it jumps there. Pixels. */
export interface Slip {
  /** Where it crosses, along the seam. */
  readonly at: number;
  /** How much further down the far side goes on, beyond what the outline's own slope explains. */
  readonly jump: number;
  /** The standard error of `jump`. */
  readonly error: number;
  /** The outline may as well jump by so much less or more: the stairs of hard edges do not tell. 0 for soft ones. */
  readonly slack: number;
  /** How steep the outline is: rows a column. */
  readonly slope: number;
}

/** Columns followed on each side: few enough to be nearly straight, and enough for the stairs of a hard edge to show. */
const DEPTH = { soft: 10, hard: 15 } as const;

const FEWEST_COLUMNS = 4;

/** Edges further out of register than this, in pixels, count as open, not as shifted. */
export const FARTHEST = 10;

/**
 * The jump of an outline at the seam, by least squares: place = a + b x + c x^2 + jump * sign(x) / 2 with x the distance from
 * the seam. On columns that lie symmetrically, a and c fall out of the differences of opposite columns.
 */
function fitJump(
  near: Contour,
  far: Contour,
  columns: number,
  turn: number,
): { jump: number; slope: number; residual: number } {
  let [sx, sxx, sy, sxy] = [0, 0, 0, 0];
  const odd = (k: number) => (far.places[k] as number) - (near.places[k] as number) - turn;
  for (let k = 0; k < columns; k++) {
    const x = k + 0.5;
    sx += x;
    sxx += x * x;
    sy += odd(k);
    sxy += x * odd(k);
  }
  const slope = (columns * sxy - sx * sy) / (columns * sxx - sx * sx);
  const jump = (sy - slope * sx) / columns;
  let squares = 0;
  for (let k = 0; k < columns; k++) squares += (odd(k) - jump - slope * (k + 0.5)) ** 2;
  return { jump, slope: slope / 2, residual: Math.sqrt(squares / Math.max(1, columns - 2)) };
}

/** The standard error of a soft outline's place in one column: the renderer's. */
const PLACE_ERROR = 0.05;

/** How far a hard-edged outline may lie off what its stairs allow: outlines are no parabolas. */
const STAIRS_ERROR = 0.2;

/** Steep outlines are less sure along the seam, in proportion. */
const ERROR_PER_SLOPE = 0.05;

/** How far outlines lie off the middle between two rows, in the mean: 0 for hard edges, a quarter for soft ones. */
const MOST_OFF_HARD = 0.12;

/** Tells whether a print has hard edges: its outlines run between whole rows, whatever their slope. */
function hasHardEdges(contours: readonly Contour[]): boolean {
  let [off, count] = [0, 0];
  for (const { places } of contours)
    for (const place of places) {
      off += Math.abs((((place % 1) + 1) % 1) - 0.5);
      count++;
    }
  return off < MOST_OFF_HARD * count;
}

/** The jump of a soft outline, fitted over as many columns as make it surest: up to the first bend or corner. */
function measureSoft(near: Contour, far: Contour, turn: number, most: number): Slip {
  const at = near.places[0] as number;
  let best: Slip = { at, jump: 0, error: Number.POSITIVE_INFINITY, slack: 0, slope: 0 };
  for (let columns = FEWEST_COLUMNS; columns <= most; columns++) {
    const { jump, slope, residual } = fitJump(near, far, columns, turn);
    // The variance of the intercept of a line through `columns` points at 0.5, 1.5, … from the seam.
    const spread = (columns * (columns * columns - 1)) / 12;
    const leverage = Math.sqrt(1 / columns + (columns * columns) / 4 / spread);
    const error = Math.hypot(Math.hypot(residual, PLACE_ERROR) * leverage, ERROR_PER_SLOPE * slope);
    if (error < best.error) best = { at, jump, error, slack: 0, slope };
  }
  return best;
}

/** The jump of a hard-edged outline, over as many columns as one course passes through: up to the first corner. */
function measureHard(near: Contour, far: Contour, turn: number, most: number): Slip {
  const at = near.places[0] as number;
  const turned = far.places.map((place) => place - turn);
  for (let columns = most; columns >= FEWEST_COLUMNS; columns--) {
    const fit = fitJump(near, far, columns, turn);
    const stairs = fitStairs(near.places, turned, columns, fit.slope);
    if (stairs === undefined) continue;
    const { least, most: largest, slope } = stairs;
    const error = Math.hypot(STAIRS_ERROR, ERROR_PER_SLOPE * slope);
    return { at, jump: (least + largest) / 2, error, slack: (largest - least) / 2, slope };
  }
  return { at, jump: 0, error: 1, slack: FARTHEST, slope: 0 };
}

/** The outlines of the near side, each with all outlines of the same colours on the far side within reach. */
export interface Pairs {
  readonly edges: "soft" | "hard";
  /** Grain moves outlines a little, and blocks of it move neighbours alike. */
  readonly isGrainy: boolean;
  /** After so many rows the seam begins anew; `undefined` where it ends. */
  readonly period: number | undefined;
  readonly outlines: readonly (readonly Slip[])[];
}

/** Pairs the outlines that cross a seam. */
export function pairContours(strip: Strip): Pairs {
  const follow = (side: -1 | 1) =>
    followContours(strip, side, DEPTH.hard)
      .filter((one) => one.places.length >= FEWEST_COLUMNS)
      .sort((one, other) => (one.places[0] as number) - (other.places[0] as number));
  const near = follow(-1);
  const far = follow(1);
  const edges = hasHardEdges([...near, ...far]) ? "hard" : "soft";
  const outlines = near.map((one) => {
    const slips: Slip[] = [];
    for (const other of far) {
      const raw = (other.places[0] as number) - (one.places[0] as number);
      const turn = strip.cyclic ? strip.length * Math.round(raw / strip.length) : 0;
      if (Math.abs(raw - turn) > FARTHEST + 4) continue;
      if (!isSameOutline(strip, one, other)) continue;
      const columns = Math.min(one.places.length, other.places.length, DEPTH[edges]);
      slips.push((edges === "hard" ? measureHard : measureSoft)(one, other, turn, columns));
    }
    return slips;
  });
  return { edges, isGrainy: strip.isGrainy, period: strip.cyclic ? strip.length : undefined, outlines };
}

/** No single outline counts for more than this: many must agree. */
export const CAP = 5;

/**
 * How little a shift explains an outline's jump, from 0 to CAP, as a negative logarithm of its likelihood. For soft edges
 * Welsch's function, which forgives outliers. Stairs are made by the fewer courses the nearer a jump lies to the ends of its
 * range; the courses of one jump fill an area, which falls with the square of what is left.
 */
export function misfitOf({ jump, error, slack }: Slip, shift: number): number {
  const off = Math.abs(jump - shift);
  if (slack === 0) return CAP * (1 - Math.exp(-((off / error) ** 2) / (2 * CAP)));
  const left = 1 - off / (slack + error);
  return left <= 0 ? CAP : Math.min(CAP, -2 * Math.log(left));
}
