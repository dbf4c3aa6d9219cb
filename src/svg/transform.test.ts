import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Affine, applyTo, determinant } from "../geometry/affine.js";
import { parseCssTransform, parseTransform, writeMatrix } from "./transform.js";

const near = (one: Affine, other: Affine, tolerance: number) => {
  for (const key of ["a", "b", "c", "d", "e", "f"] as const) {
    expect(Math.abs(one[key] - other[key])).toBeLessThanOrEqual(tolerance);
  }
};

describe("parseTransform", () => {
  it("applies the last of a list first", () => {
    expect(applyTo(parseTransform("translate(10,20) scale(2)"), { x: 1, y: 1 })).toEqual({ x: 12, y: 22 });
  });

  it("turns clockwise on the page, about a point where one is given", () => {
    const { x, y } = applyTo(parseTransform("rotate(90 10 10)"), { x: 20, y: 10 });
    expect([x, y].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([10, 20]);
  });

  it.each([
    "matrix(1 0 0 1 5 6)",
    "matrix(1,0,0,1,5,6)",
    " translate( 5 6 ) ",
    "translate(5),translate(0,6)",
    "matrix(1-0-0 1 5 6)",
  ])("reads %s", (text) => {
    expect(parseTransform(text)).toMatchObject({ e: 5, f: 6 });
  });

  it("reads units of CSS", () => {
    near(parseCssTransform("rotate(0.25turn)"), parseTransform("rotate(90)"), 1e-12);
    near(
      parseCssTransform("translate(1in, 12px) scale(50%)"),
      parseTransform("translate(96 12) scale(.5)"),
      1e-12,
    );
    expect(() => parseCssTransform("translate(50%)")).toThrow("E_UNIT");
    expect(() => parseCssTransform("rotate3d(1,1,1,45deg)")).toThrow("E_NUMBER");
  });
});

describe("writeMatrix", () => {
  const part = fc.double({ min: -100, max: 100, noNaN: true });
  const maps = fc
    .record({ a: part, b: part, c: part, d: part, e: part, f: part })
    .filter((map) => Math.abs(determinant(map)) > 1e-3);

  it("is what parseTransform reads", () => {
    fc.assert(fc.property(maps, (map) => near(parseTransform(writeMatrix(map, 9)), map, 1e-6)));
  });

  it("keeps nine significant digits of a small scale", () => {
    expect(parseTransform(writeMatrix({ a: 1.23456789e-4, b: 0, c: 0, d: 2e-4, e: 0, f: 0 }))).toMatchObject({
      a: 1.23456789e-4,
      d: 2e-4,
    });
  });

  it.each([
    [{ a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 }, ""],
    [{ a: 1, b: 0, c: 0, d: 1, e: 0, f: -2 }, "translate(0 -2)"],
    [{ a: 2, b: 0, c: 0, d: 2, e: 0, f: 0 }, "scale(2)"],
    [{ a: 2, b: -0, c: 1e-15, d: -1, e: 0, f: 0 }, "scale(2 -1)"],
    [{ a: 0, b: 1, c: -1, d: 0, e: 3, f: 0 }, "matrix(0 1 -1 0 3 0)"],
  ])("writes %o as %s", (map, text) => {
    expect(writeMatrix(map)).toBe(text);
  });
});
