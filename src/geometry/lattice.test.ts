import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boxOverlap } from "./box.js";
import { copiesInWindow, type Lattice, latticePoint, latticeRectangle, runningRectangle } from "./lattice.js";

const lattices: fc.Arbitrary<Lattice> = fc
  .record({
    width: fc.integer({ min: 4, max: 60 }),
    height: fc.integer({ min: 4, max: 60 }),
    along: fc.constantFrom("column" as const, "row" as const),
    step: fc.integer({ min: 1, max: 9 }).chain((q) => fc.record({ p: fc.nat(q - 1), q: fc.constant(q) })),
  })
  .filter(({ step }) => step.q === 1 || gcd(step.p, step.q) === 1);
const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

const boxes = (far: number, large: number) =>
  fc.record({
    x: fc.integer({ min: -far, max: far }),
    y: fc.integer({ min: -far, max: far }),
    width: fc.integer({ min: 1, max: large }),
    height: fc.integer({ min: 1, max: large }),
  });

describe("the lattice", () => {
  it("finds the same copies as trying every lattice point far around (independent route)", () => {
    fc.assert(
      fc.property(lattices, boxes(100, 80), boxes(100, 120), (lattice, reach, window) => {
        const found = copiesInWindow(latticeRectangle(lattice), reach, window).flatMap(
          ({ station, across, down }) => {
            const rectangle = latticeRectangle(lattice);
            const x = station.x + across * rectangle.width;
            const y = station.y + down * (rectangle.height ?? 0);
            return boxOverlap({ ...reach, x: reach.x + x, y: reach.y + y }, window)
              ? [`${x.toFixed(6)} ${y.toFixed(6)}`]
              : [];
          },
        );
        const tried: string[] = [];
        for (let row = -240; row <= 240; row++) {
          for (let column = -240; column <= 240; column++) {
            const { x, y } = latticePoint(lattice, column, row);
            if (x + reach.x > 230 || x + reach.x < -190 || y + reach.y > 230 || y + reach.y < -190) continue;
            const overlap = boxOverlap({ ...reach, x: reach.x + x, y: reach.y + y }, window);
            if (overlap) tried.push(`${x.toFixed(6)} ${y.toFixed(6)}`);
          }
        }
        expect([...found].sort()).toEqual(tried.sort());
      }),
      { numRuns: 25 },
    );
  });

  it("paints the copies of a window moved by a lattice vector in the same order", () => {
    fc.assert(
      fc.property(
        lattices,
        boxes(50, 60),
        boxes(50, 90),
        fc.integer({ min: -5, max: 5 }),
        fc.integer({ min: -5, max: 5 }),
        (lattice, reach, window, column, row) => {
          const places = (at: { x: number; y: number }) => {
            const rectangle = latticeRectangle(lattice);
            // One more on all sides, cut down again, so that a copy that only touches does not matter.
            return copiesInWindow(rectangle, reach, { ...window, x: window.x + at.x, y: window.y + at.y })
              .map(({ station, across, down }) => ({
                x: station.x + across * rectangle.width - at.x,
                y: station.y + down * (rectangle.height ?? 0) - at.y,
              }))
              .filter(({ x, y }) => {
                const overlap = boxOverlap({ ...reach, x: reach.x + x, y: reach.y + y }, window);
                return overlap !== undefined && overlap.width > 1e-6 && overlap.height > 1e-6;
              })
              .map(({ x, y }) => `${x.toFixed(6)} ${y.toFixed(6)}`.replaceAll("-0.000000", "0.000000"));
          };
          expect(places(latticePoint(lattice, column, row))).toEqual(places({ x: 0, y: 0 }));
        },
      ),
    );
  });

  it("repeats by itself: every lattice vector ends on a station of some rectangle", () => {
    fc.assert(
      fc.property(
        lattices,
        fc.integer({ min: -20, max: 20 }),
        fc.integer({ min: -20, max: 20 }),
        (lattice, column, row) => {
          const { width, height = 1, stations } = latticeRectangle(lattice);
          const point = latticePoint(lattice, column, row);
          const near = (value: number, period: number) =>
            Math.abs(value / period - Math.round(value / period)) < 1e-9;
          expect(
            stations.filter((s) => near(point.x - s.x, width) && near(point.y - s.y, height)),
          ).toHaveLength(1);
        },
      ),
    );
  });

  it("runs along x only for a border: nothing above or below", () => {
    const rectangle = runningRectangle(320, 3);
    expect(rectangle.stations.map((station) => station.x)).toEqual([0, 320 / 3, 640 / 3]);
    const reach = { x: 0, y: 10, width: 10, height: 10 };
    expect(copiesInWindow(rectangle, reach, { x: 0, y: 100, width: 1000, height: 50 })).toEqual([]);
    expect(copiesInWindow(rectangle, reach, { x: 1, y: 0, width: 318, height: 50 })).toHaveLength(3);
  });
});
