import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sayableScale, writeScale } from "./picture-scale.js";

describe("sayableScale", () => {
  it("is said exactly, is not larger, and hardly smaller", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-4, max: 3, noNaN: true }), (scale) => {
        const said = sayableScale(scale);
        expect(said).toBeLessThanOrEqual(Math.min(1, scale) * (1 + 1e-9));
        expect(1 / said - 1 / Math.min(1, scale)).toBeLessThan(0.1 + 1e-9);
        const words = writeScale(said);
        expect(words === "true to size" ? 1 : 1 / Number(words.slice(4))).toBeCloseTo(said, 12);
        expect(sayableScale(said)).toBeCloseTo(said, 12);
      }),
    );
  });
});
