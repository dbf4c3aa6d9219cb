import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyTo } from "./affine.js";
import { boxAround, boxOverlap, growBox, mapBox } from "./box.js";

const part = fc.double({ min: -100, max: 100, noNaN: true });
const size = fc.double({ min: 0, max: 100, noNaN: true });
const box = fc.record({ x: part, y: part, width: size, height: size });
const map = fc.record({ a: part, b: part, c: part, d: part, e: part, f: part });
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("boxes", () => {
  it("around several hold each of them and touch one on every side", () => {
    fc.assert(
      fc.property(fc.array(box, { minLength: 1, maxLength: 6 }), (boxes) => {
        const around = boxAround(boxes);
        if (around === undefined) throw new Error("no box");
        const right = (b: { x: number; width: number }) => b.x + b.width;
        expect(around.x).toBe(Math.min(...boxes.map((b) => b.x)));
        expect(right(around)).toBeCloseTo(Math.max(...boxes.map(right)), 9);
        expect(around.y).toBe(Math.min(...boxes.map((b) => b.y)));
      }),
    );
    expect(boxAround([])).toBeUndefined();
  });

  it("overlap the same both ways, within both, and not where they only touch", () => {
    fc.assert(
      fc.property(box, box, (one, other) => {
        const overlap = boxOverlap(one, other);
        expect(boxOverlap(other, one)).toEqual(overlap);
        if (overlap === undefined) return;
        expect(overlap.width).toBeLessThanOrEqual(Math.min(one.width, other.width) + 1e-9);
        expect(overlap.x).toBeGreaterThanOrEqual(Math.max(one.x, other.x));
      }),
    );
    const unit = { x: 0, y: 0, width: 1, height: 1 };
    expect(boxOverlap(unit, { ...unit, x: 1 })).toBeUndefined();
    expect(boxOverlap(unit, { ...unit, x: 0.75 })).toEqual({ x: 0.75, y: 0, width: 0.25, height: 1 });
  });

  it("mapped hold the image of every point of the box", () => {
    fc.assert(
      fc.property(box, map, share, share, (b, m, u, v) => {
        const image = mapBox(m, b);
        const at = applyTo(m, { x: b.x + u * b.width, y: b.y + v * b.height });
        expect(at.x).toBeGreaterThanOrEqual(image.x - 1e-6);
        expect(at.x).toBeLessThanOrEqual(image.x + image.width + 1e-6);
        expect(at.y).toBeGreaterThanOrEqual(image.y - 1e-6);
        expect(at.y).toBeLessThanOrEqual(image.y + image.height + 1e-6);
      }),
    );
  });

  it("grow on all four sides", () => {
    expect(growBox({ x: 1, y: 2, width: 3, height: 4 }, 2)).toEqual({ x: -1, y: 0, width: 7, height: 8 });
  });
});
