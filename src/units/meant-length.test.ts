import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mm } from "./length.js";
import { meantLength } from "./meant-length.js";

describe("the length that was meant", () => {
  it.each([
    ["9,5cm", "9.5cm"],
    ["-9,5 CM", "-9.5cm"],
    ['10"', "10in"],
    ["10 inches", "10in"],
    ["2 yards", "2yd"],
    ["3 metres", "3m"],
    ["3 Meter", "3m"],
  ])("of %s is %s", (text, meant) => {
    expect(meantLength(text)).toBe(meant);
    expect(() => mm(text)).toThrow(`did you mean "${meant}"?`);
  });

  it.each(["9", "9 pt", "9px", "9 1/2in", "1,500mm", "cm", "", "9..5cm", "1e3mm"])(
    "is not guessed for %s",
    (text) => {
      expect(meantLength(text)).toBeUndefined();
    },
  );

  it("can always be read", () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom("", "cm", "Inch", '"'), (start, unit) => {
        const meant = meantLength(`${start}${unit}`);
        if (meant !== undefined) expect(Number.isFinite(mm(meant))).toBe(true);
      }),
    );
    fc.assert(
      fc.property(fc.integer({ min: -999, max: 999 }), fc.integer({ min: 0, max: 99 }), (whole, part) => {
        expect(mm(meantLength(`${whole},${part} cm`) ?? "")).toBe(mm(`${whole}.${part}cm`));
      }),
    );
  });
});
