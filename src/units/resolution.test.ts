import { describe, expect, it } from "vitest";
import { pixelsPerMetre, readResolution } from "./resolution.js";

describe("pixelsPerMetre", () => {
  // PNG specification (third edition), 11.3.4.3 pHYs: pixels per unit, the metre; 1 inch is 0.0254 m exactly.
  it.each([
    [300, 11811],
    [254, 10000],
    [72, 2835],
  ])("stores %d dpi as %d", (dpi, value) => {
    expect(pixelsPerMetre(dpi)).toBe(value);
  });
});

describe("readResolution", () => {
  it("takes one number for both axes, or one an axis", () => {
    expect(readResolution(254)).toEqual({ x: 254, y: 254 });
    expect(readResolution({ x: 300, y: 150 })).toEqual({ x: 300, y: 150 });
    expect(readResolution(100_000).x).toBe(100_000);
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY, 100_001])("refuses %d", (dpi) => {
    expect(() => readResolution(dpi)).toThrow(/^E_NUMBER dpi/);
    expect(() => readResolution({ x: 300, y: dpi }, "out.dpi")).toThrow(/^E_NUMBER out.dpi/);
  });
});
