import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readStrip } from "../strip/strip.js";
import { findOtherInks } from "./other-ink.js";

const [WIDTH, HEIGHT] = [80, 120];
const GROUND = [239, 230, 210];
const LINE = [20, 26, 36];
const INK = [181, 83, 60];
const OTHER = [59, 110, 122];

/** A leaf between two slanted lines that pass the seam; beyond the seam it is filled with another ink. */
function leaf(slope: number, half: number, beyond: readonly number[], edges: "soft" | "hard") {
  const data = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const across = (x < WIDTH / 2 ? x : x - WIDTH) + 0.5;
      const off = Math.abs(y + 0.5 - 60 - slope * across) / Math.hypot(1, slope) - half;
      const mix = (distance: number) =>
        edges === "hard" ? (distance < 0 ? 1 : 0) : Math.max(0, Math.min(1, 0.5 - distance));
      const [line, fill] = [mix(off), mix(off + 5)];
      const inside = across > 0 ? beyond : INK;
      for (let i = 0; i < 3; i++) {
        const drawn = (GROUND[i] ?? 0) + line * ((LINE[i] ?? 0) - (GROUND[i] ?? 0));
        data[(y * WIDTH + x) * 3 + i] = Math.round(drawn + fill * ((inside[i] ?? 0) - drawn));
      }
    }
  const image = { width: WIDTH, height: HEIGHT, channels: 3, data, stride: 3 * WIDTH } as const;
  return readStrip(image, { edge: "left-right", offset: 0, cyclic: true }, 16);
}

const STEEPEST = { min: -1.2, max: 1.2, noNaN: true } as const;
const WIDTHS = { min: 14, max: 25, noNaN: true } as const;

describe("another ink beyond the seam", () => {
  it("is found between hard outlines that pass it, at any slant", () => {
    fc.assert(
      fc.property(fc.double(STEEPEST), fc.double(WIDTHS), (slope, half) => {
        const found = findOtherInks(leaf(slope, half, OTHER, "hard"), "hard");
        expect(found).toHaveLength(1);
        // The fill is as wide as the leaf less its lines, measured along the seam.
        expect(found[0]?.rows).toBeGreaterThan(2 * (half - 5) * Math.hypot(1, slope) - 3);
        expect(found[0]?.rows).toBeLessThan(2 * (half - 5) * Math.hypot(1, slope) + 3);
      }),
      { numRuns: 40 },
    );
  });

  it("is found between soft outlines", () => {
    for (const slope of [-0.9, -0.5, 0.4, 0.7, 1.1])
      expect(findOtherInks(leaf(slope, 17, OTHER, "soft"), "soft")).toHaveLength(1);
  });

  it("is never found where the ink is the same", () => {
    const kinds = fc.constantFrom("soft" as const, "hard" as const);
    fc.assert(
      fc.property(fc.double(STEEPEST), fc.double(WIDTHS), kinds, (slope, half, edges) => {
        expect(findOtherInks(leaf(slope, half, INK, edges), edges)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});
