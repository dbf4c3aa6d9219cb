import fc from "fast-check";
import { expect, it } from "vitest";
import { decay } from "./decay.js";

it("decays as the machine's exponential does, to the last digits", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 40, noNaN: true }), (by) => {
      // Each of at most seven squarings doubles what was off.
      expect(Math.abs(decay(by) / Math.exp(-by) - 1)).toBeLessThan(2 ** 7 * 4e-16);
    }),
  );
  expect(decay(0)).toBe(1);
});
