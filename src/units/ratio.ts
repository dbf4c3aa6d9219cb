/**
 * Two lengths count as equal when they differ by less than this part of themselves. A double carries a length to one
 * part in 2^53 (about 1e-16), and a few products and quotients on the way (a unit, a cell of a repeat) leave some
 * 1e-15; so this is a thousand times that, and still only a millionth of a micrometre in a metre.
 */
export const EQUAL_WITHIN = 1e-12;

/** The nearest whole number where a value is one within {@link EQUAL_WITHIN} of itself, else the value. */
export function snapToWhole(value: number): number {
  const nearest = Math.round(value);
  return Math.abs(value - nearest) <= Math.abs(value) * EQUAL_WITHIN ? nearest : value;
}

/** The greatest common divisor of two whole numbers. */
export function commonDivisor(one: number, other: number): number {
  return other === 0 ? Math.abs(one) : commonDivisor(other, one % other);
}

/** A ratio of whole numbers in lowest terms. */
export interface Ratio {
  readonly over: number;
  readonly under: number;
}

/**
 * The ratio of whole numbers that a positive quotient is, within {@link EQUAL_WITHIN}; `undefined` when it has none with
 * both numbers up to `largest`. Convergents of the continued fraction are tried, which are the best of their size
 * (Hardy and Wright, "An Introduction to the Theory of Numbers", section 10.15).
 */
export function findRatio(quotient: number, largest: number): Ratio | undefined {
  let before = { over: 0, under: 1 };
  let here = { over: 1, under: 0 };
  let rest = quotient;
  while (true) {
    const whole = Math.floor(rest);
    const next = { over: whole * here.over + before.over, under: whole * here.under + before.under };
    if (next.over > largest || next.under > largest) return undefined;
    before = here;
    here = next;
    if (Math.abs(here.over - quotient * here.under) <= here.over * EQUAL_WITHIN) return here;
    rest = 1 / (rest - whole);
    if (!Number.isFinite(rest)) return undefined;
  }
}
