import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RepetendError } from "../errors.js";
import { applyTo, compose, IDENTITY, type Point, scaling, turning } from "./affine.js";
import { curveAt, measureCurve } from "./arc-length.js";
import type { Box } from "./box.js";
import { pointOn } from "./cubic.js";
import { cubicsOf, type Subpath, straightCubic } from "./cubic-path.js";
import { decideFolds } from "./decide-folds.js";
import { findFolds } from "./folds.js";
import { mapPath } from "./map-path.js";
import { invertPatch, type PatchEdges, patch } from "./patch.js";
import { pathOfShape, readPath, transformPath } from "./path.js";
import {
  composeSmooth,
  localAffine,
  mapPoint,
  type SmoothMap,
  smoothAffine,
  stretchAt,
} from "./smooth-map.js";

const run = (d: string): Subpath => {
  const [first] = readPath(d).subpaths;
  if (!first) throw new Error("no run");
  return first;
};

/** A skirt panel: curved waist and hem, slanting sides that bulge. */
const SKIRT: PatchEdges = {
  top: run("M100 20Q150 40 200 20"),
  right: run("M200 20C215 90 240 160 260 220"),
  bottom: run("M40 220C100 250 200 250 260 220"),
  left: run("M100 20C85 90 60 160 40 220"),
};

const part = fc.double({ min: -50, max: 50, noNaN: true });
const turn = fc.double({ min: -4, max: 4, noNaN: true });
const stretch = fc.double({ min: 0.5, max: 50, noNaN: true });
const lean = fc.double({ min: -2, max: 2, noNaN: true });
const share = fc.double({ min: 0, max: 1, noNaN: true });
const gap = (one: Point, other: Point) => Math.hypot(one.x - other.x, one.y - other.y);
const UNIT = { x: 0, y: 0, width: 1, height: 1 };

const line = (from: Point, to: Point): Subpath => run(`M${from.x} ${from.y}L${to.x} ${to.y}`);

