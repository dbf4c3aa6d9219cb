import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitStairs } from "./stairs.js";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Where a hard edge runs in each column from the seam inwards: between the rows whose middles it parts. */
const digitise = (courseAt: (x: number) => number, side: -1 | 1, columns: number) =>
  Array.from({ length: columns }, (_, k) => Math.floor(courseAt(side * (k + 0.5))) + 0.5);

describe("the stairs of a hard edge", () => {
  it("allow the jump that they were drawn with", () => {
    fc.assert(
      fc.property(
        between(0, 40),
        between(-2.5, 2.5),
        between(-0.03, 0.03),
        between(-6, 6),
        fc.integer({ min: 4, max: 15 }),
        (at, slope, bend, jump, columns) => {
          const courseAt = (x: number) => at + slope * x + bend * x * x + (x > 0 ? jump : 0);
          const near = digitise(courseAt, -1, columns);
          const far = digitise(courseAt, 1, columns);
          const stairs = fitStairs(near, far, columns, slope);
          expect(stairs?.least).toBeLessThanOrEqual(jump);
          expect(stairs?.most).toBeGreaterThanOrEqual(jump);
        },
      ),
    );
  });

  it("prove a jump of two pixels and a half whatever the slope, and none of one where the outline has no stairs", () => {
    fc.assert(
      fc.property(between(0, 40), between(-2.5, 2.5), (at, slope) => {
        const courseAt = (x: number) => at + slope * x + (x > 0 ? 2.5 : 0);
        const stairs = fitStairs(digitise(courseAt, -1, 15), digitise(courseAt, 1, 15), 15, slope);
        expect(stairs?.least).toBeGreaterThan(0);
      }),
    );
    const flat = fitStairs(Array(15).fill(0.5), Array(15).fill(1.5), 15, 0);
    expect(flat?.least).toBeLessThanOrEqual(0);
  });

  it("have no course where an outline turns a corner", () => {
    const near = Array.from({ length: 15 }, (_, k) => (k < 7 ? 0.5 : 2 * k + 0.5));
    expect(fitStairs(near, Array(15).fill(0.5), 15, 0)).toBeUndefined();
    expect(fitStairs(near, Array(15).fill(0.5), 6, 0)).toBeDefined();
  });
});
