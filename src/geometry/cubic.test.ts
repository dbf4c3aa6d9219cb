import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cubicLength, curveAt, locateLength, measureCurve } from "./arc-length.js";
import {
  derivativeOn,
  directionOn,
  partOfCubic,
  pointOn,
  reverseCubic,
  secondDerivativeOn,
  splitCubic,
} from "./cubic.js";
import { type Cubic, cubicsOf, straightCubic } from "./cubic-path.js";
import { flattenCubic, flattenPath, pathArea } from "./flatten.js";
import { nearestOnCubics } from "./nearest.js";
import { pathOfShape, readPath } from "./path.js";

const coordinate = fc.double({ min: -100, max: 100, noNaN: true });
const anyCubic = fc.array(coordinate, { minLength: 8, maxLength: 8 }).map((n) => n as unknown as Cubic);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const inner = fc.double({ min: 0.01, max: 0.99, noNaN: true });
const gap = (one: { x: number; y: number }, other: { x: number; y: number }) =>
  Math.hypot(one.x - other.x, one.y - other.y);

describe("a cubic", () => {
  it("cut in two, or out, or reversed, is the same curve", () => {
    fc.assert(
      fc.property(anyCubic, inner, share, share, (cubic, cut, t, u) => {
        const [head, tail] = splitCubic(cubic, cut);
        expect(gap(pointOn(head, t), pointOn(cubic, t * cut))).toBeLessThan(1e-9);
        expect(gap(pointOn(tail, t), pointOn(cubic, cut + t * (1 - cut)))).toBeLessThan(1e-9);
        expect(head.slice(6)).toEqual(tail.slice(0, 2));
        const [from, to] = [cut * u * 0.999, cut];
        expect(
          gap(pointOn(partOfCubic(cubic, from, to), t), pointOn(cubic, from + t * (to - from))),
        ).toBeLessThan(1e-9);
        expect(gap(pointOn(reverseCubic(cubic), t), pointOn(cubic, 1 - t))).toBeLessThan(1e-9);
      }),
    );
    expect(partOfCubic([0, 0, 1, 1, 2, 2, 3, 3], 0, 1)).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
  });

  it("has the derivatives that differences show", () => {
    fc.assert(
      fc.property(anyCubic, inner, (cubic, t) => {
        const h = 1e-4;
        const [before, after] = [pointOn(cubic, t - h), pointOn(cubic, t + h)];
        const first = { x: (after.x - before.x) / (2 * h), y: (after.y - before.y) / (2 * h) };
        expect(gap(first, derivativeOn(cubic, t))).toBeLessThan(1e-4);
        const [d0, d1] = [derivativeOn(cubic, t - h), derivativeOn(cubic, t + h)];
        const second = { x: (d1.x - d0.x) / (2 * h), y: (d1.y - d0.y) / (2 * h) };
        expect(gap(second, secondDerivativeOn(cubic, t))).toBeLessThan(1e-4);
      }),
    );
  });

  it("has a direction also where it stops", () => {
    expect(directionOn([0, 0, 0, 0, 5, 5, 9, 9], 0)?.y).toBeCloseTo(Math.SQRT1_2, 12);
    expect(directionOn([0, 0, 3, 3, 9, 9, 9, 9], 1)?.x).toBeCloseTo(Math.SQRT1_2, 12);
    expect(directionOn([0, 0, 0, 0, 4, 0, 4, 0], 1)?.x).toBe(1);
    expect(directionOn([0, 0, 0, 0, 0, 0, 0, 7], 0)?.y).toBe(1);
    expect(directionOn([2, 2, 2, 2, 2, 2, 2, 2], 0.5)).toBeUndefined();
  });
});

