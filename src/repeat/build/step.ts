import { RepetendError } from "../../errors.js";
import type { Step } from "../../geometry/lattice.js";
import { commonDivisor } from "../../units/ratio.js";

/** A step as people write it: `"1/3"`, or `{ p: 1, q: 3 }`. */
export type StepLike = string | Step;

/** More columns than this in one tile is a slip of the pen, not a layout. */
export const LARGEST_STEP = 64;

/** Tells whether two whole numbers have no common divisor but 1. */
export function areCoprime(one: number, other: number): boolean {
  return commonDivisor(one, other) === 1;
}

/**
 * Reads a step as an exact fraction of the repeat, in lowest terms with `0 <= p < q`; whole repeats are dropped,
 * so that "4/3" and "-2/3" are both "1/3".
 *
 * @throws {@link RepetendError} `E_LAYOUT` when it is no fraction of whole numbers, or q is not 1 to 64.
 * @example
 * ```ts
 * import { readStep } from "repetend";
 * readStep("2/6"); // { p: 1, q: 3 }
 * ```
 */
export function readStep(step: StepLike): Step {
  const refuse = (value: string): never => {
    throw new RepetendError("E_LAYOUT", "a step is a fraction of the repeat", {
      where: "step",
      value,
      accepted: `"p/q" with whole numbers, q from 1 to ${LARGEST_STEP}, for example "1/3"`,
    });
  };
  let { p, q } = { p: Number.NaN, q: Number.NaN };
  if (typeof step === "string") {
    const match = /^\s*([+-]?\d+)\s*\/\s*(\d+)\s*$/.exec(step);
    if (!match) return refuse(step);
    p = Number(match[1]);
    q = Number(match[2]);
  } else if (typeof step === "object" && step !== null) {
    ({ p, q } = step);
  }
  if (!Number.isSafeInteger(p) || !Number.isSafeInteger(q) || q < 1 || q > LARGEST_STEP)
    return refuse(`${p}/${q}`);
  const positive = ((p % q) + q) % q;
  const divisor = commonDivisor(positive, q);
  return { p: positive / divisor, q: q / divisor };
}
