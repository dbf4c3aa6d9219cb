import { anObject, aText, listOf, maybe, partsOf } from "../../checks.js";
import { type Colourway, clusterInks, colourway, type InkMove } from "../../colour/index.js";
import { someCoverage } from "../../image/checks.js";
import {
  BARE,
  composite,
  coverageOf,
  type InkCoverage,
  type PixelImage,
  planesOfImage,
} from "../../image/index.js";
import type { Print } from "../types.js";
import { inksOf } from "./inks.js";
import { recolour } from "./recolour.js";

/** How inks are reduced. */
export interface LimitInksOptions {
  /** Inks that must be left. Default none. */
  readonly keep?: readonly string[];
  /** How much of the cloth each ink covers, from `coverageOf`. Default for a print: how often each is used. */
  readonly coverage?: readonly InkCoverage[];
}

/** The answer of {@link limitInks}. */
export interface LimitedInks<T> {
  /** The print or picture with the inks that are left. */
  readonly result: T;
  /** What each ink became, as a colourway of the original. */
  readonly colourway: Colourway;
  /** The inks that are left. */
  readonly inks: readonly string[];
  /** For each ink, what it became, and how far that is in CIEDE2000. */
  readonly moves: readonly InkMove[];
}

function reduce(coverage: readonly InkCoverage[], count: number, keep: readonly string[]) {
  const printed = coverage.filter(({ ink }) => ink !== BARE);
  const { inks, moves, table } = clusterInks(
    printed.map(({ ink, share }) => ({ ink, weight: share })),
    count,
    { keep },
  );
  return { inks, moves, colourway: colourway(inks.length === 1 ? "1 ink" : `${inks.length} inks`, table) };
}

const limitOptions = partsOf<LimitInksOptions>({ keep: maybe(listOf(aText)), coverage: maybe(someCoverage) });

/**
 * Reduces a print, or a flat picture, to a number of screens: inks are merged where that shows least, weighted by how
 * much of the cloth they cover. Those that are left are inks of the original; `moves` says what merged and how far each
 * moved.
 *
 * @param art a print, or a flat picture whose inks can be told (see `planesOfImage`).
 * @param count how many inks may be left, 1 or more.
 * @throws {@link RepetendError} `E_NUMBER` for a count out of range or more inks to keep; `E_INK` for an ink to keep that
 * is not there; `E_LIMIT` for a picture that is no flat artwork.
 * @example
 * ```ts
 * import { border, limitInks } from "repetend";
 * const print = border({ name: "Hem", repeat: 320, width: 1400, ground: "#f2ead8", bands: [
 *   { name: "one", from: 0, to: 100, ground: "#1b2a41" }, { name: "two", from: 100, to: 200, ground: "#1c2b43" } ] });
 * limitInks(print, 2).inks.length; // 2
 * ```
 */
export function limitInks(art: Print, count: number, options?: LimitInksOptions): LimitedInks<Print>;
export function limitInks(
  art: PixelImage,
  count: number,
  options?: LimitInksOptions,
): LimitedInks<PixelImage>;
export function limitInks(
  art: Print | PixelImage,
  count: number,
  options: LimitInksOptions = {},
): LimitedInks<Print | PixelImage> {
  anObject(art, "art");
  limitOptions(options, "options");
  const { keep = [] } = options;
  if ("kind" in art) {
    const coverage = options.coverage ?? inksOf(art).map(({ ink, uses }) => ({ ink, share: uses }));
    const reduced = reduce(coverage, count, keep);
    return { ...reduced, result: recolour(art, reduced.colourway) };
  }
  const planes = planesOfImage(art);
  const reduced = reduce(options.coverage ?? coverageOf(planes), count, keep);
  return { ...reduced, result: composite(planes, reduced.colourway) };
}
