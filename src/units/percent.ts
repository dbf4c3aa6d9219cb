import { anObject } from "../checks.js";
import { RepetendError } from "../errors.js";

const SHAPE = /^([+-]?(?:\d+(?:\.\d+)?|\.\d+))\s*%$/;

/** Longer than any sensible percentage; keeps the pattern above from being fed a book. */
const LONGEST_TEXT = 32;

/** What a percentage must satisfy. Both bounds are fractions, inclusive. */
export interface PercentLimits {
  /** Where it was given, for the error. */
  readonly where?: string;
  readonly atLeast?: number;
  readonly atMost?: number;
}

/**
 * Reads a percentage as a fraction, for example a shrinkage.
 *
 * @param text - A decimal number and `%`. A bare number is refused, since it might be meant as either.
 * @returns The fraction: 0.04 for `"4%"`.
 * @throws {@link RepetendError} `E_UNIT` for a text without `%`, `E_NUMBER` for one outside the limits.
 * @example
 * ```ts
 * import { readPercent } from "repetend";
 * readPercent("4%"); // 0.04
 * readPercent("-1.5 %", { atLeast: -0.2, atMost: 0.2 }); // -0.015
 * ```
 */
export function readPercent(text: string, limits: PercentLimits = {}): number {
  anObject(limits, "limits");
  const { where, atLeast = Number.NEGATIVE_INFINITY, atMost = Number.POSITIVE_INFINITY } = limits;
  const place = where === undefined ? {} : { where };
  const digits =
    typeof text === "string" && text.length <= LONGEST_TEXT ? SHAPE.exec(text.trim())?.[1] : undefined;
  if (digits === undefined) {
    throw new RepetendError("E_UNIT", "a percentage has no % sign", {
      ...place,
      value: String(text),
      accepted: "a decimal number and %, for example 4%",
    });
  }
  // Moving the point in the decimal text keeps 4% next to 0.04, where a division need not.
  const fraction = Number(`${digits}e-2`);
  if (fraction < atLeast || fraction > atMost) {
    throw new RepetendError("E_NUMBER", "a percentage is outside its limits", {
      ...place,
      value: text,
      accepted: `${atLeast * 100}% to ${atMost * 100}%`,
    });
  }
  return fraction;
}
