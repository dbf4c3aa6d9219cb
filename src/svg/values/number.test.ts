import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNumberList, readPlainNumber, writeNumber } from "./number.js";

describe("writeNumber", () => {
  it("writes plain decimals that read back to within half of the last digit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 0, max: 12 }),
        (value, digits) => {
          const written = writeNumber(value, digits);
          expect(written).toMatch(/^-?(?:0|[1-9]\d*)(?:\.\d*[1-9])?$/);
          expect(written).not.toBe("-0");
          // Half of the last digit, and what a double cannot hold.
          expect(Math.abs(Number(written) - value)).toBeLessThanOrEqual(
            0.5 * 10 ** -digits * (1 + 1e-9) + 1e-10,
          );
        },
      ),
    );
  });

  it.each([
    [-1e-9, 6, "0"],
    [1e-7, 9, "0.0000001"],
    [100, 3, "100"],
    [1e6, 0, "1000000"],
    [-0.5, 2, "-0.5"],
  ])("%d with %d digits is %s", (value, digits, text) => {
    expect(writeNumber(value, digits)).toBe(text);
  });

  it("refuses what is no number", () => {
    expect(() => writeNumber(Number.NaN)).toThrow("E_NUMBER");
    expect(() => writeNumber(Infinity)).toThrow("E_NUMBER");
  });
});

describe("reading numbers", () => {
  it("takes signs, points and exponents as SVG 2 has them", () => {
    expect([" 1 ", "+.5", "-3.", "1e-2", "2E3"].map((text) => readPlainNumber(text))).toEqual([
      1, 0.5, -3, 0.01, 2000,
    ]);
  });

  it("takes lists with and without separators", () => {
    expect(readNumberList("1,2 3-4.5.5 , 6e1")).toEqual([1, 2, 3, -4.5, 0.5, 60]);
    expect(readNumberList("  ")).toEqual([]);
  });

  it.each(["1,,2", ",1", "1,", "1 x", "NaN", "0x10", "1e999", "1000000"])("refuses the list %s", (text) => {
    expect(() => readNumberList(text)).toThrow("E_NUMBER");
  });
});
