import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bandSpace, cellSpace, movesNear, wrap } from "./space.js";

const lattices = fc.record({
  width: fc.integer({ min: 5, max: 200 }),
  height: fc.integer({ min: 5, max: 200 }),
  along: fc.constantFrom("column" as const, "row" as const),
  step: fc.constantFrom({ p: 0, q: 1 }, { p: 1, q: 2 }, { p: 2, q: 5 }, { p: 1, q: 7 }),
});
const places = fc.record({ x: fc.integer({ min: -900, max: 900 }), y: fc.integer({ min: -900, max: 900 }) });

describe("the space of a toss", () => {
  it("finds every lattice vector that brings a thing within reach, and no other", () => {
    fc.assert(
      fc.property(
        lattices,
        fc.integer({ min: -60, max: 60 }),
        fc.integer({ min: 1, max: 120 }),
        (lattice, x, reach) => {
          const space = cellSpace(lattice);
          const found = movesNear(space, x, 2 * x, reach);
          const all: string[] = [];
          const v = space.v ?? [0, 0];
          for (let i = -200; i <= 200; i += 1) {
            for (let j = -200; j <= 200; j += 1) {
              const [mx, my] = [i * space.u[0] + j * v[0], i * space.u[1] + j * v[1]];
              const [dx, dy] = [x + mx, 2 * x + my];
              if (dx * dx + dy * dy <= reach * reach) all.push(`${mx},${my}`);
            }
          }
          const listed = Array.from(
            { length: found.length / 2 },
            (_, k) => `${found[2 * k]},${found[2 * k + 1]}`,
          );
          expect(listed.sort()).toEqual(all.sort());
        },
      ),
      { numRuns: 40 },
    );
  });

  it("wraps every place into its rectangle by a lattice vector", () => {
    fc.assert(
      fc.property(lattices, places, (lattice, { x, y }) => {
        const space = cellSpace(lattice);
        const [wx, wy] = wrap(space, x, y);
        const inside =
          wx >= -1e-9 && wx <= lattice.width + 1e-9 && wy >= -1e-9 && wy <= lattice.height + 1e-9;
        expect(inside).toBe(true);
        const moves = movesNear(space, x - wx, y - wy, 1e-6);
        expect(moves.length).toBe(2);
      }),
    );
    expect(wrap(bandSpace(100, 30, 2), 250, 75)).toEqual([50, 75]);
  });
});
