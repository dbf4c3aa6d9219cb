import fc from "fast-check";
import type { Box } from "../geometry/index.js";
import { type Print, rectangleOf } from "../repeat/index.js";
import { readNumber } from "./bounds.js";
import { windowsOptions } from "./checks.js";

/** What {@link windows} draws from. */
export interface WindowsOptions {
  /** How many tiles a window may lie from the origin, and how many it may hold, each way; 1 to 100. Default 3. */
  readonly tiles?: number;
}

/**
 * Windows of a print's endless cloth, in whole mm: anywhere, negative places too, from 1 mm to several tiles; of a border
 * also beyond its selvedges. Without a print, a tile of 60 mm is supposed. Shrinks to 1 x 1 mm at the origin.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { field, straight } from "repetend";
 * import { windows } from "repetend/testing";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * fc.assert(fc.property(windows(print), (window) => field(print, window).startsWith("<svg")));
 * ```
 */
export function windows(print?: Print, options: WindowsOptions = {}): fc.Arbitrary<Box> {
  windowsOptions(options, "options");
  const tiles = readNumber("tiles", options.tiles ?? 3, { atLeast: 1, atMost: 100 });
  const { width, height } = print === undefined ? { width: 60, height: 60 } : rectangleOf(print);
  const [across, down] = [Math.ceil(width * tiles), Math.ceil(height * tiles)];
  return fc.record({
    x: fc.integer({ min: -across, max: across }),
    y: fc.integer({ min: -down, max: down }),
    width: fc.integer({ min: 1, max: across }),
    height: fc.integer({ min: 1, max: down }),
  });
}
