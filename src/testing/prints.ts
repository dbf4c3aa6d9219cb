import fc from "fast-check";
import type { Print } from "../repeat/index.js";
import { allOverPrints } from "./all-over-prints.js";
import { borderPrints } from "./border-prints.js";
import type { AllOverPrintsOptions, BorderPrintsOptions } from "./print-options.js";

/** What {@link prints} draws from. */
export interface PrintsOptions extends AllOverPrintsOptions, BorderPrintsOptions {}

/**
 * Any print: all-over of every layout, and borders with bands, about as many of each. Shrinks towards a small straight
 * repeat with one square in its middle; a failure that only borders show, towards a border with one band. A
 * counterexample is printed as the code that makes it.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range, `E_COLOUR` for a ground.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { inksOf, tile } from "repetend";
 * import { prints } from "repetend/testing";
 * fc.assert(fc.property(prints({ grounds: ["#f2ead8"] }), (print) => {
 *   return inksOf(print).length > 0 && tile(print).repeats.x;
 * }));
 * ```
 */
export function prints(options: PrintsOptions = {}): fc.Arbitrary<Print> {
  return fc.oneof<[fc.MaybeWeightedArbitrary<Print>, fc.MaybeWeightedArbitrary<Print>]>(
    { withCrossShrink: true },
    allOverPrints(options),
    borderPrints(options),
  );
}
