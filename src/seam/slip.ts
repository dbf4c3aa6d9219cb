import { type Contour, followContours } from "./contours.js";
import { labDifference } from "./lab.js";
import type { Strip } from "./strip.js";

/** One outline that crosses the seam, and by how much it jumps there. Pixels. */
export interface Slip {
  /** Where it crosses, along the seam. */
  readonly at: number;
  /** How much further down the far side goes on, beyond what the outline's own slope explains. */
  readonly jump: number;
  /** The standard error of `jump`. */
  readonly error: number;
  /** How steep the outline is: rows a column. */
  readonly slope: number;
  readonly columns: number;
}

/** Columns followed on each side: enough to average the stairs of a hard edge, few enough to be nearly straight. */
const DEPTH = 10;

const FEWEST_COLUMNS = 4;

/** Edges further out of register than this, in pixels, count as open, not as shifted. */
export const FARTHEST = 10;

const SAME_COLOUR = 8;

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

/** The least standard error of a jump: of soft edges the renderer's, of hard edges that of stairs. */
const LEAST_ERROR = { soft: 0.1, hard: 0.35 } as const;

/** Steep outlines are less sure along the seam, in proportion. */
const ERROR_PER_SLOPE = 0.1;

const isHard = (contour: Contour): boolean =>
  contour.places.every((place) => Math.abs((place % 1) - 0.5) < 1e-6);

/** Every pairing of an outline on the near side with one of the same colours on the far side within reach. */
export function pairContours(strip: Strip): readonly (readonly Slip[])[] {
  const follow = (side: -1 | 1) =>
    followContours(strip, side, DEPTH)
      .filter((one) => one.places.length >= FEWEST_COLUMNS)
      .sort((one, other) => (one.places[0] as number) - (other.places[0] as number));
  const near = follow(-1);
  const far = follow(1);
  return near.map((one) => {
    const slips: Slip[] = [];
    for (const other of far) {
      const raw = (other.places[0] as number) - (one.places[0] as number);
      const turn = strip.cyclic ? strip.length * Math.round(raw / strip.length) : 0;
      if (Math.abs(raw - turn) > FARTHEST + 4) continue;
      if (one.energy > 1.6 * other.energy || other.energy > 1.6 * one.energy) continue;
      if (labDifference(strip.lab, 4 * one.before, 4 * other.before) > SAME_COLOUR) continue;
      if (labDifference(strip.lab, 4 * one.after, 4 * other.after) > SAME_COLOUR) continue;
      const columns = Math.min(one.places.length, other.places.length);
      const { jump, slope, residual } = fitJump(one, other, columns, turn);
      // The variance of the intercept of a line through `columns` points at 0.5, 1.5, … from the seam.
      const mean = columns / 2;
      const spread = (columns * (columns * columns - 1)) / 12;
      const leverage = Math.sqrt(1 / columns + (mean * mean) / spread);
      const least = isHard(one) && isHard(other) ? LEAST_ERROR.hard : LEAST_ERROR.soft;
      const error = Math.hypot(residual * leverage, least, ERROR_PER_SLOPE * slope);
      slips.push({ at: one.places[0] as number, jump, error, slope, columns });
    }
    return slips;
  });
}

/** No single outline counts for more than this: many must agree. */
const CAP = 5;

/** The unlikeliness of an outline's pairings for a shift; Welsch's function, which forgives outliers. */
function misfit(slips: readonly Slip[], shift: number): number {
  let least = CAP;
  for (const { jump, error } of slips) {
    const square = ((jump - shift) / error) ** 2;
    least = Math.min(least, CAP * (1 - Math.exp(-square / (2 * CAP))));
  }
  return least;
}

/** A stretch of outlines that agree on a shift better than on none. */
export interface SlipScan {
  readonly shift: number;
  readonly evidence: number;
  readonly from: number;
  readonly to: number;
  readonly outlines: number;
}

/** Outlines nearer than this, in rows, are the two sides of one line and not two witnesses. */
const ONE_LINE = 7;

/**
 * The stretch of the seam whose outlines speak most for one shift against none: for each shift the run of largest summed
 * gain (a scan statistic).
 */
export function scanSlips(pairs: readonly (readonly Slip[])[]): SlipScan | undefined {
  const known = pairs.filter((slips) => slips.length > 0);
  const at = known.map((slips) => (slips[0] as Slip).at);
  const weight = known.map((_, i) =>
    i > 0 && (at[i] as number) - (at[i - 1] as number) < ONE_LINE ? 0.5 : 1,
  );
  const rest = known.map((slips) => misfit(slips, 0));
  let best: SlipScan | undefined;
  for (let step = -4 * FARTHEST; step <= 4 * FARTHEST; step++) {
    const shift = step / 4;
    if (Math.abs(shift) < 0.5) continue;
    let [sum, from] = [0, 0];
    for (let i = 0; i < known.length; i++) {
      if (sum <= 0) [sum, from] = [0, i];
      sum += (weight[i] as number) * ((rest[i] as number) - misfit(known[i] as readonly Slip[], shift));
      if (sum > (best?.evidence ?? 0))
        best = {
          shift,
          evidence: sum,
          from: at[from] as number,
          to: at[i] as number,
          outlines: i - from + 1,
        };
    }
  }
  return best;
}
