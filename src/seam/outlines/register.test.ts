import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../../image/index.js";
import { checkSeams } from "../index.js";

/** Bars over the left and right edge, each with its own slope (rows a column), on a light ground; soft edges. */
function bars(slopes: readonly number[], options: { readonly lacks?: number; readonly slip?: number } = {}) {
  const { lacks = 0, slip = 0 } = options;
  const [width, height] = [200, 60 * slopes.length];
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      // Left of the middle the far side of the seam shows, without its first columns; right of it the near side.
      const [across, along] = x < width / 2 ? [x + lacks, slip] : [x - width, 0];
      const bar = Math.floor(y / 60);
      const off = Math.abs(y - along - 60 * bar - 30 - (slopes[bar] ?? 0) * across) - 9;
      const share = Math.abs(across) > 30 ? 0 : Math.max(0, Math.min(1, 0.5 - off));
      data[y * width + x] = Math.round(230 - 190 * share);
    }
  return { width, height, channels: 1, data, stride: width } satisfies PixelImage;
}

const shiftOf = (image: PixelImage) => checkSeams(image, { layout: "border" }).edges[0]?.shift;

/** Thin strokes over the left and right edge, of which those of one motif have slipped; from row `start` on, and round. */
function strokes(slip: number, start: number): PixelImage {
  const [width, height] = [120, 240];
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const across = x < width / 2 ? x : x - width;
      const row = (y + start) % height;
      const off = [30, 60, 90, 150, 180, 210].map((at) => {
        const isOfMotif = at > 120 && at < 200;
        const along = isOfMotif && across >= 0 ? slip : 0;
        return Math.abs(row - at - along - 0.3 * across) - 2;
      });
      const share = Math.abs(across) > 30 ? 0 : Math.max(0, Math.min(1, 0.5 - Math.min(...off)));
      data[y * width + x] = Math.round(230 - 190 * share);
    }
  return { width, height, channels: 1, data, stride: width };
}

const SLOPES = [0.6, -0.5, 0, 0.4, -0.7];

describe("the register of two edges", () => {
  it("is measured along and across the seam at once", () => {
    fc.assert(
      fc.property(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -4, max: 4 }), (slip, lacks) => {
        // Too many rows without any slip are rows that stand twice: "doubled", and no shift.
        fc.pre(Math.hypot(slip, lacks) >= 2 && (slip !== 0 || lacks > 0));
        const shift = shiftOf(bars(SLOPES, { slip, lacks }));
        expect(Math.abs((shift?.along ?? 99) - slip)).toBeLessThan(0.3);
        expect(Math.abs((shift?.across ?? 99) - lacks)).toBeLessThan(0.4);
      }),
      { numRuns: 40 },
    );
  });

  it("says nothing of across where all outlines have one slope", () => {
    const shift = shiftOf(bars([0.3, 0.3, 0.3, 0.3], { slip: 3 }));
    expect(shift?.along).toBeCloseTo(3, 0);
    expect(shift?.across).toBeUndefined();
    expect(shiftOf(bars([0, 0, 0, 0], { slip: 3 }))?.across).toBeUndefined();
  });

  it("is the same wherever the picture begins along the seam", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 239 }), fc.constantFrom(-3, -2, 2, 3), (start, slip) => {
        const [edge] = checkSeams(strokes(slip, start)).edges;
        expect(edge?.kind).toBe("shift");
        expect(edge?.shift?.along).toBeCloseTo(slip, 0);
        expect(checkSeams(strokes(0, start)).ok).toBe(true);
      }),
      { numRuns: 40, examples: [[165, 2]] },
    );
  });

  it("passes what is in register", () => {
    expect(checkSeams(bars(SLOPES), { layout: "border" }).ok).toBe(true);
  });

  it("says how far to move what lies beyond the edge", () => {
    const [edge] = checkSeams(bars(SLOPES, { lacks: 3 }), { layout: "border" }).edges;
    expect(edge?.kind).toBe("shift");
    expect(edge?.mend).toMatch(/move what crosses the left edge 3 px away from the right edge/);
  });
});
