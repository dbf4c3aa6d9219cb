import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { type Affine, applyTo, compose, determinant, invert, type Point } from "../affine.js";
import { type FriezeCell, groupOperations, type PlaneCell, planeCell, readPosition } from "./operations.js";
import { FRIEZE_POSITIONS, type FriezeGroup, PLANE_POSITIONS, type PlaneGroup } from "./positions.js";

// International Tables for Crystallography, vol. A and vol. E: see the head of the file.
const published = readFileSync(new URL("../../../tests/reference/plane-groups.tsv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => line !== "" && !line.startsWith("#") && !line.startsWith("kind"))
  .map((line) => {
    const [kind = "", , symbol = "", order = "", positions = ""] = line.split("\t");
    return { kind, symbol, order: Number(order), positions };
  });

const cellOf = (kind: string, symbol: string): PlaneCell | FriezeCell =>
  kind === "plane" ? planeCell(symbol as PlaneGroup, 64, 40) : { a: { x: 30, y: 0 } };

const operationsOf = (kind: string, symbol: string): readonly Affine[] =>
  kind === "plane"
    ? groupOperations(symbol as PlaneGroup, cellOf(kind, symbol) as PlaneCell)
    : groupOperations(symbol as FriezeGroup, cellOf(kind, symbol) as FriezeCell);

/** A map's coefficients in fractions of the cell. */
const inCell = (map: Affine, cell: PlaneCell | FriezeCell): Affine => {
  const b = "b" in cell ? cell.b : { x: -cell.a.y, y: cell.a.x };
  const basis = { a: cell.a.x, b: cell.a.y, c: b.x, d: b.y, e: 0, f: 0 };
  const back = invert(basis);
  if (back === undefined) throw new Error("flat cell");
  return compose(back, map, basis);
};

const isWhole = (value: number): boolean => Math.abs(value - Math.round(value)) < 1e-9;

/** Do two maps differ by whole steps of the lattice only? */
const sameModuloLattice = (one: Affine, other: Affine, cell: PlaneCell | FriezeCell): boolean => {
  const [f, g] = [inCell(one, cell), inCell(other, cell)];
  const linear = (["a", "b", "c", "d"] as const).every((key) => Math.abs(f[key] - g[key]) < 1e-9);
  const across = f.f - g.f;
  return linear && isWhole(f.e - g.e) && ("b" in cell ? isWhole(across) : Math.abs(across) < 1e-9);
};

describe("the 17 plane groups and 7 frieze groups", () => {
  it("are all there, and no others", () => {
    const names = (kind: string) =>
      published.filter((group) => group.kind === kind).map(({ symbol }) => symbol);
    expect(names("plane")).toEqual(Object.keys(PLANE_POSITIONS));
    expect(names("frieze")).toEqual(Object.keys(FRIEZE_POSITIONS));
    expect(published).toHaveLength(24);
  });

  describe.each(published)("$kind $symbol", ({ kind, symbol, order, positions }) => {
    const cell = cellOf(kind, symbol);
    const operations = operationsOf(kind, symbol);

    it("has the published general positions, in their order", () => {
      expect(operations).toHaveLength(order);
      for (const [k, position] of positions.split(" ").entries()) {
        const wanted = readPosition(position.replace(/[()]/g, ""));
        const got = inCell(operations[k] ?? { a: 0, b: 0, c: 0, d: 0, e: 0, f: 0 }, cell);
        for (const key of ["a", "b", "c", "d", "e", "f"] as const)
          expect(got[key]).toBeCloseTo(wanted[key], 9);
      }
    });

    it("is closed under composition and inverse, modulo the lattice, without doubles", () => {
      for (const one of operations) {
        const back = invert(one);
        expect(operations.filter((map) => back && sameModuloLattice(map, back, cell))).toHaveLength(1);
        for (const other of operations) {
          const both = compose(one, other);
          expect(operations.filter((map) => sameModuloLattice(map, both, cell))).toHaveLength(1);
        }
      }
    });

    it("moves, turns and mirrors, and never bends", () => {
      for (const { a, b, c, d } of operations) {
        expect(Math.hypot(a, b)).toBeCloseTo(1, 9);
        expect(Math.hypot(c, d)).toBeCloseTo(1, 9);
        expect(a * c + b * d).toBeCloseTo(0, 9);
        expect(Math.abs(determinant({ a, b, c, d, e: 0, f: 0 }))).toBeCloseTo(1, 9);
      }
    });

    it("leaves a cell filled by it unchanged under each of its operations", () => {
      const b = "b" in cell ? cell.b : { x: 0, y: 1 };
      const fold = (point: Point): Point => {
        const at = applyTo(inverseOf({ a: cell.a.x, b: cell.a.y, c: b.x, d: b.y, e: 0, f: 0 }), point);
        // A hair's breadth off the cell's edge, so that rounding does not decide on which side a point falls.
        const turn = (value: number) => value + 1e-7 - Math.floor(value + 1e-7) - 1e-7;
        return "b" in cell ? { x: turn(at.x), y: turn(at.y) } : { x: turn(at.x), y: at.y };
      };
      const share = fc.double({ min: 0, max: 1, noNaN: true });
      fc.assert(
        fc.property(fc.array(fc.record({ x: share, y: share }), { minLength: 1, maxLength: 4 }), (seeds) => {
          const fill = seeds.flatMap((seed) => {
            const at = { x: seed.x * cell.a.x + seed.y * b.x, y: seed.x * cell.a.y + seed.y * b.y };
            return operations.map((map) => fold(applyTo(map, at)));
          });
          for (const operation of operations) {
            const image = fill.map((point) =>
              fold(
                applyTo(operation, {
                  x: point.x * cell.a.x + point.y * b.x,
                  y: point.x * cell.a.y + point.y * b.y,
                }),
              ),
            );
            for (const point of image) {
              const gap = Math.min(...fill.map((other) => Math.hypot(other.x - point.x, other.y - point.y)));
              expect(gap).toBeLessThan(1e-9);
            }
          }
        }),
        { numRuns: 10 },
      );
    });
  });

  it("follow the cell where it is turned", () => {
    const [, mirror] = groupOperations("p11m", { a: { x: 3, y: 4 } });
    const image = applyTo(mirror ?? { a: 0, b: 0, c: 0, d: 0, e: 0, f: 0 }, { x: 6, y: 8 });
    expect(image.x).toBeCloseTo(6, 12);
    expect(image.y).toBeCloseTo(8, 12);
  });

  it("refuse cells of another shape, flat cells and unknown symbols", () => {
    const upright = { a: { x: 4, y: 0 }, b: { x: 0, y: 4 } };
    const refused = [
      () => groupOperations("pm", { a: { x: 4, y: 0 }, b: { x: 1, y: 4 } }),
      () => groupOperations("p4", { a: { x: 4, y: 0 }, b: { x: 0, y: 5 } }),
      () => groupOperations("p6", upright),
      () => groupOperations("p1", { a: { x: 4, y: 0 }, b: { x: 8, y: 0 } }),
      () => groupOperations("p11m", { a: { x: 0, y: 0 } }),
      () => groupOperations("p5" as PlaneGroup, upright),
      () => groupOperations("toString" as PlaneGroup, upright),
      () => planeCell("p4", 0),
    ];
    for (const call of refused)
      expect(call).toThrow(expect.objectContaining({ code: "E_LAYOUT" }) as RepetendError);
  });
});

function inverseOf(map: Affine): Affine {
  const back = invert(map);
  if (back === undefined) throw new RepetendError("E_LAYOUT", "flat");
  return back;
}
