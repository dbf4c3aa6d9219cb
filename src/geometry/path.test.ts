import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import type { Affine } from "./affine.js";
import { ARC_TOLERANCE, arcCubics, arcError } from "./arc.js";
import { type Cubic, cubicsOf } from "./cubic-path.js";
import { pathBounds, pathOfShape, readPath, transformPath, writePath } from "./path.js";

const pointOn = (c: Cubic, t: number): { x: number; y: number } => {
  const s = 1 - t;
  const mix = (p: number, q: number, r: number, u: number) =>
    s * s * s * p + 3 * s * s * t * q + 3 * s * t * t * r + t * t * t * u;
  return { x: mix(c[0], c[2], c[4], c[6]), y: mix(c[1], c[3], c[5], c[7]) };
};

const coordinate = fc.double({ min: -1000, max: 1000, noNaN: true });

describe("readPath", () => {
  it("resolves every relative and short command to the same curve as its absolute form", () => {
    const short = readPath("m1 2 3 4h5v6l1 1c1 0 2 1 3 3s1 2 2 2q1 1 2 0t2 0a3 3 0 0 1 4 4z m1 1 2 0");
    const long = readPath(
      "M1 2L4 6L9 6L9 12L10 13C11 13 12 14 13 16C14 18 14 18 15 18Q16 19 17 18Q18 17 19 18A3 3 0 0 1 23 22ZM2 3L4 3",
    );
    const flat = (path: typeof short) => path.subpaths.flatMap((subpath) => subpath.points);
    expect(short.subpaths.map(({ closed }) => closed)).toEqual([true, false]);
    expect(flat(short)).toHaveLength(flat(long).length);
    for (const [k, value] of flat(short).entries()) expect(value).toBeCloseTo(flat(long)[k] ?? Number.NaN, 9);
  });

  it("ends a closed run exactly on its start", () => {
    const [run] = readPath("M1 2L5 2L5 9Z").subpaths;
    expect(run?.points.slice(-2)).toEqual([1, 2]);
    expect(cubicsOf(run ?? { closed: false, points: [] })).toHaveLength(3);
  });

  it("raises a quadratic exactly", () => {
    const [cubic] = cubicsOf(readPath("M0 0Q6 9 12 3").subpaths[0] ?? { closed: false, points: [] });
    for (const t of [0.1, 0.37, 0.5, 0.9]) {
      const at = pointOn(cubic ?? [0, 0, 0, 0, 0, 0, 0, 0], t);
      expect(at.x).toBeCloseTo(2 * (1 - t) * t * 6 + t * t * 12, 12);
      expect(at.y).toBeCloseTo(2 * (1 - t) * t * 9 + t * t * 3, 12);
    }
  });

  it("draws nothing for empty data and lone moves", () => {
    for (const d of ["", " ", "none", "M1 1", "M1 1M2 2"]) expect(readPath(d).subpaths).toEqual([]);
    expect(readPath("M1 1z").subpaths).toEqual([{ closed: true, points: [1, 1] }]);
  });

  it.each([
    "L1 1",
    "M1",
    "M1 1L",
    "M1 1X2 2",
    "M1e999 1L2 2",
    "M0 0 R1 1 2 2",
    "M0 0A1 1 0 2 0 3 3",
    "M0 0L1,,2",
  ])("refuses %s", (d) => {
    expect(() => readPath(d)).toThrow(expect.objectContaining({ code: "E_NUMBER" }) as RepetendError);
  });
});

