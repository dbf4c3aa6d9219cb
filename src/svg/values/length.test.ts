import { describe, expect, it } from "vitest";
import { readDrawingLength, readMillimetres, wholeOf } from "./length.js";

describe("lengths of a drawing", () => {
  // CSS Values 4, section 6.2: 1in = 2.54cm = 25.4mm = 101.6q = 72pt = 6pc = 96px.
  it.each(["1in", "2.54cm", "25.4mm", "101.6q", "101.6Q", "72pt", "6pc", "96px", "96"])(
    "%s is 96 pixels",
    (text) => {
      expect(readDrawingLength(text, undefined)).toBeCloseTo(96, 10);
      expect(readMillimetres(text)).toBeCloseTo(25.4, 10);
    },
  );

  it("keeps millimetres as they are written", () => {
    expect([230, 345, 0.1, 1473.2].map((mm) => readMillimetres(`${mm}mm`))).toEqual([230, 345, 0.1, 1473.2]);
  });

  it("takes percentages of the viewport, the diagonal's over the root of two (SVG 2, Units)", () => {
    const viewport = { width: 30, height: 40 };
    expect(readDrawingLength("50%", wholeOf(viewport, "width"))).toBe(15);
    expect(readDrawingLength("50%", wholeOf(viewport, "height"))).toBe(20);
    expect(readDrawingLength("100%", wholeOf(viewport, "diagonal"))).toBeCloseTo(50 / Math.SQRT2, 12);
  });

  it("refuses units that depend on fonts or screens, and sums", () => {
    for (const unit of ["em", "ex", "rem", "ch", "vh", "m"]) {
      expect(() => readDrawingLength(`1${unit}`, 1)).toThrow("E_UNIT");
    }
    expect(() => readDrawingLength("5%", undefined)).toThrow("E_UNIT");
    expect(() => readDrawingLength("calc(1px + 2px)", 1)).toThrow("E_FEATURE");
    expect(() => readDrawingLength("wide", 1)).toThrow("E_NUMBER");
  });
});
