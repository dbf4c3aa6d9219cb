import type { Stretch } from "../types.js";
import { CAP, FARTHEST, misfitOf, type Pairs, type Slip } from "./slip.js";

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
 * of 9,000 soft ones, one reached more than 9.7 for a shift of about a pixel, none more than 9.2 and 5.7 for larger ones; of
 * 9,000 hard ones two more than 12.4, 5.1 and 4.4. In a row of equal small shapes every outline has a partner some pixels on.
 */
const LEAST_EVIDENCE = {
  soft: { near: 10.6, far: 9.3, farthest: 20 },
  hard: { near: 12.5, far: 7.5, farthest: 15 },
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

/** Tells whether a place, or the same one round the seam, lies in a stretch. */
export const isWithin = (at: number, { from, to }: Stretch, period: number | undefined): boolean =>
  [at, at + (period ?? 0)].some((place) => place >= from && place <= to);

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
  const count = known.length;
  const { period } = pairs;
  // A motif may lie over the place where the seam begins anew: there the scan goes round once more.
  const places = (period === undefined ? [0] : [0, period]).flatMap((turn) =>
    known.map((slips) => (slips[0] as Slip).at + turn),
  );
  const weight = places.map((at, i) => (i > 0 && at - (places[i - 1] as number) < ONE_LINE ? 0.5 : 1));
  const rest = known.map((slips) => misfit(slips, 0));
  const best: { near?: SlipScan; far?: SlipScan; farthest?: SlipScan } = {};
  const grid = SHIFTS[pairs.edges];
  for (let shift = -FARTHEST; shift <= FARTHEST; shift += grid.step) {
    if (Math.abs(shift) < grid.least) continue;
    const reach = reachOf(shift);
    let [sum, from] = [0, 0];
    const gains = known.map((slips, k) => (rest[k] as number) - misfit(slips, shift));
    for (let i = 0; i < places.length; i++) {
      if (sum <= 0 || i - from >= count) [sum, from] = [0, i];
      sum += (weight[i] as number) * (gains[i % count] as number);
      if (sum > (best[reach]?.evidence ?? 0))
        best[reach] = {
          shift,
          evidence: sum,
          from: places[from] as number,
          to: places[i] as number,
          outlines: i - from + 1,
        };
    }
  }
  return (["near", "far", "farthest"] as const).flatMap((reach) => {
    const scan = best[reach];
    return scan === undefined || scan.outlines < FEWEST_OUTLINES ? [] : [refine(scan, known, period)];
  });
}

/** The shift as the mean of the jumps that agree with it, each by its sureness. */
function refine(scan: SlipScan, known: readonly (readonly Slip[])[], period: number | undefined): SlipScan {
  let [sum, weight] = [0, 0];
  for (const slips of known)
    for (const { at, jump, error, slack } of slips) {
      const off = Math.abs(jump - scan.shift) - slack;
      if (!isWithin(at, scan, period) || off > Math.max(0.3, 2 * error)) continue;
      const sureness = 1 / (error * error + slack * slack);
      sum += sureness * jump;
      weight += sureness;
    }
  return weight === 0 ? scan : { ...scan, shift: sum / weight };
}
