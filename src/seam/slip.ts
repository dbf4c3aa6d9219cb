import { type Contour, followContours, isSameOutline } from "./contours.js";
import { fitStairs } from "./stairs.js";
import type { Strip } from "./strip.js";

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
  readonly columns: number;
}

/** Columns followed on each side: enough to average the stairs of a hard edge, few enough to be nearly straight. */
const DEPTH = 15;

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

/** The standard error of an outline's place in one column: of soft edges the renderer's, of hard edges that of stairs. */
const PLACE_ERROR = { soft: 0.05, hard: 0.35 } as const;

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

/** The jump between two outlines, fitted over as many columns as make it surest: up to the first bend or corner. */
function measureSlip(near: Contour, far: Contour, turn: number, edges: "soft" | "hard"): Slip {
  const least = PLACE_ERROR[edges];
  const most = Math.min(near.places.length, far.places.length);
  let best: Slip | undefined;
  if (edges === "hard") return measureStairs(near, far, turn, most);
  for (let columns = FEWEST_COLUMNS; columns <= Math.min(most, 10); columns++) {
    const { jump, slope, residual } = fitJump(near, far, columns, turn);
    // The variance of the intercept of a line through `columns` points at 0.5, 1.5, … from the seam.
    const spread = (columns * (columns * columns - 1)) / 12;
    const leverage = Math.sqrt(1 / columns + (columns * columns) / 4 / spread);
    const error = Math.hypot(Math.hypot(residual, least) * leverage, ERROR_PER_SLOPE * slope);
    if (best === undefined || error < best.error)
      best = { at: near.places[0] as number, jump, error, slack: 0, slope, columns };
  }
  return best as Slip;
}

/** The jump of a hard-edged outline, over as many columns as one course passes through: up to the first corner. */
function measureStairs(near: Contour, far: Contour, turn: number, most: number): Slip {
  const at = near.places[0] as number;
  const turned = far.places.map((place) => place - turn);
  for (let columns = most; columns >= FEWEST_COLUMNS; columns--) {
    const fit = fitJump(near, far, columns, turn);
    const stairs = fitStairs(near.places, turned, columns, fit.slope);
    if (stairs === undefined) continue;
    const { least, most: largest, slope } = stairs;
    const error = Math.hypot(STAIRS_ERROR, ERROR_PER_SLOPE * slope);
    return { at, jump: (least + largest) / 2, error, slack: (largest - least) / 2, slope, columns };
  }
  return { at, jump: 0, error: 1, slack: FARTHEST, slope: 0, columns: 0 };
}

/** The outlines of the near side, each with all outlines of the same colours on the far side within reach. */
export interface Pairs {
  readonly edges: "soft" | "hard";
  /** Grain moves outlines a little, and blocks of it move neighbours alike. */
  readonly isGrainy: boolean;
  readonly outlines: readonly (readonly Slip[])[];
}

/** Pairs the outlines that cross a seam. */
export function pairContours(strip: Strip): Pairs {
  const follow = (side: -1 | 1) =>
    followContours(strip, side, DEPTH)
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
      slips.push(measureSlip(one, other, turn, edges));
    }
    return slips;
  });
  return { edges, isGrainy: strip.isGrainy, outlines };
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

/** The misfit of the best of an outline's pairings. */
function misfit(slips: readonly Slip[], shift: number): number {
  let least = CAP;
  for (const slip of slips) least = Math.min(least, misfitOf(slip, shift));
  return least;
}

/** Two outlines agree by chance; three hardly ever do. */
const FEWEST_OUTLINES = 3;

/**
 * How much outlines must speak for a shift. Calibrated on closed edges, also such that lie anywhere inside the bench's tiles:
 * 3,100 soft ones reached 10.5 for shifts of about a pixel, 5.8 and 6.9 for larger ones, 2,600 hard ones 12.0, 3.7 and 1.8. In
 * a row of equal small shapes every outline has a partner some pixels on.
 */
const LEAST_EVIDENCE = {
  soft: { near: 10.7, far: 9, farthest: 12 },
  hard: { near: 12.4, far: 7, farthest: 9 },
} as const;

/** The shifts that are tried, in pixels: hard edges move by whole ones. */
const SHIFTS = { soft: { least: 0.5, step: 0.25 }, hard: { least: 1, step: 1 } } as const;

/** Up to where a shift is called near, and from where it is among the farthest, in pixels. */
const NEAR_SHIFT = 1.2;
const FARTHEST_FROM = 6.5;

const reachOf = (shift: number): "near" | "far" | "farthest" =>
  Math.abs(shift) <= NEAR_SHIFT ? "near" : Math.abs(shift) < FARTHEST_FROM ? "far" : "farthest";

/** Where there is grain, this many times as much evidence is asked for. */
const GRAINY_TIMES = 1.4;

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
export function scanSlips(pairs: Pairs): SlipScan | undefined {
  const least = LEAST_EVIDENCE[pairs.edges];
  const times = pairs.isGrainy ? GRAINY_TIMES : 1;
  return bestScans(pairs)
    .filter(({ evidence, shift }) => evidence >= times * least[reachOf(shift)])
    .sort((one, other) => other.evidence - one.evidence)[0];
}

/** The stretch that speaks most for a near shift, for a far one, and for one of the farthest. */
export function bestScans(pairs: Pairs): readonly SlipScan[] {
  const known = pairs.outlines.filter((slips) => slips.length > 0);
  const at = known.map((slips) => (slips[0] as Slip).at);
  const weight = known.map((_, i) =>
    i > 0 && (at[i] as number) - (at[i - 1] as number) < ONE_LINE ? 0.5 : 1,
  );
  const rest = known.map((slips) => misfit(slips, 0));
  const best: { near?: SlipScan; far?: SlipScan; farthest?: SlipScan } = {};
  const grid = SHIFTS[pairs.edges];
  for (let shift = -FARTHEST; shift <= FARTHEST; shift += grid.step) {
    if (Math.abs(shift) < grid.least) continue;
    const reach = reachOf(shift);
    let [sum, from] = [0, 0];
    for (let i = 0; i < known.length; i++) {
      if (sum <= 0) [sum, from] = [0, i];
      sum += (weight[i] as number) * ((rest[i] as number) - misfit(known[i] as readonly Slip[], shift));
      if (sum > (best[reach]?.evidence ?? 0))
        best[reach] = {
          shift,
          evidence: sum,
          from: at[from] as number,
          to: at[i] as number,
          outlines: i - from + 1,
        };
    }
  }
  return (["near", "far", "farthest"] as const).flatMap((reach) => {
    const scan = best[reach];
    return scan === undefined || scan.outlines < FEWEST_OUTLINES ? [] : [refine(scan, known)];
  });
}

/** The shift as the mean of the jumps that agree with it, each by its sureness. */
function refine(scan: SlipScan, known: readonly (readonly Slip[])[]): SlipScan {
  let [sum, weight] = [0, 0];
  for (const slips of known)
    for (const { at, jump, error, slack } of slips) {
      const off = Math.abs(jump - scan.shift) - slack;
      if (at < scan.from || at > scan.to || off > Math.max(0.3, 2 * error)) continue;
      const sureness = 1 / (error * error + slack * slack);
      sum += sureness * jump;
      weight += sureness;
    }
  return weight === 0 ? scan : { ...scan, shift: sum / weight };
}
