import { readFileSync } from "node:fs";
import { lab as d3Lab } from "d3-color";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contrastRatio } from "./contrast.js";
import { fromOklch, toLab, toOklab, toOklch } from "./convert.js";
import { ciede2000, colourDifference } from "./difference.js";

const ink = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);

// Sharma, Wu, Dalal (2005), table 1: 34 pairs in Lab and their CIEDE2000 to four decimals.
const pairs = readFileSync(
  new URL("../../tests/reference/ciede2000-sharma-2005.tsv", import.meta.url),
  "utf8",
)
  .split("\n")
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split("\t").map(Number));

describe("ciede2000", () => {
  it("has all published pairs", () => {
    expect(pairs).toHaveLength(34);
  });

  it.each(pairs)("gives published pair %i, in both orders", (_, l1, a1, b1, l2, a2, b2, expected) => {
    const one = { white: "D65", l: l1 ?? 0, a: a1 ?? 0, b: b1 ?? 0 } as const;
    const other = { white: "D65", l: l2 ?? 0, a: a2 ?? 0, b: b2 ?? 0 } as const;
    expect(ciede2000(one, other).toFixed(4)).toBe(expected?.toFixed(4));
    expect(ciede2000(other, one).toFixed(4)).toBe(expected?.toFixed(4));
  });

  it("refuses Lab of different white points", () => {
    expect(() => ciede2000(toLab("red", "D50"), toLab("red", "D65"))).toThrow(/^E_COLOUR/);
  });
});

describe("colourDifference", () => {
  it("is 0 for one ink in two spellings, symmetric, and 100 from black to white", () => {
    expect(colourDifference("#008000", "GREEN")).toBe(0);
    expect(colourDifference("black", "white")).toBeCloseTo(100, 4);
    fc.assert(
      fc.property(ink, ink, (one, other) => {
        const difference = colourDifference(one, other);
        expect(difference).toBeCloseTo(colourDifference(other, one), 9);
        if (one !== other) expect(difference).toBeGreaterThan(0);
      }),
    );
  });

  it("refuses what is no opaque colour", () => {
    expect(() => colourDifference("red", "none")).toThrow(/^E_COLOUR/);
    expect(() => colourDifference("#ff000080", "red")).toThrow(/^E_COLOUR: an ink is printed solid/);
  });
});

describe("spaces", () => {
  it("agrees with d3-color, a second implementation, on Lab of D50", () => {
    fc.assert(
      fc.property(ink, (hex) => {
        const [mine, theirs] = [toLab(hex, "D50"), d3Lab(hex)];
        // d3-color's matrices have seven digits, and its white five.
        expect(Math.abs(mine.l - theirs.l)).toBeLessThan(0.01);
        expect(Math.abs(mine.a - theirs.a)).toBeLessThan(0.05);
        expect(Math.abs(mine.b - theirs.b)).toBeLessThan(0.05);
      }),
    );
  });

  it("has white at lightness 100 without colour in Lab of both white points, and at 1 in OKLab", () => {
    for (const white of ["D50", "D65"] as const) {
      const { l, a, b } = toLab("white", white);
      expect([l, a, b].map((value) => Math.round(value * 1000) / 1000 + 0)).toEqual([100, 0, 0]);
    }
    expect(toOklab("white").l).toBeCloseTo(1, 6);
    expect(toOklch("#777777")).toMatchObject({ c: 0, h: 0 });
  });

  // B. Ottosson, "A perceptual color space for image processing" (2020): red in OKLab; from memory.
  it("has red where its author has it", () => {
    const { l, a, b } = toOklab("#ff0000");
    expect([l, a, b].map((value) => value.toFixed(3))).toEqual(["0.628", "0.225", "0.126"]);
  });

  it("comes back from OKLCH to the same ink", () => {
    fc.assert(
      fc.property(ink, (hex) => fromOklch(toOklch(hex)) === hex),
      { numRuns: 500 },
    );
  });
});

describe("contrastRatio", () => {
  // WCAG 2.2: from 1 to 21. Grey #767676 on white is the well-known first one above 4.5, 4.54; from memory.
  it("gives known ratios", () => {
    expect(contrastRatio("black", "white")).toBeCloseTo(21, 9);
    expect(contrastRatio("white", "#767676").toFixed(2)).toBe("4.54");
    expect(contrastRatio("red", "red")).toBe(1);
  });
});
