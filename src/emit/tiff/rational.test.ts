import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toRational } from "./rational.js";

describe("toRational", () => {
  it("gives the fraction that a person would write", () => {
    expect(toRational(300)).toEqual([300, 1]);
    expect(toRational(254)).toEqual([254, 1]);
    expect(toRational(299.9994)).toEqual([1_499_997, 5000]);
    expect(toRational(72.5)).toEqual([145, 2]);
    expect(toRational(1 / 3)).toEqual([1, 3]);
    expect(toRational(1000 / 3)).toEqual([1000, 3]);
    expect(toRational(25.4)).toEqual([127, 5]);
    // 3543 pixels on 300 mm, as a grid of whole pixels comes to.
    expect(toRational((3543 * 25.4) / 300)).toEqual([149_987, 500]);
  });

  it("holds what 32 bits hold, and refuses the rest", () => {
    expect(toRational(2 ** 32 - 1)).toEqual([2 ** 32 - 1, 1]);
    expect(toRational(1 / (2 ** 32 - 1))).toEqual([1, 2 ** 32 - 1]);
    for (const bad of [0, -1, 2 ** 32, 2 ** -33, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(toRational(bad)).toBeUndefined();
    }
  });

  it("gives any fraction of small numbers back in lowest terms", () => {
    const small = fc.integer({ min: 1, max: 60_000 });
    fc.assert(
      fc.property(small, small, (top, below) => {
        const found = toRational(top / below);
        expect((found?.[0] ?? 0) * below).toBe(top * (found?.[1] ?? 0));
        expect(found?.[1]).toBeLessThanOrEqual(below);
      }),
    );
  });

  it("is never off by more than fractions of 32 bits must be", () => {
    const values = fc.double({ min: 2 ** -32, max: 2 ** 32 - 1, noNaN: true });
    fc.assert(
      fc.property(fc.oneof(values, fc.double({ min: 1, max: 2000, noNaN: true })), (value) => {
        fc.pre(value >= 1 / (2 ** 32 - 1));
        const [top = 0, below = 0] = toRational(value) ?? [];
        for (const number of [top, below]) {
          expect(Number.isInteger(number)).toBe(true);
          expect(number).toBeGreaterThanOrEqual(1);
          expect(number).toBeLessThanOrEqual(2 ** 32 - 1);
        }
        // Dirichlet: |v - p/q| < 1/(q Q) for some q up to Q; here Q is what keeps both numbers within 32 bits.
        const most = Math.min(2 ** 32 - 1, Math.floor((2 ** 32 - 1) / value));
        expect(Math.abs(top / below - value)).toBeLessThanOrEqual((1 / most) * Math.max(1, value / 2 ** 20));
      }),
    );
  });
});
