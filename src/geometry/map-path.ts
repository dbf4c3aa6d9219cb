import { type CubicPath, countCubics, type Subpath } from "./cubic-path.js";
import { intoOf, MAP_NUMBERS, type MapInto, type SmoothMap } from "./smooth-map.js";

/** A path that was mapped, and how well. */
export interface MappedPath {
  readonly path: CubicPath;
  /** The largest miss met at the probes, in the unit of the image. */
  readonly worst: number;
}

/** Where each new cubic is compared with the true image, the likeliest place of a miss first. */
const PROBES = [1 / 2, 1 / 4, 3 / 4, 1 / 8, 7 / 8, 3 / 8, 5 / 8] as const;

/** Within one piece of the map: after this many probes, a miss of at most this share of what is allowed needs no more of them. */
const FEW = { probes: 3, share: 0.25 } as const;

/** What the probes may miss between them: the largest interpolation error lies within 4 per cent of a probe's. */
const SAFETY = 0.8;

/** A cubic is halved at most this often: 1/4096 of it. Below, only a jump in the map's stretch is left. */
const DEPTH = 12;

/** Halvings that find where a cubic passes from one piece of the map into the next. */
const CROSSING = 36;

/** A cubic's share that is too short to stand by itself. */
const SLIVER = 1e-7;

/** Numbers of a sample: parameter, place of the image, its derivative by the parameter, and the map's piece. */
const SAMPLE = 6;

/** Two rows of samples for the ends, two for each halving, two for the crossing that may follow each. */
const ROWS = 2 * (2 * DEPTH + 2);

/** What mapping one path works with. Samples lie in rows: numbers that pass through no call need no box. */
interface Tracer {
  readonly into: MapInto;
  readonly allowed: number;
  readonly at: Float64Array;
  readonly samples: Float64Array;
  /** The source, by powers of its parameter: 4 coefficients of x, 4 of y. */
  readonly source: Float64Array;
  points: number[];
  worst: number;
}

/**
 * The image of a path under a smooth map, as cubics that stay within `tolerance` (in the unit of the image) of the
 * true image at the same parameter. Each new cubic takes place and speed from the map at its two ends (Hermite
 * interpolation), is compared with the true image at up to seven places, and is halved until it fits; first of all it
 * is cut where it passes from one piece of the map into another. Under an affine map every cubic stays one cubic, exactly.
 */
export function mapPath(path: CubicPath, map: SmoothMap, tolerance: number): MappedPath {
  const tracer: Tracer = {
    into: intoOf(map),
    allowed: SAFETY * tolerance,
    at: new Float64Array(MAP_NUMBERS),
    samples: new Float64Array(SAMPLE * ROWS),
    source: new Float64Array(8),
    points: [],
    worst: 0,
  };
  const subpaths = path.subpaths.map((subpath): Subpath => {
    const [x, y] = subpath.points;
    if (x === undefined || y === undefined) return subpath;
    tracer.into(x, y, tracer.at);
    const points = [tracer.at[0] ?? 0, tracer.at[1] ?? 0];
    tracer.points = points;
    for (let k = 0, count = countCubics(subpath); k < count; k += 1) {
      readSource(tracer, subpath.points, 6 * k);
      takeSample(tracer, 0, 0);
      takeSample(tracer, 1, 1);
      fit(tracer, 0, 1, 2, DEPTH);
    }
    return { closed: subpath.closed, points };
  });
  return { path: { subpaths }, worst: tracer.worst };
}

function readSource({ source }: Tracer, points: readonly number[], first: number): void {
  for (let axis = 0; axis < 2; axis += 1) {
    const p0 = points[first + axis] ?? Number.NaN;
    const p1 = points[first + 2 + axis] ?? Number.NaN;
    const p2 = points[first + 4 + axis] ?? Number.NaN;
    const p3 = points[first + 6 + axis] ?? Number.NaN;
    source[4 * axis] = p0;
    source[4 * axis + 1] = 3 * (p1 - p0);
    source[4 * axis + 2] = 3 * (p0 - 2 * p1 + p2);
    source[4 * axis + 3] = p3 - p0 + 3 * (p1 - p2);
  }
}

/** Asks the map at a parameter of the source. */
function ask({ source, into, at }: Tracer, t: number): void {
  const x = (source[0] ?? 0) + t * ((source[1] ?? 0) + t * ((source[2] ?? 0) + t * (source[3] ?? 0)));
  const y = (source[4] ?? 0) + t * ((source[5] ?? 0) + t * ((source[6] ?? 0) + t * (source[7] ?? 0)));
  into(x, y, at);
}