describe("arcs", () => {
  it("state their own error: the measured error is the formula's, and within the tolerance", () => {
    for (const angle of [0.3, Math.PI / 4, Math.PI / 2]) {
      const end = [Math.cos(angle), Math.sin(angle)] as const;
      const arc = { radiusX: 1, radiusY: 1, turn: 0, large: false, sweep: true };
      const measure = (tolerance: number) =>
        Math.max(
          ...arcCubics(1, 0, arc, end[0], end[1], tolerance).flatMap((cubic) =>
            Array.from({ length: 401 }, (_, k) => {
              const at = pointOn(cubic, k / 400);
              return Math.abs(Math.hypot(at.x, at.y) - 1);
            }),
          ),
        );
      expect(measure(1) / arcError(angle)).toBeCloseTo(1, 2);
      expect(measure(ARC_TOLERANCE)).toBeLessThanOrEqual(ARC_TOLERANCE);
    }
  });

  it("pin their end points and lie on the ellipse that the command describes", () => {
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: -360, max: 360, noNaN: true }),
        fc.boolean(),
        fc.boolean(),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        (cx, cy, rx, ry, turn, sweep, large, span) => {
          const radians = (turn * Math.PI) / 180;
          const on = (angle: number): readonly [number, number] => {
            const [u, v] = [rx * Math.cos(angle), ry * Math.sin(angle)];
            return [
              cx + Math.cos(radians) * u - Math.sin(radians) * v,
              cy + Math.sin(radians) * u + Math.cos(radians) * v,
            ];
          };
          const whole = (large ? 2 * Math.PI - span : span) * (sweep ? 1 : -1);
          const [x0, y0] = on(0.7);
          const [x1, y1] = on(0.7 + whole);
          const cubics = arcCubics(x0, y0, { radiusX: rx, radiusY: ry, turn, large, sweep }, x1, y1);
          expect(cubics[0]?.slice(0, 2)).toEqual([x0, y0]);
          expect(cubics[cubics.length - 1]?.slice(6)).toEqual([x1, y1]);
          for (const [k, cubic] of cubics.entries()) {
            const middle = on(0.7 + (whole * (k + 0.5)) / cubics.length);
            const at = pointOn(cubic, 0.5);
            const miss = Math.hypot(at.x - middle[0], at.y - middle[1]);
            expect(miss).toBeLessThan(2 * ARC_TOLERANCE * Math.max(rx, ry) + 1e-6);
          }
        },
      ),
    );
  });

  it("grow radii that cannot span the points, and turn a zero radius into a line", () => {
    const arc = { radiusX: 1, radiusY: 1, turn: 0, large: false, sweep: true };
    for (const cubic of arcCubics(0, 0, arc, 10, 0)) {
      const at = pointOn(cubic, 0.5);
      expect(Math.hypot(at.x - 5, at.y)).toBeCloseTo(5, 3);
    }
    expect(arcCubics(0, 0, { ...arc, radiusX: 0 }, 3, 6)).toEqual([[0, 0, 1, 2, 2, 4, 3, 6]]);
    expect(arcCubics(4, 4, arc, 4, 4)).toEqual([]);
  });
});

describe("pathBounds", () => {
  it("is tight: holds every point of the curve and is reached on all four sides", () => {
    fc.assert(
      fc.property(fc.array(coordinate, { minLength: 8, maxLength: 8 }), (numbers) => {
        const cubic = numbers as unknown as Cubic;
        const box = pathBounds({ subpaths: [{ closed: false, points: numbers }] });
        if (box === undefined) throw new Error("no box");
        const xs = Array.from({ length: 2001 }, (_, k) => pointOn(cubic, k / 2000).x);
        const ys = Array.from({ length: 2001 }, (_, k) => pointOn(cubic, k / 2000).y);
        const near = (one: number, other: number, slack: number) =>
          expect(Math.abs(one - other)).toBeLessThan(slack);
        // Half a sampling step leaves at most f'' h^2 / 8 < 6 * 4000 / (8 * 2000^2) mm undiscovered.
        near(Math.min(...xs), box.x, 2e-3);
        near(Math.max(...xs), box.x + box.width, 2e-3);
        near(Math.min(...ys), box.y, 2e-3);
        near(Math.max(...ys), box.y + box.height, 2e-3);
        expect(Math.min(...xs)).toBeGreaterThanOrEqual(box.x - 1e-9);
        expect(Math.max(...xs)).toBeLessThanOrEqual(box.x + box.width + 1e-9);
      }),
    );
  });

  it("keeps lines of no width and has none for nothing", () => {
    expect(pathBounds(readPath("M3 1V9"))).toEqual({ x: 3, y: 1, width: 0, height: 8 });
    expect(pathBounds(readPath(""))).toBeUndefined();
  });
});

