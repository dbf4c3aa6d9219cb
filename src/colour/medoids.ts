/** Points with weights, by their distances: `distances[i][j]` is how far point i is from point j, not squared. */
export interface WeightedPoints {
  readonly distances: readonly (readonly number[])[];
  readonly weights: readonly number[];
}

/**
 * Chooses `count` of the points so that all points together lie near to their nearest chosen one: the sum of weight times
 * squared distance is made small, until no exchange of one chosen point for another makes it smaller. Ties go to the lower
 * index, so that the same points give the same choice.
 *
 * Source: L. Kaufman, P. J. Rousseeuw, "Finding Groups in Data", 1990, chapter 2 ("Partitioning Around Medoids": build,
 * then swap), with the exchange of all chosen points tried in one pass after E. Schubert, P. J. Rousseeuw, "Fast and eager
 * k-medoids clustering", Inf. Syst. 101 (2021).
 *
 * @param fixed - Points that are chosen in any case, at most `count`.
 * @returns Indices in the order of choice, the fixed ones first.
 */
export function chooseMedoids(
  points: WeightedPoints,
  count: number,
  fixed: readonly number[],
): readonly number[] {
  const size = points.weights.length;
  const cost = (point: number, medoid: number): number => {
    const distance = points.distances[point]?.[medoid] ?? 0;
    return (points.weights[point] ?? 0) * distance * distance;
  };
  const indices = Array.from({ length: size }, (_, index) => index);
  const chosen = [...fixed];
  while (chosen.length < Math.min(count, size)) chosen.push(findBestAddition(indices, chosen, cost));
  while (true) {
    const swap = findBestSwap(indices, chosen, fixed.length, cost);
    if (swap === undefined) return chosen;
    chosen[swap.slot] = swap.point;
  }
}

type Cost = (point: number, medoid: number) => number;

function findBestAddition(indices: readonly number[], chosen: readonly number[], cost: Cost): number {
  const nearest = indices.map((point) => Math.min(...chosen.map((medoid) => cost(point, medoid))));
  let best = { point: -1, total: Number.POSITIVE_INFINITY };
  for (const candidate of indices) {
    if (chosen.includes(candidate)) continue;
    let total = 0;
    for (const point of indices) total += Math.min(nearest[point] ?? 0, cost(point, candidate));
    if (best.point < 0 || total < best.total) best = { point: candidate, total };
  }
  return best.point;
}

/** An exchange must win more than rounding could, or two equal choices would be exchanged for ever. */
const LEAST_GAIN = 1e-9;

function findBestSwap(
  indices: readonly number[],
  chosen: readonly number[],
  fixedSlots: number,
  cost: Cost,
): { readonly slot: number; readonly point: number } | undefined {
  const near = indices.map((point) => findTwoNearest(point, chosen, cost));
  const total = near.reduce((sum, { first }) => sum + first, 0);
  let best: { slot: number; point: number; change: number } | undefined;
  for (const candidate of indices) {
    if (chosen.includes(candidate)) continue;
    // What each exchange would change: a part common to all, and a part for the points that lose their own medoid.
    let common = 0;
    const losses = new Array<number>(chosen.length).fill(0);
    for (const point of indices) {
      const { slot = 0, first = 0, second = 0 } = near[point] ?? {};
      const now = cost(point, candidate);
      const gain = Math.min(0, now - first);
      common += gain;
      losses[slot] = (losses[slot] ?? 0) + Math.min(second, now) - first - gain;
    }
    for (let slot = fixedSlots; slot < chosen.length; slot += 1) {
      const change = common + (losses[slot] ?? 0);
      if (change < -LEAST_GAIN * total && (best === undefined || change < best.change)) {
        best = { slot, point: candidate, change };
      }
    }
  }
  return best;
}

function findTwoNearest(
  point: number,
  chosen: readonly number[],
  cost: Cost,
): { readonly slot: number; readonly first: number; readonly second: number } {
  let [slot, first, second] = [0, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const [at, medoid] of chosen.entries()) {
    const here = cost(point, medoid);
    if (here < first) [slot, second, first] = [at, first, here];
    else if (here < second) second = here;
  }
  return { slot, first, second };
}
