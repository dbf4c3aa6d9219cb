import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { autocorrelate, powerOfTwo, transformPlane } from "./fft.js";

const planes = fc.constantFrom([2, 4], [8, 8], [16, 4]).chain(([width = 2, height = 2]) =>
  fc
    .array(fc.integer({ min: -100, max: 100 }), {
      minLength: 2 * width * height,
      maxLength: 2 * width * height,
    })
    .map((data) => ({ width, height, data: Float64Array.from(data) })),
);

describe("the transform", () => {
  it("is undone by its inverse", () => {
    fc.assert(
      fc.property(planes, (plane) => {
        const copy = { ...plane, data: plane.data.slice() };
        transformPlane(copy, false);
        transformPlane(copy, true);
        for (const [at, value] of copy.data.entries()) expect(value).toBeCloseTo(plane.data[at] ?? 0, 8);
      }),
    );
  });

  it("correlates as the sums do that define it", () => {
    fc.assert(
      fc.property(planes, ({ width, height, data }) => {
        const plane = { width, height, data: data.slice() };
        autocorrelate(plane);
        for (let dy = 0; dy < height; dy++)
          for (let dx = 0; dx < width; dx++) {
            let sum = 0;
            for (let y = 0; y < height; y++)
              for (let x = 0; x < width; x++) {
                const one = 2 * (y * width + x);
                const other = 2 * (((y + dy) % height) * width + ((x + dx) % width));
                // The real part: each part of the number with itself.
                sum += (data[one] ?? 0) * (data[other] ?? 0) + (data[one + 1] ?? 0) * (data[other + 1] ?? 0);
              }
            expect(plane.data[2 * (dy * width + dx)]).toBeCloseTo(sum, 4);
          }
      }),
      { numRuns: 30 },
    );
  });

  it("takes powers of two", () => {
    expect([0, 1, 2, 3, 512, 513].map(powerOfTwo)).toEqual([2, 2, 2, 4, 512, 1024]);
  });
});