function takeSample(tracer: Tracer, t: number, row: number): void {
  ask(tracer, t);
  const { source, samples, at } = tracer;
  const speedX = (source[1] ?? 0) + t * (2 * (source[2] ?? 0) + t * 3 * (source[3] ?? 0));
  const speedY = (source[5] ?? 0) + t * (2 * (source[6] ?? 0) + t * 3 * (source[7] ?? 0));
  const first = SAMPLE * row;
  samples[first] = t;
  samples[first + 1] = at[0] ?? 0;
  samples[first + 2] = at[1] ?? 0;
  samples[first + 3] = (at[2] ?? 0) * speedX + (at[4] ?? 0) * speedY;
  samples[first + 4] = (at[3] ?? 0) * speedX + (at[5] ?? 0) * speedY;
  samples[first + 5] = at[6] ?? 0;
}

/** Adds the image between the samples of two rows to the points. Rows from `free` on may be used; `from` is used up. */
function fit(tracer: Tracer, from: number, to: number, free: number, depth: number): void {
  const { samples } = tracer;
  const one = SAMPLE * from;
  const other = SAMPLE * to;
  const miss = missBetween(tracer, one, other);
  const start = samples[one] ?? 0;
  const span = (samples[other] ?? 0) - start;
  if (miss > tracer.allowed && cutAtCrossing(tracer, from, to, free)) {
    // Each part works on a copy of what it shares with the other: rows are used up.
    if ((samples[SAMPLE * free] ?? 0) - start > SLIVER) fit(tracer, from, free, free + 2, depth);
    if ((samples[other] ?? 0) - (samples[SAMPLE * (free + 1)] ?? 0) <= SLIVER) return;
    samples.copyWithin(one, SAMPLE * (free + 1), SAMPLE * (free + 2));
    fit(tracer, from, to, free, depth);
    return;
  }
  if (miss > tracer.allowed && depth > 0) {
    takeSample(tracer, start + span / 2, free);
    samples.copyWithin(SAMPLE * (free + 1), SAMPLE * free, SAMPLE * (free + 1));
    fit(tracer, from, free, free + 2, depth - 1);
    fit(tracer, free + 1, to, free + 2, depth - 1);
    return;
  }
  tracer.worst = Math.max(tracer.worst, miss);
  const third = span / 3;
  const x = samples[other + 1] ?? 0;
  const y = samples[other + 2] ?? 0;
  tracer.points.push(
    (samples[one + 1] ?? 0) + third * (samples[one + 3] ?? 0),
    (samples[one + 2] ?? 0) + third * (samples[one + 4] ?? 0),
    x - third * (samples[other + 3] ?? 0),
    y - third * (samples[other + 4] ?? 0),
    x,
    y,
  );
}

/** By how much the cubic between two samples misses the true image: looked at until it is too much, or surely little. */
function missBetween(tracer: Tracer, one: number, other: number): number {
  const { samples, at, allowed } = tracer;
  const start = samples[one] ?? 0;
  const span = (samples[other] ?? 0) - start;
  const fromX = samples[one + 1] ?? 0;
  const fromY = samples[one + 2] ?? 0;
  const riseX = (samples[other + 1] ?? 0) - fromX;
  const riseY = (samples[other + 2] ?? 0) - fromY;
  const inX = span * (samples[one + 3] ?? 0);
  const inY = span * (samples[one + 4] ?? 0);
  const outX = span * (samples[other + 3] ?? 0);
  const outY = span * (samples[other + 4] ?? 0);
  let worst = 0;
  const smooth = samples[one + 5] === samples[other + 5];
  for (let k = 0; k < PROBES.length; k += 1) {
    if (smooth && k === FEW.probes && worst <= FEW.share * allowed) break;
    const s = PROBES[k] ?? 0;
    ask(tracer, start + s * span);
    const rise = s * s * (3 - 2 * s);
    const early = s * (1 - s) * (1 - s);
    const late = s * s * (s - 1);
    const x = fromX + rise * riseX + early * inX + late * outX - (at[0] ?? 0);
    const y = fromY + rise * riseY + early * inY + late * outY - (at[1] ?? 0);
    const miss = Math.sqrt(x * x + y * y);
    if (!(miss <= worst)) worst = miss;
    if (worst > allowed) break;
  }
  return worst;
}

/**
 * Finds where a cubic leaves the piece of the map in which it starts: its last sample there goes into the row `free`,
 * the first beyond into the row after it. Gives false where both ends lie in one piece.
 */
function cutAtCrossing(tracer: Tracer, from: number, to: number, free: number): boolean {
  const { samples, at } = tracer;
  const piece = samples[SAMPLE * from + 5];
  let low = samples[SAMPLE * from] ?? 0;
  let high = samples[SAMPLE * to] ?? 0;
  if (piece === samples[SAMPLE * to + 5] || high - low <= SLIVER) return false;
  for (let round = 0; round < CROSSING; round += 1) {
    const middle = (low + high) / 2;
    ask(tracer, middle);
    if (at[6] === piece) low = middle;
    else high = middle;
  }
  takeSample(tracer, low, free);
  takeSample(tracer, high, free + 1);
  // What is left is too short to stand by itself: the first part ends where all ends.
  if ((samples[SAMPLE * to] ?? 0) - high <= SLIVER)
    samples.copyWithin(SAMPLE * free, SAMPLE * to, SAMPLE * to + 3);
  return true;
}
