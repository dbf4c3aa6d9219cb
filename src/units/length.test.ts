import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { MM_PER_UNIT, mm, readLength, type Unit } from "./length.js";

const codeOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof RepetendError) return error.code;
    throw error;
  }
  return "none";
};

const units = Object.keys(MM_PER_UNIT) as Unit[];

describe("mm", () => {
  // 1 yd = 0.9144 m exactly, 36 inches to the yard: International yard and pound agreement, 1959.
  it.each([
    ["1in", 25.4],
    ["1yd", 914.4],
    ["36in", 914.4],
    ["10in", 254],
    ["58 in", 1473.2],
    ["0.1in", 2.54],
    [".5 cm", 5],
    ["64cm", 640],
    ["1.5 yd", 1371.6],
    ["1.5m", 1500],
    [" 12.7\tmm ", 12.7],
    ["-3mm", -3],
    ["+3mm", 3],
  ])("reads %j as %d mm", (text, value) => {
    expect(mm(text)).toBe(value);
  });

  it.each([
    "12",
    "12px",
    "",
    " ",
    "1,5cm",
    "1.cm",
    "cm",
    "1e3mm",
    "1 cm 2",
    "10 IN",
    "0x10mm",
    "1/2in",
    "--1mm",
    "- 1mm",
    "1constructor",
    `${"1".repeat(100)}mm`,
  ])("refuses %j", (text) => {
    expect(codeOf(() => mm(text))).toBe("E_UNIT");
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])("refuses %d", (value) => {
    expect(codeOf(() => mm(value))).toBe("E_NUMBER");
  });

  it("refuses what is neither text nor number", () => {
    for (const value of [undefined, null, {}, [], true]) {
      expect(codeOf(() => mm(value as unknown as number))).toBe("E_NUMBER");
    }
  });

  it("takes a number as it is", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => mm(value) === value),
    );
  });

  it("reads every decimal as the double next to the exact product, whichever unit it is written in", () => {
    const tenths: Record<Unit, bigint> = { mm: 10n, cm: 100n, m: 10_000n, in: 254n, yd: 9144n };
    fc.assert(
      fc.property(
        fc.bigInt({ min: 0n, max: 10n ** 9n }),
        fc.integer({ min: 0, max: 9 }),
        fc.constantFrom(...units),
        (digits, decimals, unit) => {
          const padded = digits.toString().padStart(decimals + 1, "0");
          const at = padded.length - decimals;
          const text = decimals === 0 ? padded : `${padded.slice(0, at)}.${padded.slice(at)}`;
          // 10^15 times the value is a whole number; its division by a power of ten rounds once.
          const scaled = digits * tenths[unit] * 10n ** BigInt(14 - decimals);
          expect(mm(`${text}${unit}`)).toBe(Number(`${scaled}e-15`));
        },
      ),
    );
  });
});

describe("readLength", () => {
  it("accepts the bounds that are inclusive, and not the one that is not", () => {
    expect(readLength(5, { atLeast: 5, atMost: 5 })).toBe(5);
    expect(codeOf(() => readLength(5, { above: 5 }))).toBe("E_SIZE");
    expect(codeOf(() => readLength(4.999, { atLeast: 5 }))).toBe("E_SIZE");
    expect(codeOf(() => readLength(5.001, { atMost: 5 }))).toBe("E_SIZE");
  });

  it("says where, what was met and what is accepted", () => {
    expect(() => readLength("0mm", { where: "bands[1].from", above: 0, atMost: 100 })).toThrow(
      'E_SIZE bands[1].from: a length is outside its limits (met "0mm"); accepted: a length above 0 mm, at most 100 mm',
    );
    expect(() => readLength("7 parsecs", { where: "width" })).toThrow(/^E_UNIT width: .*met "7 parsecs"/);
  });
});
