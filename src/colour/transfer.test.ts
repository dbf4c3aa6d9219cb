import { convertLrgbToRgb, convertRec2020ToXyz65 } from "culori/fn";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { encodeSrgb, recodeRec2020 } from "./transfer.js";

const component = fc.double({ min: -2, max: 2, noNaN: true });

describe("recodeRec2020", () => {
  it("gives the library's component of the light that a power of 2.4 gives, for negative components too", () => {
    fc.assert(
      fc.property(component, (value) => {
        const recoded = recodeRec2020(value);
        const light = convertRec2020ToXyz65({ r: recoded, g: recoded, b: recoded }).y;
        expect(light).toBeCloseTo(Math.sign(value) * Math.abs(value) ** 2.4, 9);
      }),
    );
  });
});

describe("encodeSrgb", () => {
  it("agrees with the library's curve", () => {
    fc.assert(
      fc.property(component, (light) => {
        expect(encodeSrgb(light)).toBeCloseTo(convertLrgbToRgb({ r: light, g: light, b: light }).r, 9);
      }),
    );
  });
});