describe("flattening", () => {
  it("keeps its tolerance, and would not with a quarter of the points", () => {
    fc.assert(
      fc.property(anyCubic, fc.constantFrom(0.01, 0.1, 1), (cubic, tolerance) => {
        const points = flattenCubic(cubic, tolerance);
        const steps = points.length - 1;
        for (let k = 0; k < 200; k += 1) {
          const t = k / 200;
          const index = Math.floor(t * steps);
          const [a, b] = [points[index], points[index + 1]];
          if (!a || !b) throw new Error("no chord");
          const part = t * steps - index;
          const chord = { x: a.x + part * (b.x - a.x), y: a.y + part * (b.y - a.y) };
          expect(gap(chord, pointOn(cubic, t))).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
        }
      }),
    );
    const arch: Cubic = [0, 0, 0, 40, 100, 40, 100, 0];
    const steps = flattenCubic(arch, 0.01).length - 1;
    const coarse = Math.floor(steps / 4);
    const middle = gap({ x: 50, y: pointOn(arch, 0.5 - 0.5 / coarse).y }, { x: 50, y: pointOn(arch, 0.5).y });
    expect(middle).toBeGreaterThan(0.01);
  });

  it("ends closed runs on their start", () => {
    const [ring] = flattenPath(pathOfShape("circle", { r: "5" }) ?? { subpaths: [] }, 0.01);
    expect(ring?.[0]).toEqual(ring?.[ring.length - 1]);
  });

  it("is not needed for areas: Green's theorem is exact for cubics", () => {
    const circle = pathOfShape("circle", { cx: "90", cy: "-7", r: "5" }) ?? { subpaths: [] };
    expect(pathArea(circle) / (25 * Math.PI)).toBeCloseTo(1, 5);
    expect(pathArea(readPath("M0 0H4V3H0Z"))).toBeCloseTo(12, 12);
    expect(pathArea(readPath("M0 0V3H4V0"))).toBeCloseTo(-12, 12);
    // A parabola's arch over the base 2 with height 1 covers 4/3: Archimedes, Quadrature of the Parabola.
    expect(pathArea(readPath("M-1 0Q0 -2 1 0Z"))).toBeCloseTo(4 / 3, 12);
  });
});

