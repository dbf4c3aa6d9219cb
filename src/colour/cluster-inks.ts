import { aText, listOf, maybe, partsOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { someInks } from "./checks.js";
import { hexDifference } from "./difference.js";
import { chooseMedoids } from "./medoids.js";
import { readInk } from "./read.js";
import { hexToOklab } from "./spaces.js";

/** An ink and how much it counts, for example how often it is used or how much of the cloth it covers. */
export interface WeightedInk {
  readonly ink: string;
  /** Any unit, 0 or more. */
  readonly weight: number;
}

/** What one ink becomes, and how far that is to the eye in CIEDE2000. */
export interface InkMove {
  readonly ink: string;
  readonly to: string;
  readonly difference: number;
}

/** The answer of {@link clusterInks}. */
export interface InkReduction {
  /** The inks that are left, all of them inks of the print. */
  readonly inks: readonly string[];
  /** What each ink becomes, in the order they were given; those that are left become themselves. */
  readonly moves: readonly InkMove[];
  /** The same as a table, for a colourway. */
  readonly table: Readonly<Record<string, string>>;
}

/** More inks than this come from a traced photograph; distances between all pairs would fill the memory. */
const MOST_INKS = 1024;

const weightedInks = listOf(partsOf<WeightedInk>({ ink: aText }));
const clusterOptions = partsOf<{ readonly keep?: readonly string[] }>({ keep: maybe(someInks) });

/**
 * Reduces inks to a number of screens. The inks that are left are inks of the print, so that nobody must approve a new one;
 * each other ink becomes the nearest of them in OKLab. They are chosen so that the sum of weight times squared distance in
 * OKLab is small, and no exchange of one of them makes it smaller. The same inks give the same answer.
 *
 * @param inks - Opaque CSS colours with weights of 0 or more; the weights of one ink are added up. At most 1024.
 * @param count - How many may be left, 1 or more. With as few inks as that, nothing changes.
 * @param options - `keep`: inks that must be left.
 * @throws {@link RepetendError} `E_NUMBER` for a count or weight out of range, or more inks to keep than may be left;
 * `E_INK` for an ink to keep that is not among the inks; `E_COLOUR` for one that cannot be read; `E_LIMIT` for too many.
 * @example
 * ```ts
 * import { clusterInks } from "repetend";
 * const reeds = [
 *   { ink: "#6b7f2a", weight: 30 },
 *   { ink: "#6d8230", weight: 2 },
 *   { ink: "#f2ead8", weight: 90 },
 * ];
 * clusterInks(reeds, 2).table["#6d8230"]; // "#6b7f2a"
 * ```
 */
export function clusterInks(
  inks: readonly WeightedInk[],
  count: number,
  options: { readonly keep?: readonly string[] } = {},
): InkReduction {
  weightedInks(inks, "inks");
  clusterOptions(options, "options");
  const weights = addWeights(inks);
  const all = [...weights.keys()];
  const keep = readKeep(options.keep ?? [], all);
  if (!Number.isSafeInteger(count) || count < Math.max(1, keep.length)) {
    throw new RepetendError("E_NUMBER", "a number of screens is out of range", {
      where: "count",
      value: String(count),
      accepted: `a whole number, ${keep.length > 1 ? `${keep.length} or more: so many inks are kept` : "1 or more"}`,
    });
  }
  const labs = all.map(hexToOklab);
  const distances = labs.map((one) =>
    labs.map((other) => Math.hypot(one.l - other.l, one.a - other.a, one.b - other.b)),
  );
  const fixed = keep.map((ink) => all.indexOf(ink));
  const chosen =
    count >= all.length
      ? all.map((_, at) => at)
      : chooseMedoids({ distances, weights: [...weights.values()] }, count, fixed);
  const left = [...chosen].sort((one, other) => one - other);
  const moves = all.map((ink, at): InkMove => {
    const row = distances[at] ?? [];
    const nearest = left.reduce(
      (best, next) => ((row[next] ?? 0) < (row[best] ?? 0) ? next : best),
      left[0] ?? at,
    );
    const to = left.includes(at) ? ink : (all[nearest] ?? ink);
    return { ink, to, difference: hexDifference(ink, to) };
  });
  return {
    inks: left.flatMap((at) => all[at] ?? []),
    moves,
    table: Object.fromEntries(moves.map(({ ink, to }) => [ink, to])),
  };
}

function addWeights(inks: readonly WeightedInk[]): ReadonlyMap<string, number> {
  const weights = new Map<string, number>();
  for (const { ink, weight } of inks) {
    if (!Number.isFinite(weight) || weight < 0) {
      throw new RepetendError("E_NUMBER", "an ink's weight is out of range", {
        where: ink,
        value: String(weight),
        accepted: "a finite number of 0 or more",
      });
    }
    const hex = readInk(ink);
    weights.set(hex, (weights.get(hex) ?? 0) + weight);
  }
  if (weights.size <= MOST_INKS) return weights;
  throw new RepetendError("E_LIMIT", "too many inks to reduce", {
    value: String(weights.size),
    accepted: `at most ${MOST_INKS}`,
  });
}

/** Reads inks that must be among the inks of a print, once each. */
export function readKeep(keep: readonly string[], inks: readonly string[]): readonly string[] {
  return [...new Set(keep.map((ink) => readInk(ink, "keep")))].map((ink) => {
    if (inks.includes(ink)) return ink;
    throw new RepetendError("E_INK", "an ink is not among the inks of the print", {
      where: "keep",
      value: ink,
    });
  });
}
