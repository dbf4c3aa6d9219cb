import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { curveAt, measureCurve } from "./arc-length.js";
import type { Cubic } from "./cubic-path.js";
import { lookUpCurve, tabulateCurve } from "./curve-table.js";

const coordinate = fc.double({ min: -100, max: 100, noNaN: true });
const cubic = fc.tuple(
  coordinate,
  coordinate,
  coordinate,
  coordinate,
  coordinate,
  coordinate,
  coordinate,
  coordinate,
);

describe("a tabulated curve", () => {
  it("lies where the measured curve lies, at every length and a little beyond its ends", () => {
    fc.assert(
      fc.property(cubic, fc.double({ min: -0.1, max: 1.1, noNaN: true }), (points, share) => {
        const curve = measureCurve([points as Cubic]);
        fc.pre(curve.length > 1);
        const at = new Float64Array(4);
        lookUpCurve(tabulateCurve(curve), share * curve.length, at, 0);
        const wanted = curveAt(curve, share * curve.length);
        const gap = Math.hypot((at[0] ?? 0) - wanted.x, (at[1] ?? 0) - wanted.y);
        expect(gap).toBeLessThan(1e-7 * curve.length);
      }),
      {
        numRuns: 60,
        // Its control points all but meet at the end, where its speed is only noise.
        examples: [
          [
            [-67.03847081613327, 0, 0, 0, 4.506059952844857e-109, 0, 0, 5.055065658940749e-200],
            1.0000006390408738,
          ],
        ],
      },
    );
  });

  it("counts the corners before a length, and none on a smooth join", () => {
    const bent = measureCurve([
      [0, 0, 1, 0, 2, 0, 3, 0],
      [3, 0, 4, 0, 5, 0, 6, 0],
      [6, 0, 6, 1, 6, 2, 6, 3],
    ]);
    const table = tabulateCurve(bent);
    const corners = [1, 5, 7].map((along) => lookUpCurve(table, along, new Float64Array(4), 0));
    expect(corners).toEqual([0, 0, 1]);
  });

  it("is one place where the curve is a point", () => {
    const at = new Float64Array(4);
    lookUpCurve(tabulateCurve(measureCurve([[2, 3, 2, 3, 2, 3, 2, 3]])), 5, at, 0);
    expect([...at]).toEqual([2, 3, 0, 0]);
  });
});
