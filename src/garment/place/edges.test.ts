import { describe, expect, it } from "vitest";
import type { RepetendError } from "../../errors.js";
import { readPath, transformPath } from "../../geometry/path.js";
import { cutEdges, edgeLengths } from "./edges.js";

const ends = (points: readonly number[]) => [points.slice(0, 2), points.slice(-2)];

describe("cutEdges", () => {
  it("finds the corners of a skirt, whichever way it is drawn and wherever it begins", () => {
    const drawn = [
      "M100 180C140 195 200 195 240 180C255 260 290 370 310 440C230 475 110 475 30 440C50 370 85 260 100 180Z",
      "M100 180C85 260 50 370 30 440C110 475 230 475 310 440C290 370 255 260 240 180C200 195 140 195 100 180Z",
      "M170 466.25C130 466.25 70 457 30 440C50 370 85 260 100 180C140 195 200 195 240 180C255 260 290 370 310 440C270 457 210 466.25 170 466.25Z",
    ];
    for (const d of drawn) {
      const edges = cutEdges(readPath(d), undefined, "skirt");
      expect(ends(edges.top.points)).toEqual([
        [100, 180],
        [240, 180],
      ]);
      expect(ends(edges.right.points)).toEqual([
        [240, 180],
        [310, 440],
      ]);
      expect(ends(edges.bottom.points)).toEqual([
        [30, 440],
        [310, 440],
      ]);
      expect(ends(edges.left.points)).toEqual([
        [100, 180],
        [30, 440],
      ]);
    }
  });

  it("names the edges of a turned panel by where they lie", () => {
    const sleeve = readPath("M110 60L102 150L50 170L30 150Z");
    const edges = cutEdges(sleeve, undefined, "sleeve");
    expect(ends(edges.top.points)).toEqual([
      [30, 150],
      [110, 60],
    ]);
    expect(ends(edges.left.points)).toEqual([
      [30, 150],
      [50, 170],
    ]);
  });

  it("leaves no part of the outline out", () => {
    const outline = readPath("M0 0C20 10 50 8 60 0L70 40Q74 60 80 90C50 100 20 96 -10 92L-6 50Z");
    const { top, right, bottom, left } = edgeLengths(cutEdges(outline, undefined, "p"));
    const whole = edgeLengths(
      cutEdges(transformPath(outline, { a: -1, b: 0, c: 0, d: 1, e: 0, f: 0 }), undefined, "p"),
    );
    expect(top + right + bottom + left).toBeCloseTo(whole.top + whole.right + whole.bottom + whole.left, 9);
    expect(left).toBeCloseTo(whole.right, 9);
  });

  it("takes given corners onto the outline, and finds some on a round panel", () => {
    const circle = readPath("M50 10A40 40 0 0 1 50 90A40 40 0 0 1 50 10Z");
    const found = cutEdges(circle, undefined, "round");
    const lengths = edgeLengths(found);
    for (const length of Object.values(lengths)) expect(length).toBeCloseTo(20 * Math.PI, -1);
    const square = readPath("M0 0H100V100H0Z");
    const given = cutEdges(
      square,
      [
        { x: 10, y: -3 },
        { x: 90, y: 1 },
        { x: 100, y: 100 },
        { x: 0, y: 100 },
      ],
      "square",
    );
    const [from, to] = ends(given.top.points);
    expect(from?.[0]).toBeCloseTo(10, 9);
    expect(to?.[0]).toBeCloseTo(90, 9);
    expect(to?.[1]).toBeCloseTo(0, 9);
  });

  it("refuses corners out of order and panels without an outline", () => {
    const square = readPath("M0 0H100V100H0Z");
    const wrong = [
      { x: 0, y: 0 },
      { x: 0, y: 100 },
      { x: 100, y: 100 },
      { x: 100, y: 0 },
    ] as const;
    const refused = expect.objectContaining({ code: "E_LAYOUT" }) as RepetendError;
    expect(() => cutEdges(square, wrong, "square")).toThrow(refused);
    expect(() => cutEdges(readPath(""), undefined, "nothing")).toThrow(refused);
  });
});
