import type { SeamShift, Stretch } from "../types.js";
import { isWithin, scanSlips } from "./scan-slips.js";
import { CAP, misfitOf, type Pairs, type Slip } from "./slip.js";

/** How two edges lie to each other, in pixels. */
export interface Register {
  readonly along: number;
  /** How many rows the picture lacks at the seam, or has too many where it is negative; `undefined` where nothing tells. */
  readonly across: number | undefined;
  /** How much better the outlines agree with this register than with none, in the units of the scan of slips. */
  readonly evidence: number;
  readonly outlines: number;
}

/** The registers that are tried first, in pixels: all outlines then settle on the nearest. */
const COARSE = { along: 0.5, mostAlong: 10, across: 1, mostAcross: 8 } as const;

/** Across is told where its standard error is no more than this, in pixels. */
const SURE_ACROSS = 0.3;

/** Rounds of weighting, after which the estimate stands still to a hundredth of a pixel. */
const ROUNDS = 6;

const squareOf = ({ jump, slope, error, slack }: Slip, along: number, across: number): number =>
  (Math.max(0, Math.abs(jump - along - slope * across) - slack) / error) ** 2;

const nearest = (slips: readonly Slip[], along: number, across: number): Slip =>
  slips.reduce((one, other) => (squareOf(other, along, across) < squareOf(one, along, across) ? other : one));

const misfit = (slips: readonly Slip[], along: number, across: number): number => {
  let least: number = CAP;
  for (const slip of slips) least = Math.min(least, misfitOf(slip, along + slip.slope * across));
  return least;
};

/** Weighted least squares of jump = along + slope * across, each outline weighted by its error and by how well it agrees. */
function fitOnce(
  outlines: readonly (readonly Slip[])[],
  from: { readonly along: number; readonly across: number },
): { along: number; across: number; acrossError: number } {
  let [w, ws, wss, wj, wsj] = [0, 0, 0, 0, 0];
  for (const slips of outlines) {
    const slip = nearest(slips, from.along, from.across);
    const agrees = Math.exp(-squareOf(slip, from.along, from.across) / (2 * CAP));
    const weight = agrees / (slip.error ** 2 + slip.slack ** 2);
    w += weight;
    ws += weight * slip.slope;
    wss += weight * slip.slope * slip.slope;
    wj += weight * slip.jump;
    wsj += weight * slip.slope * slip.jump;
  }
  // What the slopes' spread about their mean adds: none where all outlines are parallel.
  const spread = w === 0 ? 0 : wss - (ws * ws) / w;
  const acrossError = spread > 0 ? 1 / Math.sqrt(spread) : Number.POSITIVE_INFINITY;
  const across = acrossError <= SURE_ACROSS ? (wsj - (ws * wj) / w) / spread : 0;
  return { along: w === 0 ? from.along : (wj - across * ws) / w, across, acrossError };
}

/**
 * The register of two edges, along and across the seam at once. Where rows lack or are too many, an outline that climbs by
 * `slope` rows a column jumps by slope * across, so outlines of different slopes tell across from along; outlines of
 * one slope, or square to the seam, cannot. Iteratively reweighted least squares with Welsch's weights (P. W. Holland and
 * R. E. Welsch, "Robust regression using iteratively reweighted least-squares", Communications in Statistics A6, 1977).
 */
export function measureRegister(pairs: Pairs, from: number, to: number): Register | undefined {
  const outlines = pairs.outlines.filter(
    (slips) => slips[0] !== undefined && isWithin(slips[0].at, { from, to }, pairs.period),
  );
  if (outlines.length === 0) return undefined;
  let best = { along: 0, across: 0, sum: Number.POSITIVE_INFINITY };
  for (let along = -COARSE.mostAlong; along <= COARSE.mostAlong; along += COARSE.along)
    for (let across = -COARSE.mostAcross; across <= COARSE.mostAcross; across += COARSE.across) {
      let sum = 0;
      for (const slips of outlines) sum += misfit(slips, along, across);
      if (sum < best.sum) best = { along, across, sum };
    }
  let estimate = { ...fitOnce(outlines, best) };
  for (let round = 1; round < ROUNDS; round++) estimate = fitOnce(outlines, estimate);
  const { along, across, acrossError } = estimate;
  const evidence = outlines.reduce(
    (sum, slips) => sum + misfit(slips, 0, 0) - misfit(slips, along, across),
    0,
  );
  return {
    along,
    across: acrossError <= SURE_ACROSS ? across : undefined,
    evidence,
    outlines: outlines.length,
  };
}

/**
 * Evidence that a whole edge is out of register. Where across may be chosen freely, too, chance finds more: of 16,000 closed
 * edges, also such that lie anywhere inside the bench's tiles, the one with the most reached 13.2 along only, and 16.6 else.
 */
const LEAST_EVIDENCE = { along: 13, both: 17 } as const;
const GRAINY_TIMES = 1.4;
const FEWEST_OUTLINES = 4;

/** Smaller shifts are within the error of rendering, in pixels; of hard edges, stairs that happen to agree. */
const LEAST_SHIFT = { soft: 0.5, hard: 0.9 } as const;

/** The whole edge is meant rather than a part of it where it explains this many times as much. */
const TIMES_OF_PART = 1.2;

/** A stretch of an edge that is out of register. */
export interface ShiftFinding {
  readonly px: Stretch;
  readonly shift: SeamShift;
}

const confidenceOf = (evidence: number): number => 1 - Math.exp(-evidence / 10);

/** The whole edge, where its outlines agree on one register, along and across. */
function findWholeShift(pairs: Pairs): (ShiftFinding & { readonly evidence: number }) | undefined {
  const places = pairs.outlines.flatMap((slips) => slips[0]?.at ?? []);
  const [first, last] = [Math.min(...places), Math.max(...places)];
  const register = measureRegister(pairs, first, last);
  if (register === undefined || register.outlines < FEWEST_OUTLINES) return undefined;
  const { along, across, evidence } = register;
  const shift = Math.hypot(along, across ?? 0);
  const least = LEAST_EVIDENCE[across === undefined ? "along" : "both"] * (pairs.isGrainy ? GRAINY_TIMES : 1);
  if (evidence < least || shift < LEAST_SHIFT[pairs.edges]) return undefined;
  return {
    px: { from: Math.floor(first), to: Math.ceil(last) + 1 },
    shift: { along, across, confidence: confidenceOf(evidence) },
    evidence,
  };
}

/** The stretch of an edge that is out of register, and by how much along and across the seam. */
export function findShift(pairs: Pairs): ShiftFinding | undefined {
  const whole = findWholeShift(pairs);
  const part = scanSlips(pairs);
  if (part === undefined || (whole && whole.evidence > TIMES_OF_PART * part.evidence)) return whole;
  const across = measureRegister(pairs, part.from, part.to)?.across;
  return {
    px: { from: Math.floor(part.from), to: Math.ceil(part.to) + 1 },
    shift: { along: part.shift, across, confidence: confidenceOf(part.evidence) },
  };
}
