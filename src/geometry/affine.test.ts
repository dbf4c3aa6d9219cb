import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Affine,
  applyTo,
  compose,
  determinant,
  IDENTITY,
  invert,
  scaling,
  translation,
  turning,
} from "./affine.js";

const part = fc.double({ min: -100, max: 100, noNaN: true });
const map = fc.record({ a: part, b: part, c: part, d: part, e: part, f: part });
const point = fc.record({ x: part, y: part });

const turn = fc.double({ min: -4, max: 4, noNaN: true });
const stretch = fc.double({ min: 0.1, max: 50, noNaN: true });
const shear = fc.double({ min: -2, max: 2, noNaN: true });

const expectNear = (one: { x: number; y: number }, other: { x: number; y: number }, size: number) => {
  expect(Math.abs(one.x - other.x)).toBeLessThanOrEqual(size);
  expect(Math.abs(one.y - other.y)).toBeLessThanOrEqual(size);
};

describe("affine maps", () => {
  it("compose as they apply: the first listed is applied last", () => {
    fc.assert(
      fc.property(map, map, point, (one, other, at) => {
        expectNear(applyTo(compose(one, other), at), applyTo(one, applyTo(other, at)), 1e-6);
      }),
    );
    expect(applyTo(compose(translation(10, 0), scaling(2)), { x: 1, y: 1 })).toEqual({ x: 12, y: 2 });
  });

  it("compose associatively, with the identity as neutral", () => {
    fc.assert(
      fc.property(map, map, map, point, (one, two, three, at) => {
        const left = applyTo(compose(compose(one, two), three), at);
        const right = applyTo(compose(one, compose(two, three)), at);
        expectNear(left, right, 1e-4);
        expectNear(applyTo(compose(one, IDENTITY), at), applyTo(one, at), 0);
        expectNear(applyTo(compose(IDENTITY, one), at), applyTo(one, at), 0);
      }),
    );
    expect(compose()).toEqual(IDENTITY);
  });

  it("are undone by their inverse, and refuse one when they flatten the plane", () => {
    fc.assert(
      fc.property(map, turn, stretch, stretch, shear, point, ({ e, f }, angle, along, down, lean, at) => {
        const skew = { a: 1, b: 0, c: lean, d: 1, e: 0, f: 0 };
        const m = compose(translation(e, f), turning(angle), scaling(along, -down), skew);
        const back = invert(m);
        expectNear(applyTo(back ?? IDENTITY, applyTo(m, at)), at, 1e-5);
      }),
    );
    expect(invert(scaling(1, 0))).toBeUndefined();
    expect(invert({ ...IDENTITY, a: Number.NaN } as Affine)).toBeUndefined();
  });

  it("multiply areas", () => {
    fc.assert(
      fc.property(map, map, (one, other) => {
        const product = determinant(one) * determinant(other);
        expect(Math.abs(determinant(compose(one, other)) - product)).toBeLessThanOrEqual(1e-6 * 1e8);
      }),
    );
    expect(determinant(scaling(2, -3))).toBe(-6);
  });

  it("turn clockwise on the page, where y points down", () => {
    expectNear(applyTo(turning(Math.PI / 2), { x: 1, y: 0 }), { x: 0, y: 1 }, 1e-15);
  });
});
