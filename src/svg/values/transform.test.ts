import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Affine, applyTo, determinant } from "../../geometry/affine.js";
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
});

// CSS Transforms 1, sections 7 and 8, and 2, section 12; angles and lengths: CSS Values 4, sections 6.2 and 7.1.
describe("parseCssTransform", () => {
  it.each([
    ["translate(10px, 5px)", "translate(10 5)"],
    ["translate(10px)", "translate(10)"],
    ["translateX(1in)", "translate(96)"],
    ["TranslateY(-3PX)", "translate(0 -3)"],
    ["translate(0, 25%)", "translate(0 20)"],
    ["translate(25%, -50%)", "translate(50 -40)"],
    ["translateX(25%) translateY(25%)", "translate(50 20)"],
    ["scale(50%)", "scale(.5)"],
    ["scaleX(2)", "scale(2 1)"],
    ["scaley(-1)", "scale(1 -1)"],
    ["rotate(0.25turn)", "rotate(90)"],
    ["rotate(-1e2grad)", "rotate(-90)"],
    ["rotate(1.5707963267948966rad)", "rotate(90)"],
    ["rotate(90DEG)", "rotate(90)"],
    ["skewX(.125turn)", "skewX(45)"],
    ["skewy(50grad)", "skewY(45)"],
    ["skew(45deg)", "skewX(45)"],
    ["MATRIX(1, 2, 3, 4, 5, 6)", "matrix(1 2 3 4 5 6)"],
    ["rotate(90deg)translate(10px)", "rotate(90) translate(10)"],
    ["translate3d(1px, 10%, 4px) translateZ(0)", "translate(1 8)"],
    ["scale3d(2, 3, 4) scaleZ(5) rotateZ(90deg)", "scale(2 3) rotate(90)"],
    ["NONE", "none"],
  ])("reads %s as %s", (css, attribute) => {
    const size = { width: 200, height: 80 };
    near(
      parseCssTransform(css, "1:1", () => size),
      parseTransform(attribute),
      1e-12,
    );
  });

  it.each([
    ["translate(50%)", "E_UNIT"],
    ["translate(1em)", "E_UNIT"],
    ["translateZ(50%)", "E_UNIT"],
    ["rotate3d(1, 1, 1, 45deg)", "E_NUMBER"],
    ["rotateX(45deg)", "E_NUMBER"],
    ["perspective(10px)", "E_NUMBER"],
    ["translate3d(1px, 2px)", "E_NUMBER"],
    ["translateX(1px, 2px)", "E_NUMBER"],
    ["rotate(0x10)", "E_NUMBER"],
    ["rotate(1px)", "E_NUMBER"],
    ["rotate(deg)", "E_NUMBER"],
    ["constructor(1)", "E_NUMBER"],
    ["scale(0)", "E_NUMBER"],
  ])("refuses %s: %s", (css, code) => {
    expect(() => parseCssTransform(css)).toThrow(code);
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
