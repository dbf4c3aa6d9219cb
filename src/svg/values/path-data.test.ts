import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CubicPath, readPath } from "../../geometry/index.js";
import { rewritePathData, rewritePoints } from "./path-data.js";

/** The largest distance of a number of one path from the same number of the other. */
function apart(one: CubicPath, other: CubicPath): number {
  expect(one.subpaths.map((run) => run.points.length)).toEqual(
    other.subpaths.map((run) => run.points.length),
  );
  return Math.max(
    0,
    ...one.subpaths.flatMap((run, k) =>
      run.points.map((value, index) => Math.abs(value - (other.subpaths[k]?.points[index] ?? Number.NaN))),
    ),
  );
}

const number = fc.double({ min: -50, max: 50, noNaN: true }).map((value) => value.toFixed(7));
const radius = fc.double({ min: 5, max: 50, noNaN: true }).map((value) => value.toFixed(3));
const flag = fc.constantFrom("0", "1");
const many = (command: string, count: number) =>
  fc.tuple(...Array.from({ length: count }, () => number)).map((numbers) => `${command}${numbers.join(" ")}`);
const segments = fc.oneof(
  ...(
    [
      ["L", 2],
      ["H", 1],
      ["V", 1],
      ["C", 6],
      ["S", 4],
      ["Q", 4],
      ["T", 2],
      ["M", 2],
    ] as const
  ).flatMap(([command, count]) => [many(command, count), many(command.toLowerCase(), count)]),
);
const arcs = fc
  .tuple(fc.constantFrom("A", "a"), radius, radius, number, flag, flag, number, number)
  .map(([command, ...rest]) => `${command}${rest.join(" ")}`);

describe("path data written again", () => {
  it("is the same path to within the last digit, however long its relative commands run on", () => {
    fc.assert(
      fc.property(fc.array(segments, { minLength: 1, maxLength: 60 }), (list) => {
        const d = `M1 2${list.join("")}`;
        // A control point that a short command reflects lies as far off as two roundings and the one before.
        expect(apart(readPath(rewritePathData(d, 3)), readPath(d))).toBeLessThan(
          0.0005 * (4 + 2 * list.length),
        );
      }),
    );
  });

  it("does not let rounding add up along plain relative lines", () => {
    const d = `m0 0${"l0.00014 0.00026".repeat(2000)}`;
    expect(apart(readPath(rewritePathData(d, 3)), readPath(d))).toBeLessThan(0.00051);
  });

  it("keeps arcs, whose centres move by the root of what their ends move by", () => {
    fc.assert(
      fc.property(fc.array(arcs, { minLength: 1, maxLength: 5 }), (list) => {
        const d = `M1.23456789 2.3456789${list.join("")}`;
        expect(apart(readPath(rewritePathData(d, 3)), readPath(d))).toBeLessThan(0.002);
      }),
    );
    // A half circle between ends that are rounded: a rounded chord would move the middle by 0.03.
    const half = "M0.00004 0A10 10 0 0 1 20.00004 0";
    expect(apart(readPath(rewritePathData(half, 4)), readPath(half))).toBeLessThan(0.0001);
  });

  it("is written in few characters, plain and stable", () => {
    expect(rewritePathData(" M 10,20 L 30 , 40.000001 l -5 5 -5-5 z ", 3)).toBe("M10 20L30 40l-5 5-5-5z");
    expect(rewritePathData("M1e1 0h1e-9", 3)).toBe("M10 0h0");
    expect(rewritePathData("m5 5h.00051v.00051zl1 1zm.00051 0h1", 3)).toBe(
      "M5 5h0.001v0.001zl1 1zm0.001 0h1",
    );
    expect(rewritePathData("none", 3)).toBe("");
    expect(rewritePathData("M0 0a1 1 0 0110 0", 3)).toBe("M0 0a1 1 0 0 1 10 0");
  });

  it("of points is pairs", () => {
    expect(rewritePoints("0,0 10,0.00001 10-10", 2)).toBe("0 0 10 0 10 -10");
    expect(() => rewritePoints("1 2 3", 2)).toThrow("E_NUMBER");
  });
});
