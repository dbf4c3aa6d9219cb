import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readPercent } from "./percent.js";

describe("readPercent", () => {
  it.each([
    ["4%", 0.04],
    [" 3.5 % ", 0.035],
    ["-2%", -0.02],
    [".5%", 0.005],
    ["100%", 1],
  ])("reads %j as %d", (text, value) => {
    expect(readPercent(text)).toBe(value);
  });

  it.each(["4", "", "%", "4,5%", "4%%", "1e1%", "4 percent"])("refuses %j", (text) => {
    expect(() => readPercent(text)).toThrow(/^E_UNIT/);
  });

  it("refuses a bare number, which might be meant as either", () => {
    expect(() => readPercent(4 as unknown as string)).toThrow(/^E_UNIT/);
  });

  it("holds it against limits, both inclusive", () => {
    expect(readPercent("20%", { atMost: 0.2 })).toBe(0.2);
    expect(() => readPercent("20.1%", { where: "shrinkage.warp", atLeast: -0.2, atMost: 0.2 })).toThrow(
      /^E_NUMBER shrinkage.warp/,
    );
  });

  it("is the double next to the decimal moved by two places", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (thousandths) => {
        const text = `${thousandths < 0 ? "-" : ""}${Math.floor(Math.abs(thousandths) / 1000)}.${String(Math.abs(thousandths) % 1000).padStart(3, "0")}%`;
        expect(readPercent(text)).toBeCloseTo(thousandths / 100_000, 15);
      }),
    );
  });
});