describe("arc length", () => {
  it("of a quarter circle is a quarter of 2 pi r, within the cubic's own error", () => {
    const quarter: Cubic = [1, 0, 1, 0.5522847498, 0.5522847498, 1, 0, 1];
    // The usual cubic lies outside the circle by up to 2.7e-4; its length by 1.4e-4 of the radius.
    expect(cubicLength(quarter)).toBeCloseTo(Math.PI / 2, 3);
    const circle = pathOfShape("circle", { r: "100" })?.subpaths[0];
    expect(
      measureCurve(cubicsOf(circle ?? { closed: false, points: [] })).length / (200 * Math.PI),
    ).toBeCloseTo(1, 5);
  });

  it("of a parabola's arc is its closed form", () => {
    // y = x^2 from 0 to 1: (2 sqrt 5 + asinh 2) / 4, any table of integrals.
    const [parabola] = cubicsOf(readPath("M0 0Q0.5 0 1 1").subpaths[0] ?? { closed: false, points: [] });
    expect(cubicLength(parabola ?? [0, 0, 0, 0, 0, 0, 0, 0])).toBeCloseTo(
      (2 * Math.sqrt(5) + Math.asinh(2)) / 4,
      10,
    );
  });

  it("adds up, and no chord is longer", () => {
    fc.assert(
      fc.property(anyCubic, inner, (cubic, cut) => {
        const [head, tail] = splitCubic(cubic, cut);
        const whole = cubicLength(cubic);
        expect(Math.abs(cubicLength(head) + cubicLength(tail) - whole)).toBeLessThan(1e-6);
        expect(Math.abs(cubicLength(cubic, 0, cut) - cubicLength(head))).toBeLessThan(1e-6);
        const points = flattenCubic(cubic, 1e-5);
        const chords = points.slice(1).reduce((sum, point, k) => sum + gap(point, points[k] ?? point), 0);
        expect(chords).toBeLessThanOrEqual(whole + 1e-6);
        expect(chords).toBeGreaterThan(whole * 0.9999 - 1e-3);
      }),
      { numRuns: 50 },
    );
  });

  it("finds its way back: the place at a length has that length behind it", () => {
    fc.assert(
      fc.property(fc.array(coordinate, { minLength: 14, maxLength: 14 }), share, (points, part) => {
        const cubics = cubicsOf({ closed: false, points });
        const curve = measureCurve(cubics);
        const along = part * curve.length;
        const { index, t } = locateLength(curve, along);
        const piece = curve.cubics[index];
        if (!piece) throw new Error("no piece");
        expect(Math.abs(piece.start + cubicLength(piece.cubic, 0, t) - along)).toBeLessThan(1e-6);
      }),
    );
  });

  it("gives equal steps along a cusp and through a stop", () => {
    // A cusp in the middle (speed 0 at t = 1/2), and coinciding control points at the start.
    for (const cubic of [
      [0, 0, 10, 10, 0, 10, 10, 0],
      [0, 0, 0, 0, 0, 0, 10, 5],
    ] as readonly Cubic[]) {
      const curve = measureCurve([cubic]);
      for (let k = 0; k < 40; k += 1) {
        const from = locateLength(curve, (k * curve.length) / 40).t;
        const to = locateLength(curve, ((k + 1) * curve.length) / 40).t;
        expect(cubicLength(cubic, from, to)).toBeCloseTo(curve.length / 40, 6);
      }
    }
  });

  it("moves by one unit a unit, in its direction, and goes on straight beyond the ends", () => {
    const curve = measureCurve([
      [0, 0, 10, 0, 20, 5, 20, 15],
      [20, 15, 20, 25, 40, 30, 50, 30],
    ]);
    for (const along of [-3, 0.2, 7, 20, 31, curve.length + 4]) {
      const [before, at, after] = [-1e-4, 0, 1e-4].map((step) => curveAt(curve, along + step));
      if (!before || !at || !after) throw new Error("no point");
      expect((after.x - before.x) / 2e-4).toBeCloseTo(at.directionX, 5);
      expect((after.y - before.y) / 2e-4).toBeCloseTo(at.directionY, 5);
      expect(Math.hypot(at.directionX, at.directionY)).toBeCloseTo(1, 12);
    }
    expect(curveAt(curve, -3).x).toBeCloseTo(-3, 12);
    expect(curveAt(curve, curve.length + 4).x).toBeCloseTo(54, 9);
  });

  it("skips pieces of no length", () => {
    const curve = measureCurve([
      straightCubic(0, 0, 3, 0),
      straightCubic(3, 0, 3, 0),
      straightCubic(3, 0, 3, 4),
    ]);
    expect(curve.length).toBeCloseTo(7, 12);
    expect(curveAt(curve, 5)).toMatchObject({ x: 3, directionY: 1 });
  });
});

describe("the nearest place", () => {
  it("is nowhere farther than any sampled point, and really lies on the curve", () => {
    fc.assert(
      fc.property(
        fc.array(coordinate, { minLength: 14, maxLength: 14 }),
        coordinate,
        coordinate,
        (points, x, y) => {
          const cubics = cubicsOf({ closed: false, points });
          const nearest = nearestOnCubics(cubics, { x, y });
          if (!nearest) throw new Error("nothing");
          for (const cubic of cubics)
            for (let k = 0; k <= 500; k += 1)
              expect(nearest.distance).toBeLessThanOrEqual(gap(pointOn(cubic, k / 500), { x, y }) + 1e-9);
          const on = cubics[nearest.index];
          expect(on && gap(pointOn(on, nearest.t), nearest)).toBe(0);
        },
      ),
    );
    expect(nearestOnCubics([], { x: 0, y: 0 })).toBeUndefined();
  });
});