describe("a boundary-blended patch", () => {
  it("reproduces its four boundary curves, by length along them", () => {
    const { map } = patch(SKIRT);
    const curves = {
      top: measureCurve(cubicsOf(SKIRT.top)),
      right: measureCurve(cubicsOf(SKIRT.right)),
      bottom: measureCurve(cubicsOf(SKIRT.bottom)),
      left: measureCurve(cubicsOf(SKIRT.left)),
    };
    for (let k = 0; k <= 50; k += 1) {
      const s = k / 50;
      expect(gap(map(s, 0), curveAt(curves.top, s * curves.top.length))).toBeLessThan(1e-9);
      expect(gap(map(s, 1), curveAt(curves.bottom, s * curves.bottom.length))).toBeLessThan(1e-9);
      expect(gap(map(0, s), curveAt(curves.left, s * curves.left.length))).toBeLessThan(1e-9);
      expect(gap(map(1, s), curveAt(curves.right, s * curves.right.length))).toBeLessThan(1e-9);
    }
  });

  it("between the sides of a parallelogram is exactly the affine map", () => {
    fc.assert(
      fc.property(
        part,
        part,
        turn,
        stretch,
        stretch,
        lean,
        share,
        share,
        (e, f, angle, along, down, skew, u, v) => {
          const { a, b, c, d } = compose(turning(angle), scaling(along, -down), { ...IDENTITY, c: skew });
          const at = (x: number, y: number) => applyTo({ a, b, c, d, e, f }, { x, y });
          const { map } = patch({
            top: line(at(0, 0), at(1, 0)),
            right: line(at(1, 0), at(1, 1)),
            bottom: line(at(0, 1), at(1, 1)),
            left: line(at(0, 0), at(0, 1)),
          });
          const met = map(u, v);
          expect(gap(met, at(u, v))).toBeLessThan(1e-8);
          for (const [one, other] of [
            [met.a, a],
            [met.b, b],
            [met.c, c],
            [met.d, d],
          ] as const)
            expect(Math.abs(one - other)).toBeLessThan(1e-7);
        },
      ),
    );
  });

  it("between four straight sides is the bilinear map", () => {
    const [p, q, r, s] = [
      { x: 0, y: 0 },
      { x: 10, y: 1 },
      { x: -2, y: 8 },
      { x: 14, y: 9 },
    ];
    const { map } = patch({ top: line(p, q), right: line(q, s), bottom: line(r, s), left: line(p, r) });
    for (const [u, v] of [
      [0.3, 0.6],
      [0.9, 0.1],
    ] as const) {
      const mix = (axis: "x" | "y") =>
        (1 - v) * ((1 - u) * p[axis] + u * q[axis]) + v * ((1 - u) * r[axis] + u * s[axis]);
      expect(gap(map(u, v), { x: mix("x"), y: mix("y") })).toBeLessThan(1e-12);
    }
  });

  it("states its Jacobian: differences show the same, also a little outside", () => {
    const { map } = patch(SKIRT);
    fc.assert(
      fc.property(
        fc.double({ min: -0.2, max: 1.2, noNaN: true }),
        fc.double({ min: -0.2, max: 1.2, noNaN: true }),
        (u, v) => {
          const h = 1e-5;
          // Where a quadrant beyond a corner begins, the Jacobian jumps.
          const [nearU, nearV] = [u, v].map((at) => Math.min(Math.abs(at), Math.abs(at - 1)) <= h);
          const [outU, outV] = [u, v].map((at) => at <= h || at >= 1 - h);
          fc.pre(!((nearU && outV) || (nearV && outU)));
          const at = map(u, v);
          expect((map(u + h, v).x - map(u - h, v).x) / (2 * h)).toBeCloseTo(at.a, 1);
          expect((map(u + h, v).y - map(u - h, v).y) / (2 * h)).toBeCloseTo(at.b, 1);
          expect((map(u, v + h).x - map(u, v - h).x) / (2 * h)).toBeCloseTo(at.c, 1);
          expect((map(u, v + h).y - map(u, v - h).y) / (2 * h)).toBeCloseTo(at.d, 1);
        },
      ),
    );
  });

  it("does not come back in beyond its corners", () => {
    const jitter = fc.double({ min: -0.2, max: 0.2, noNaN: true });
    const beyond = fc.oneof(
      fc.double({ min: -4, max: -0.01, noNaN: true }),
      fc.double({ min: 1.01, max: 5, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(jitter, { minLength: 8, maxLength: 8 }), beyond, beyond, (by, u, v) => {
        const corner = (k: number): readonly [number, number] => [
          (k === 1 || k === 2 ? 1 : 0) + (by[2 * k] ?? 0),
          (k >= 2 ? 1 : 0) + (by[2 * k + 1] ?? 0),
        ];
        const edge = (from: number, to: number): Subpath => ({
          closed: false,
          points: straightCubic(...corner(from), ...corner(to)).slice(),
        });
        const quad = patch({ top: edge(0, 1), right: edge(1, 2), bottom: edge(3, 2), left: edge(0, 3) });
        expect(invertPatch(quad, quad.map(u, v), 1e-9)).toBeUndefined();
      }),
    );
  });

  it("is undone by its inverse, and says where it does not reach", () => {
    const skirt = patch(SKIRT);
    fc.assert(
      fc.property(share, share, (u, v) => {
        const back = invertPatch(skirt, skirt.map(u, v), 1e-9);
        expect(back && gap(back, { x: u, y: v })).toBeLessThan(1e-8);
      }),
    );
    expect(invertPatch(skirt, { x: 0, y: 0 }, 1e-9)).toBeUndefined();
  });

  it("follows guides inside, and stays continuous across them", () => {
    const guides = [
      { path: run("M140 30C150 100 120 180 120 241") },
      { path: run("M170 30C160 100 190 180 200 239"), along: 0.75 },
    ];
    const skirt = patch({ ...SKIRT, guides });
    const plain = patch(SKIRT);
    const onTop =
      invertPatch(plain, { x: 140, y: 29.7 }, 1e-6) ?? invertPatch(plain, { x: 140, y: 30.5 }, 1e-6);
    for (let k = 0; k <= 20; k += 1) {
      const v = k / 20;
      const on = skirt.map(0.75, v);
      const nearest = Math.min(
        ...Array.from({ length: 2001 }, (_, j) => {
          const [cubic] = cubicsOf(guides[1]?.path ?? SKIRT.left);
          return cubic ? gap(pointOn(cubic, j / 2000), on) : Infinity;
        }),
      );
      // The guide's ends are drawn onto the edges, by up to 2 units here; inside it is followed.
      expect(nearest).toBeLessThan(2);
      expect(gap(skirt.map(0.75 - 1e-9, v), on)).toBeLessThan(1e-5);
      expect(gap(skirt.map(v, 0), plain.map(v, 0))).toBeLessThan(20);
    }
    expect(onTop?.x).toBeGreaterThan(0.3);
  });

  it("with a guide on the affine line changes nothing", () => {
    const square = {
      top: run("M0 0H10"),
      right: run("M10 0V10"),
      bottom: run("M0 10H10"),
      left: run("M0 0V10"),
    };
    const guided = patch({ ...square, guides: [{ path: run("M4 0V10") }] });
    for (const [u, v] of [
      [0.2, 0.3],
      [0.4, 0.5],
      [0.9, 1],
    ] as const) {
      const at = guided.map(u, v);
      expect(gap(at, { x: 10 * u, y: 10 * v })).toBeLessThan(1e-9);
      expect(at.a).toBeCloseTo(10, 9);
    }
  });

  it("refuses gaping corners, edges of no length and guides out of place", () => {
    const refused: readonly PatchEdges[] = [
      { ...SKIRT, top: run("M100 21Q150 40 200 20") },
      { ...SKIRT, left: run("M100 20L100 20") },
      { ...SKIRT, guides: [{ path: run("M140 90L120 241") }] },
      { ...SKIRT, guides: [{ path: run("M170 30L120 241") }, { path: run("M140 30L200 239") }] },
    ];
    for (const edges of refused)
      expect(() => patch(edges)).toThrow(expect.objectContaining({ code: "E_LAYOUT" }) as RepetendError);
  });
});

describe("folds", () => {
  it("are not found in a sound panel", () => {
    expect(findFolds(patch(SKIRT).map, UNIT)).toEqual([]);
    expect(findFolds(smoothAffine({ a: -3, b: 0, c: 0, d: 2, e: 0, f: 0 }), UNIT)).toEqual([]);
  });

  it("are found with their place, also between the lines of the grid", () => {
    // The stretch is (x - 0.511)^2 - 1e-5 along x: negative on 0.0063 of the square only, a fifth of the grid's step.
    const map: SmoothMap = (x, y) => ({
      x: (x - 0.511) ** 3 / 3 - 1e-5 * x,
      y,
      a: (x - 0.511) ** 2 - 1e-5,
      b: 0,
      c: 0,
      d: 1,
    });
    const [fold] = findFolds(map, UNIT);
    expect(fold?.from.x).toBeCloseTo(0.511, 3);
    expect(fold?.stretch).toBeLessThan(0);
    const hourglass = patch({
      top: run("M0 0H10"),
      right: run("M10 0C3 4 3 6 10 10"),
      bottom: run("M0 10H10"),
      left: run("M0 0C7 4 7 6 0 10"),
    });
    const [worst] = findFolds(hourglass.map, UNIT);
    expect(worst?.at.y).toBeCloseTo(5, 0);
  });
});

describe("folds, decided", () => {
  const HOURGLASS = {
    top: run("M0 0H10"),
    right: run("M10 0C3 4 3 6 10 10"),
    bottom: run("M0 10H10"),
    left: run("M0 0C7 4 7 6 0 10"),
  };

  it("are ruled out in a sound panel, with and without guides", () => {
    expect(decideFolds(patch(SKIRT))).toEqual({ folded: [], open: [] });
    const square = {
      top: run("M0 0H10"),
      right: run("M10 0V10"),
      bottom: run("M0 10H10"),
      left: run("M0 0V10"),
    };
    expect(decideFolds(patch(square))).toEqual({ folded: [], open: [] });
    const guides = [{ path: run("M3 0C4 3 2 7 3 10") }, { path: run("M7 0L6 10") }];
    expect(decideFolds(patch({ ...square, guides }))).toEqual({ folded: [], open: [] });
  });

  it("are shown where there are some, and stay open only along the line where cloth turns over", () => {
    const panel = patch(HOURGLASS);
    const { folded, open } = decideFolds(panel);
    const area = (boxes: readonly Box[]) =>
      boxes.reduce((total, { width, height }) => total + width * height, 0);
    expect(area(folded)).toBeGreaterThan(0.05);
    expect(area(open)).toBeLessThan(0.05);
    for (const { x, y, width, height } of folded)
      expect(stretchAt(panel.map, { x: x + width / 2, y: y + height / 2 })).toBeLessThan(0);
  });

  it("agree with the area factor at any place of any panel", () => {
    const bend = fc.double({ min: -6, max: 6, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(bend, { minLength: 8, maxLength: 8 }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        ([a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0], u, v) => {
          const panel = patch({
            top: run(`M0 0C3 ${a} 7 ${b} 10 0`),
            right: run(`M10 0C${10 + c} 3 ${10 + d} 7 10 10`),
            bottom: run(`M0 10C3 ${10 + e} 7 ${10 + f} 10 10`),
            left: run(`M0 0C${g} 3 ${h} 7 0 10`),
          });
          const { folded, open } = decideFolds(panel);
          const holds = ({ x, y, width, height }: Box) => u > x && u < x + width && v > y && v < y + height;
          fc.pre(!open.some(holds));
          const upright = stretchAt(panel.map, { x: 0.5, y: 0.5 }) < 0 ? -1 : 1;
          const factor = upright * stretchAt(panel.map, { x: u, y: v });
          if (folded.some(holds)) expect(factor).toBeLessThan(0);
          else expect(factor).toBeGreaterThan(-1e-6);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("find a fold that is smaller than the step of the grid", () => {
    // The left side has a small dent that runs back on itself, a thirtieth of its height.
    const panel = patch({
      top: run("M0 0H10"),
      right: run("M10 0V10"),
      bottom: run("M0 10H10"),
      left: run("M0 0V4.95C0.4 5.3 0.4 4.7 0 5.05V10"),
    });
    const { folded } = decideFolds(panel);
    expect(folded.length).toBeGreaterThan(0);
    for (const { y, height } of folded) expect(height + Math.abs(y - 0.5)).toBeLessThan(1 / 32);
  });
});

describe("smooth maps", () => {
  it("compose with their Jacobians", () => {
    const scale: SmoothMap = smoothAffine({ a: 0.004, b: 0, c: 0, d: 0.003, e: 0.1, f: 0.2 });
    const both = composeSmooth(patch(SKIRT).map, scale);
    const h = 1e-4;
    const at = both(80, 120);
    expect(gap(at, mapPoint(patch(SKIRT).map, scale(80, 120)))).toBe(0);
    expect((both(80 + h, 120).x - both(80 - h, 120).x) / (2 * h)).toBeCloseTo(at.a, 5);
    expect((both(80, 120 + h).x - both(80, 120 - h).x) / (2 * h)).toBeCloseTo(at.c, 5);
    expect(stretchAt(both, { x: 80, y: 120 })).toBeCloseTo(at.a * at.d - at.b * at.c, 12);
    const local = localAffine(both, { x: 80, y: 120 });
    expect(gap(applyTo(local, { x: 80, y: 120 }), at)).toBeLessThan(1e-9);
    expect(gap(applyTo(local, { x: 80.1, y: 120 }), both(80.1, 120))).toBeLessThan(1e-3);
  });
});

describe("mapPath", () => {
  const flower = transformPath(pathOfShape("circle", { r: "0.3" }) ?? { subpaths: [] }, {
    a: 1,
    b: 0,
    c: 0.2,
    d: 1,
    e: 0.45,
    f: 0.5,
  });

  it.each([1, 0.02, 0.001])("stays within %s of the true image at every parameter", (tolerance) => {
    const { map } = patch(SKIRT);
    const paths = [flower, readPath("M0.05 0.9L0.95 0.1"), readPath("M0 0H1V1H0Z")];
    for (const path of paths) {
      const mapped = mapPath(path, map, tolerance);
      expect(mapped.worst).toBeLessThanOrEqual(tolerance);
      for (const [k, subpath] of path.subpaths.entries()) {
        const image = mapped.path.subpaths[k];
        if (!image) throw new Error("lost a run");
        expect(image.closed).toBe(subpath.closed);
        const curve = cubicsOf(image).flatMap((cubic) =>
          Array.from({ length: 65 }, (_, j) => pointOn(cubic, j / 64)),
        );
        // Dense sampling against dense sampling: every true point has a point of the curve within the tolerance and
        // half the curve's own spacing.
        const spacing = Math.max(...curve.slice(1).map((point, j) => gap(point, curve[j] ?? point)));
        for (const cubic of cubicsOf(subpath))
          for (let j = 0; j <= 60; j += 1) {
            const at = pointOn(cubic, j / 60);
            const wanted = map(at.x, at.y);
            expect(Math.min(...curve.map((point) => gap(point, wanted)))).toBeLessThanOrEqual(
              tolerance + spacing / 2,
            );
          }
      }
    }
  });

  it("finds the true image again by going back: every point of the result lies on the source curve", () => {
    const skirt = patch(SKIRT);
    const { path } = mapPath(readPath("M0.1 0.2L0.9 0.8"), skirt.map, 0.02);
    for (const cubic of cubicsOf(path.subpaths[0] ?? { closed: false, points: [] }))
      for (let j = 0; j <= 40; j += 1) {
        const back = invertPatch(skirt, pointOn(cubic, j / 40), 1e-10);
        if (!back) throw new Error("outside");
        // Off the line y = 0.2 + 0.75 (x - 0.1), measured in the image.
        const onLine = { x: back.x, y: 0.2 + 0.75 * (back.x - 0.1) };
        expect(gap(skirt.map(onLine.x, onLine.y), pointOn(cubic, j / 40))).toBeLessThan(0.06);
      }
  });

  it("under an affine map keeps every cubic, exactly", () => {
    const affine = { a: 2, b: 1, c: -1, d: 3, e: 7, f: 8 };
    const { path, worst } = mapPath(flower, smoothAffine(affine), 1e-9);
    const exact = transformPath(flower, affine).subpaths[0]?.points ?? [];
    expect(path.subpaths[0]?.points).toHaveLength(exact.length);
    for (const [k, value] of exact.entries()) expect(path.subpaths[0]?.points[k]).toBeCloseTo(value, 10);
    expect(worst).toBeLessThan(1e-12);
  });

  it("is cut where it crosses a guide, so that the jump there costs no crowd of cubics", () => {
    const guides = [
      { path: run("M140 30C150 100 120 180 120 241") },
      { path: run("M170 30C160 100 190 180 200 239"), along: 0.75 },
    ];
    const { map } = patch({ ...SKIRT, guides });
    const source = readPath("M0.05 0.3C0.4 0.1 0.7 0.9 0.95 0.6");
    const { path, worst } = mapPath(source, map, 0.001);
    expect(worst).toBeLessThanOrEqual(0.001);
    const image = cubicsOf(path.subpaths[0] ?? { closed: false, points: [] });
    // Halving towards two crossings alone would take 24.
    expect(image.length).toBeLessThan(24);
    const curve = image.flatMap((cubic) => Array.from({ length: 257 }, (_, j) => pointOn(cubic, j / 256)));
    const spacing = Math.max(...curve.slice(1).map((point, j) => gap(point, curve[j] ?? point)));
    for (const cubic of cubicsOf(source.subpaths[0] ?? { closed: false, points: [] }))
      for (let j = 0; j <= 400; j += 1) {
        const at = pointOn(cubic, j / 400);
        const nearest = Math.min(...curve.map((point) => gap(point, map(at.x, at.y))));
        expect(nearest).toBeLessThanOrEqual(0.001 + spacing / 2);
      }
  });

  it("keeps closed runs closed and moves of no length in place", () => {
    const { map } = patch(SKIRT);
    const points = mapPath(flower, map, 0.02).path.subpaths[0]?.points ?? [];
    expect(points.slice(0, 2)).toEqual(points.slice(-2));
    expect(mapPath(readPath("M0.5 0.5Z"), map, 0.02).path.subpaths[0]?.points).toHaveLength(2);
  });
});
