import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { slugOf, slugsOf } from "./slug.js";

describe("slugOf", () => {
  it("makes plain file names of names", () => {
    expect(slugOf("Saltmarsh border")).toBe("saltmarsh-border");
    expect(slugOf("  Été / 2 ")).toBe("ete-2");
    expect(slugOf("潮")).toBe("潮");
    expect(slugOf("../..")).toBe("unnamed");
  });

  it("keeps long names within what systems take, and cuts no letter", () => {
    for (const letter of ["a", "\u6f6e", "\u{20bb7}", "\u{10400}"]) {
      const slug = slugOf(`b${letter.repeat(200)}`);
      expect(Buffer.byteLength(slug)).toBeLessThanOrEqual(80);
      expect(Buffer.byteLength(slug)).toBeGreaterThan(75);
      expect(slug).not.toMatch(/\p{Cs}/u);
    }
  });

  it("never holds what a path or a shell would take amiss, and is stable", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (name) => {
        const slug = slugOf(name);
        expect(slug).toMatch(/^[\p{L}\p{N}](?:[\p{L}\p{N}-]*[\p{L}\p{N}])?$/u);
        expect(slugOf(slug)).toBe(slug);
      }),
    );
  });
});

describe("slugsOf", () => {
  it("keeps names apart", () => {
    expect(slugsOf(["Low Tide", "low-tide", "Low Tide 2", "Nightjar"])).toEqual([
      "low-tide",
      "low-tide-2",
      "low-tide-2-2",
      "nightjar",
    ]);
    fc.assert(
      fc.property(fc.array(fc.constantFrom("a", "A", "a 2", "a-2", "b", "?", "!")), (names) => {
        expect(new Set(slugsOf(names)).size).toBe(names.length);
      }),
    );
  });
});
