import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";

/** Digits after the point where nothing better is known. */
const DIGITS = 6;

/**
 * A number as text with at most `digits` (0 to 20) digits after the point: no exponent, no `-0`, no trailing zeros.
 *
 * @throws {@link RepetendError} `E_NUMBER` for a number that is not finite or reaches 1e21.
 * @example
 * ```ts
 * import { writeNumber } from "repetend";
 * writeNumber(1 / 3, 4); // "0.3333"
 * writeNumber(-1e-9); // "0"
 * ```
 */
export function writeNumber(value: number, digits: number = DIGITS): string {
  if (!(Math.abs(value) < 1e21)) {
    throw new RepetendError("E_NUMBER", "a number cannot be written", { value: String(value) });
  }
  const fixed = value.toFixed(digits);
  const short = fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
  return short === "-0" ? "0" : short;
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

/** Reads one plain number of a drawing: finite, and below the limit of 1e6. `where` goes into the refusal. */
export function readPlainNumber(text: string, where?: string): number {
  const trimmed = text.trim();
  const value = NUMBER.test(trimmed) ? Number(trimmed) : Number.NaN;
  return checkNumber(value, text, where);
}

/** Holds a number against the limits of a drawing. */
export function checkNumber(value: number, text: string = String(value), where?: string): number {
  if (Math.abs(value) < DRAWING_LIMITS.number) return value;
  throw new RepetendError("E_NUMBER", "a number cannot be read or is out of range", {
    ...(where === undefined ? {} : { where }),
    value: text,
    accepted: "a finite number between -1000000 and 1000000",
  });
}

/** Reads numbers with white space or commas between. */
export function readNumberList(text: string, where?: string): readonly number[] {
  const trimmed = text.trim();
  if (trimmed === "") return [];
  // Numbers may follow each other without a gap where a sign or a second point begins the next.
  const tokens = trimmed.match(/[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?|[^\s,]/gi) ?? [];
  if (/^,|,\s*,|,$/.test(trimmed)) return [checkNumber(Number.NaN, text, where)];
  return tokens.map((token) => checkNumber(NUMBER.test(token) ? Number(token) : Number.NaN, text, where));
}
