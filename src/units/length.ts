import { anObject } from "../checks.js";
import { RepetendError } from "../errors.js";
import { meantLength } from "./meant-length.js";

/** A length: a number is millimetres; a string carries its unit, for example `"10in"`, `"64cm"`, `"1.5 yd"`. */
export type Length = number | string;

/** A unit that a length may carry. */
export type Unit = "mm" | "cm" | "m" | "in" | "yd";

/**
 * Millimetres to each unit. 1 yd = 0.9144 m exactly, and an inch is the 36th part of it: International yard and pound
 * agreement, 1959.
 */
export const MM_PER_UNIT: Readonly<Record<Unit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, yd: 914.4 };

const isUnit = (text: string | undefined): text is Unit =>
  text !== undefined && Object.hasOwn(MM_PER_UNIT, text);

const ACCEPTED =
  "a number of mm, or a number with one of mm, cm, m, in, yd, for example 254, 10in or 25.4 cm";

/** Longer than any sensible length; keeps the pattern below from being fed a book. */
const LONGEST_TEXT = 64;

const SHAPE = /^([+-]?(?:\d+(?:\.\d+)?|\.\d+))\s*(mm|cm|m|in|yd)$/;

/** What a length must satisfy, and what it is called when it does not. */
export interface LengthLimits {
  /** Where the length was given, for the error: an option's name or a path into a job. */
  readonly where?: string;
  /** The smallest that is accepted, in mm, inclusive. Default: no limit. */
  readonly atLeast?: number;
  /** Only lengths greater than this, in mm. Default: no limit. */
  readonly above?: number;
  /** The largest that is accepted, in mm, inclusive. Default: no limit. */
  readonly atMost?: number;
}

function describeLimits({ atLeast, above, atMost }: LengthLimits): string {
  const parts: string[] = [];
  if (above !== undefined) parts.push(`above ${above} mm`);
  if (atLeast !== undefined) parts.push(`at least ${atLeast} mm`);
  if (atMost !== undefined) parts.push(`at most ${atMost} mm`);
  return `a length ${parts.join(", ")}`;
}

/**
 * Reads a length and holds it against limits.
 *
 * @param length - A number of mm, or a decimal number with one of mm, cm, m, in, yd; white space between is allowed.
 * @returns Millimetres.
 * @throws {@link RepetendError} `E_UNIT` for a text without a known unit, `E_NUMBER` for a number that is not finite,
 * `E_SIZE` for a length outside the limits.
 * @example
 * ```ts
 * import { readLength } from "repetend";
 * readLength("58 in", { where: "width", above: 0 }); // 1473.2
 * ```
 */
export function readLength(length: Length, limits: LengthLimits = {}): number {
  anObject(limits, "limits");
  const place = limits.where === undefined ? {} : { where: limits.where };
  const value = toMillimetres(length, place);
  const {
    atLeast = Number.NEGATIVE_INFINITY,
    above = Number.NEGATIVE_INFINITY,
    atMost = Number.POSITIVE_INFINITY,
  } = limits;
  if (value < atLeast || value <= above || value > atMost) {
    throw new RepetendError("E_SIZE", "a length is outside its limits", {
      ...place,
      value: String(length),
      accepted: describeLimits(limits),
    });
  }
  return value;
}

/**
 * Reads a length as millimetres.
 *
 * @param length - A number of mm, or a decimal number with one of mm, cm, m, in, yd; white space between is allowed.
 * @returns Millimetres; the sign is kept.
 * @throws {@link RepetendError} `E_UNIT` for a text without a known unit, `E_NUMBER` for a number that is not finite.
 * @example
 * ```ts
 * import { mm } from "repetend";
 * mm("10in"); // 254
 * mm("1.5 yd"); // 1371.6
 * mm(64); // 64
 * ```
 */
export function mm(length: Length): number {
  return toMillimetres(length, {});
}

function toMillimetres(length: Length, place: { readonly where?: string }): number {
  const value = typeof length === "string" ? readText(length, place) : length;
  if (typeof value === "number" && Number.isFinite(value)) return value;
  throw new RepetendError("E_NUMBER", "a length is not a finite number", {
    ...place,
    value: String(length),
    accepted: ACCEPTED,
  });
}

function readText(text: string, place: { readonly where?: string }): number {
  const trimmed = text.length > LONGEST_TEXT ? "" : text.trim();
  const [, digits, unit] = SHAPE.exec(trimmed) ?? [];
  if (digits === undefined || !isUnit(unit)) {
    const meant = meantLength(text);
    const hint = meant === undefined ? "" : `; did you mean "${meant}"?`;
    throw new RepetendError("E_UNIT", `a length has no known unit${hint}`, {
      ...place,
      value: text,
      accepted: ACCEPTED,
    });
  }
  return multiplyExactly(digits, MM_PER_UNIT[unit]);
}

/**
 * The product of a decimal text and a unit, as the double next to the exact value: the digits are multiplied as whole
 * numbers, so that no length depends on which unit it was written in.
 */
function multiplyExactly(digits: string, factor: number): number {
  const decimals = digits.split(".")[1]?.length ?? 0;
  // Every unit is a whole number of tenths of a millimetre.
  const tenths = BigInt(Math.round(factor * 10));
  const whole = BigInt(digits.replace("+", "").replace(".", "")) * tenths;
  return Number(`${whole}e-${decimals + 1}`);
}
