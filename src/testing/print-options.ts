import type fc from "fast-check";
import type { Motif } from "../motif/index.js";
import type { Layout } from "../repeat/index.js";
import { readChoices, readNumber } from "./bounds.js";
import { printsOptions } from "./checks.js";
import { motifs } from "./motifs.js";

/** What all arbitraries of prints draw from. */
export interface CommonPrintsOptions {
  /** The motifs. Default: `motifs({ maxShapes: 2 })`. */
  readonly motifs?: fc.Arbitrary<Motif>;
  /** The largest number of placements in a cell or a band, 1 to 50, inclusive. Default 4. */
  readonly maxMotifs?: number;
  /** Grounds, "none" for bare cloth; the first is the simplest. At least one. Default: two pale inks and "none". */
  readonly grounds?: readonly string[];
  /** Every length and point is a multiple of this, in mm, 0.001 to 10. Default 1: whole millimetres. */
  readonly grid?: number;
  /** The least side of a cell, in mm; inclusive, at least 4 grid lengths. Default 12. */
  readonly smallest?: number;
  /** The largest side of a cell, in mm; inclusive, `smallest` to 10,000. Default 60. */
  readonly largest?: number;
}

/** What {@link allOverPrints} draws from. */
export interface AllOverPrintsOptions extends CommonPrintsOptions {
  /** The layouts. Default: `layouts()`. */
  readonly layouts?: fc.Arbitrary<Layout>;
}

/** What {@link borderPrints} draws from. */
export interface BorderPrintsOptions extends CommonPrintsOptions {
  /** The largest number of bands, 1 to 20, inclusive. Default 3. */
  readonly maxBands?: number;
}

/** The options with their defaults, and lengths counted in grid lengths. */
export interface ReadPrintsOptions {
  readonly motifs: fc.Arbitrary<Motif>;
  readonly maxMotifs: number;
  readonly grounds: readonly string[];
  readonly grid: number;
  readonly side: { readonly min: number; readonly max: number };
  /** Placed widths: from a third of the smallest cell to most of the largest, so that some outgrow their cell. */
  readonly width: { readonly min: number; readonly max: number };
}

const GROUNDS = ["#f2ead8", "#d7e3e0", "none"];

const LEAST_STEPS = 4;
const LARGEST_SIDE = 10_000;

/** Fills in the defaults and holds numbers to their limits. */
export function readPrintsOptions(options: CommonPrintsOptions): ReadPrintsOptions {
  printsOptions(options, "options");
  const grid = readNumber("grid", options.grid ?? 1, { atLeast: 0.001, atMost: 10 });
  const smallest = readNumber("smallest", options.smallest ?? 12, {
    atLeast: LEAST_STEPS * grid,
    atMost: LARGEST_SIDE,
  });
  const largest = readNumber("largest", options.largest ?? Math.max(60, smallest), {
    atLeast: smallest,
    atMost: LARGEST_SIDE,
  });
  const side = { min: Math.ceil(smallest / grid), max: Math.floor(largest / grid) };
  return {
    motifs: options.motifs ?? motifs({ maxShapes: 2 }),
    maxMotifs: readNumber("maxMotifs", options.maxMotifs ?? 4, { atLeast: 1, atMost: 50, whole: true }),
    grounds: readChoices("grounds", options.grounds ?? GROUNDS),
    grid,
    side: { min: side.min, max: Math.max(side.min, side.max) },
    width: {
      min: Math.max(1, Math.floor(side.min / 3)),
      max: Math.max(1, Math.floor((5 * Math.max(side.min, side.max)) / 6)),
    },
  };
}
