import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bandSpace, cellSpace } from "./space.js";
import { likesOf, wavesOf } from "./waves.js";

const cells = fc.record({
  width: fc.integer({ min: 40, max: 200 }),
  height: fc.integer({ min: 40, max: 200 }),
  along: fc.constantFrom("column" as const, "row" as const),
  step: fc.constantFrom({ p: 0, q: 1 }, { p: 1, q: 2 }, { p: 2, q: 5 }, { p: 1, q: 3 }),
});

describe("the waves of a cell", () => {
  it("close on its lattice, are as many as fill their disc, and are each there once", () => {
    fc.assert(
      fc.property(cells, (cell) => {
        const { u, v = [0, 0] } = cellSpace(cell);
        const waves = wavesOf(cellSpace(cell), 12);
        for (const [kx, ky] of waves) {
          for (const [x, y] of [u, v]) {
            const turns = kx * x + ky * y;
            expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
          }
          expect(Math.hypot(kx, ky)).toBeLessThanOrEqual(1 / 12 + 1e-12);
          expect(waves.some(([x, y]) => Math.hypot(x + kx, y + ky) < 1e-9)).toBe(false);
        }
        expect(new Set(waves.map(([x, y]) => `${x.toFixed(9)} ${y.toFixed(9)}`)).size).toBe(waves.length);
        // One of the reciprocal lattice to each 1 / area, half of the disc; its rim is off by some.
        const disc = (Math.PI / 12 ** 2) * cell.width * cell.height;
        const rim = 3 * Math.sqrt(disc) + 3;
        expect(Math.abs(2 * waves.length + 1 - disc)).toBeLessThan(rim);
      }),
      { numRuns: 20 },
    );
  });

  it("know those in their own direction, themselves too, and those of like size in others", () => {
    const waves = wavesOf(cellSpace({ width: 100, height: 100, along: "column", step: { p: 0, q: 1 } }), 40);
    const { along, beside } = likesOf(waves);
    const at = (kx: number, ky: number) =>
      waves.findIndex((one) => one[0] === kx / 100 && one[1] === ky / 100);
    const sorted = (list: readonly number[] = []) => [...list].sort((one, other) => one - other);
    expect(waves.length).toBe(10);
    expect(sorted(along[at(1, 0)])).toEqual(sorted([at(1, 0), at(2, 0)]));
    expect(sorted(beside[at(1, 0)])).toEqual(sorted([at(0, 1), at(1, 1), at(1, -1)]));
    expect(wavesOf(bandSpace(100, 30, 1), 10)).toEqual([]);
  });
});
