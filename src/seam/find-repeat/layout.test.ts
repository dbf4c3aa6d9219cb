import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Basis, cellArea, combine, reduceBasis } from "./lattice.js";
import { agree, basisOf, type FoundLayout, readLattice } from "./layout.js";

const coprime = (one: number, other: number): boolean =>
  other === 0 ? one === 1 : coprime(other, one % other);

const layouts: fc.Arbitrary<FoundLayout> = fc.oneof(
  fc.constantFrom<FoundLayout>("straight", "half-drop", "brick"),
  fc
    .record({
      along: fc.constantFrom("column" as const, "row" as const),
      p: fc.integer({ min: 1, max: 8 }),
      q: fc.integer({ min: 3, max: 9 }),
    })
    .filter(({ p, q }) => p < q && coprime(q, p))
    .map(({ along, p, q }) => ({ kind: "stepped" as const, along, step: { p, q } })),
);

const cells = fc.record({
  layout: layouts,
  width: fc.double({ min: 60, max: 400, noNaN: true }),
  height: fc.double({ min: 60, max: 400, noNaN: true }),
});

/** Another basis of the same lattice: i m - j n = 1 by construction. */
const mixed = (basis: Basis, k: number, l: number): Basis => [
  combine(basis, 1 + k * l, k),
  combine(basis, l, 1),
];

describe("reading a lattice", () => {
  it("gives back the cell that made it, under any basis, among its two names", () => {
    fc.assert(
      fc.property(cells, fc.integer({ min: -2, max: 2 }), fc.integer({ min: -2, max: 2 }), (cell, k, l) => {
        const readings = readLattice(reduceBasis(mixed(basisOf(cell), k, l)), 0.5);
        const same = readings.find(({ layout }) => JSON.stringify(layout) === JSON.stringify(cell.layout));
        expect(same?.width).toBeCloseTo(cell.width, 6);
        expect(same?.height).toBeCloseTo(cell.height, 6);
      }),
    );
  });

  it("gives names that all say the same lattice, the squarest first", () => {
    fc.assert(
      fc.property(cells, (cell) => {
        const readings = readLattice(reduceBasis(basisOf(cell)), 0.5);
        for (const reading of readings) expect(agree(basisOf(reading), basisOf(cell), 1e-6)).toBe(true);
        const slender = readings.map(({ width, height }) => Math.abs(Math.log(width / height)));
        expect(slender).toEqual([...slender].sort((one, other) => one - other));
      }),
    );
  });

  it("keeps the area when it reduces, and never lengthens", () => {
    fc.assert(
      fc.property(cells, fc.integer({ min: -3, max: 3 }), fc.integer({ min: -3, max: 3 }), (cell, k, l) => {
        const basis = mixed(basisOf(cell), k, l);
        const reduced = reduceBasis(basis);
        expect(cellArea(reduced) / cellArea(basis)).toBeCloseTo(1, 6);
        const length = (one: Basis) => Math.hypot(one[0].x, one[0].y) + Math.hypot(one[1].x, one[1].y);
        expect(length(reduced)).toBeLessThanOrEqual(length(basis) + 1e-6);
      }),
    );
  });

  it("finds no name for a lattice with nothing upright or level", () => {
    expect(
      readLattice(
        [
          { x: 100, y: 23.7 },
          { x: -31.3, y: 90 },
        ],
        0.5,
      ),
    ).toEqual([]);
  });
});
