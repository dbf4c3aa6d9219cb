import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromOklch, toOklab, toOklch } from "./convert.js";
import { deriveInks } from "./derive-inks.js";

const ink = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);
const palette = fc.uniqueArray(ink, { minLength: 1, maxLength: 8 });

describe("deriveInks", () => {
  it("changes nothing when nothing is asked for", () => {
    fc.assert(
      fc.property(palette, fc.constantFrom(0, 360, -720), (inks, turnHue) => {
        const { inks: table, notes } = deriveInks(inks, { turnHue });
        expect(table).toEqual(Object.fromEntries(inks.map((one) => [one, one])));
        expect(notes).toEqual([]);
      }),
    );
  });

  it("turns, lightens and multiplies in OKLCH", () => {
    fc.assert(
      fc.property(
        palette,
        fc.integer({ min: -400, max: 400 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        (inks, turnHue, lighten, chroma) => {
          const { inks: table } = deriveInks(inks, { turnHue, lighten, chroma });
          for (const one of inks) {
            const { l, c, h } = toOklch(one);
            expect(table[one]).toBe(fromOklch({ l: l + lighten, c: c * chroma, h: h + turnHue }));
          }
        },
      ),
    );
  });

  it("takes all colour away at a chroma of 0, and keeps lightness", () => {
    fc.assert(
      fc.property(ink, (one) => {
        const grey = deriveInks([one], { chroma: 0 }).inks[one] ?? "";
        expect([grey.slice(1, 3), grey.slice(3, 5)]).toEqual([grey.slice(3, 5), grey.slice(5, 7)]);
        // Half an 8-bit step near black is 0.03 of lightness, elsewhere far less.
        expect(Math.abs(toOklch(grey).l - toOklch(one).l)).toBeLessThan(toOklch(one).l < 0.15 ? 0.06 : 0.004);
      }),
    );
  });

  it("meets the anchors exactly, and leaves what is kept", () => {
    fc.assert(
      fc.property(palette, ink, ink, fc.integer({ min: 0, max: 359 }), (inks, one, other, turnHue) => {
        const [first = "", second] = inks;
        const anchors = { [first]: one, ...(second === undefined ? {} : { [second]: other }) };
        const kept = inks.slice(2, 3);
        const { inks: table } = deriveInks(inks, { anchors, keep: kept, turnHue });
        expect(table).toMatchObject(anchors);
        for (const still of kept) expect(table[still]).toBe(still);
        expect(Object.keys(table).sort()).toEqual([...inks].sort());
      }),
    );
  });

  it("shifts all inks alike for one anchor, where there is room in sRGB", () => {
    const { inks: table, notes } = deriveInks(["#6b7f2a", "#8a9a4c", "#777777"], {
      anchors: { "#777777": "#808080" },
    });
    const shift = toOklab("#808080").l - toOklab("#777777").l;
    for (const one of ["#6b7f2a", "#8a9a4c"]) {
      const [before, after] = [toOklab(one), toOklab(table[one] ?? "")];
      // An 8-bit step is about 0.004 of lightness here.
      expect(after.l - before.l).toBeCloseTo(shift, 2);
      expect(Math.hypot(after.a - before.a, after.b - before.b)).toBeLessThan(0.004);
    }
    expect(notes).toEqual([]);
  });

  it("draws an ink along with the nearer anchor more than with the further one", () => {
    const { inks: table } = deriveInks(["#202020", "#303030", "#e0e0e0"], {
      anchors: { "#202020": "#602020", "#e0e0e0": "#e0e0e0" },
    });
    const [red, blue] = [1, 5].map((at) => Number.parseInt((table["#303030"] ?? "").slice(at, at + 2), 16));
    expect((red ?? 0) - (blue ?? 0)).toBeGreaterThan(40);
  });

  it("says when a colour lies outside sRGB", () => {
    const { notes } = deriveInks(["#ff0000", "#777777"], { turnHue: 120 });
    expect(notes.map((note) => [note.code, note.where])).toEqual([["N_OUT_OF_GAMUT", "#ff0000"]]);
  });

  it("refuses numbers out of range and inks that are not there", () => {
    expect(() => deriveInks(["red"], { turnHue: Number.NaN })).toThrow(/^E_NUMBER turnHue/);
    expect(() => deriveInks(["red"], { lighten: 1.01 })).toThrow(/^E_NUMBER lighten/);
    expect(() => deriveInks(["red"], { lighten: -1.01 })).toThrow(/^E_NUMBER lighten/);
    expect(() => deriveInks(["red"], { chroma: -0.01 })).toThrow(/^E_NUMBER chroma/);
    expect(() => deriveInks(["red"], { chroma: 4.01 })).toThrow(/^E_NUMBER chroma/);
    expect(() => deriveInks(["red"], { keep: ["blue"] })).toThrow(/^E_INK keep/);
    expect(() => deriveInks(["red"], { anchors: { blue: "red" } })).toThrow(/^E_INK anchors/);
    expect(() => deriveInks(["red"], { anchors: { red: "blue" }, keep: ["#f00"] })).toThrow(
      /^E_INK anchors: .*kept/,
    );
    expect(() => deriveInks(["red"], { anchors: { red: "blue", "#f00": "lime" } })).toThrow(
      /^E_INK anchors: .*two/,
    );
    expect(() => deriveInks(["red"], { anchors: { red: "none" } })).toThrow(/^E_COLOUR anchors\["red"\]/);
  });
});