describe("pathOfShape", () => {
  const box = (name: string, attributes: Record<string, string>) => {
    const path = pathOfShape(name, attributes);
    return path && pathBounds(path);
  };

  it("gives round shapes their outermost points, within rounding", () => {
    const closeTo = (x: number, y: number, width: number, height: number) => ({
      x: expect.closeTo(x, 12) as number,
      y: expect.closeTo(y, 12) as number,
      width: expect.closeTo(width, 12) as number,
      height: expect.closeTo(height, 12) as number,
    });
    expect(box("circle", { cx: "5", cy: "7", r: "3" })).toEqual(closeTo(2, 4, 6, 6));
    expect(box("ellipse", { rx: "3", ry: "auto" })).toEqual(closeTo(-3, -3, 6, 6));
    const rounded = { x: "1", width: "8", height: "4", rx: "9", ry: "1" };
    expect(box("rect", rounded)).toEqual(closeTo(1, 0, 8, 4));
  });

  it("follows corners of a rounded rectangle and of polygons", () => {
    const path = pathOfShape("rect", { width: "10", height: "6", rx: "2" });
    expect(writePath(path ?? { subpaths: [] }, 3)).toMatch(/^M2 0L8 0C.*L10 4C.*L2 6C.*L0 2C.*Z$/);
    expect(writePath(pathOfShape("polygon", { points: "0,0 4,0 4,3" }) ?? { subpaths: [] }, 2)).toBe(
      "M0 0L4 0L4 3Z",
    );
    expect(writePath(pathOfShape("polyline", { points: "0,0 4,0-4,.5" }) ?? { subpaths: [] }, 2)).toBe(
      "M0 0L4 0L-4 0.5",
    );
    expect(writePath(pathOfShape("line", { x2: "4" }) ?? { subpaths: [] }, 2)).toBe("M0 0L4 0");
  });

  it("knows what is no shape, what has no size and what is wrong", () => {
    expect(pathOfShape("g", {})).toBeUndefined();
    expect(pathOfShape("circle", {})).toEqual({ subpaths: [] });
    for (const bad of [{ r: "-1" }, { r: "1px" }, { r: "" }, { cx: "NaN" }])
      expect(() => pathOfShape("circle", bad)).toThrow(RepetendError);
    expect(() => pathOfShape("polygon", { points: "1 2 3" })).toThrow(RepetendError);
    expect(() => pathOfShape("polygon", { points: "1 2 x 3" })).toThrow(RepetendError);
  });
});

describe("writePath", () => {
  it("writes what readPath reads back within one unit of the last decimal", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(coordinate, { minLength: 6, maxLength: 6 }), { minLength: 1, maxLength: 5 }),
        coordinate,
        coordinate,
        fc.integer({ min: 0, max: 6 }),
        (cubics, x, y, digits) => {
          const points = [x, y, ...cubics.flat()];
          const [back] = readPath(writePath({ subpaths: [{ closed: false, points }] }, digits)).subpaths;
          expect(back?.points).toHaveLength(points.length);
          for (const [k, value] of points.entries())
            expect(Math.abs((back?.points[k] ?? Number.NaN) - value)).toBeLessThanOrEqual(10 ** -digits);
        },
      ),
    );
  });

  it("never writes -0, exponents or trailing zeros", () => {
    expect(writePath(readPath("M-0.0001 1e-7L1e5 2.500"), 2)).toBe("M0 0L100000 2.5");
  });
});

describe("transformPath", () => {
  it("commutes with points of the curve", () => {
    const part = fc.double({ min: -5, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        fc.record({ a: part, b: part, c: part, d: part, e: part, f: part }),
        fc.array(coordinate, { minLength: 8, maxLength: 8 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (map: Affine, points, t) => {
          const image = transformPath({ subpaths: [{ closed: false, points }] }, map).subpaths[0]?.points;
          const at = pointOn(points as unknown as Cubic, t);
          const mapped = pointOn(image as unknown as Cubic, t);
          expect(mapped.x).toBeCloseTo(map.a * at.x + map.c * at.y + map.e, 6);
          expect(mapped.y).toBeCloseTo(map.b * at.x + map.d * at.y + map.f, 6);
        },
      ),
    );
  });
});
