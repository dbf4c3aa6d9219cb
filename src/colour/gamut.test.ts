import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "./colourway.js";
import { readColourways, writeColourways } from "./colourway-table.js";
import { checkGamut } from "./compare-inks.js";
import { toLab, toOklab } from "./convert.js";
import { ciede2000 } from "./difference.js";
import { measureGamut } from "./gamut.js";

const WIDE = ["color(display-p3 0 1 0)", "oklch(0.7 0.35 30)", "lab(60 -100 60)", "color(srgb 1.2 0.5 0)"];

describe("measureGamut", () => {
  it("finds every ink of sRGB inside, however it is written", () => {
    const byte = fc.integer({ min: 0, max: 255 });
    fc.assert(
      fc.property(byte, byte, byte, (r, g, b) => {
        const hex = `#${[r, g, b].map((one) => one.toString(16).padStart(2, "0")).join("")}`;
        const { l, a, b: blue } = toOklab(hex);
        const d50 = toLab(hex, "D50");
        expect(measureGamut(hex)).toBeUndefined();
        expect(measureGamut(`oklab(${l} ${a} ${blue})`)).toBeUndefined();
        expect(measureGamut(`lab(${d50.l} ${d50.a} ${d50.b})`)).toBeUndefined();
      }),
      { numRuns: 100 },
    );
    // CSS clips these to their own ranges.
    expect(measureGamut("rgb(300 -20 40)")).toBeUndefined();
  });

  it("says what a colour outside becomes, and by how much that differs", () => {
    const move = measureGamut("lab(60 -100 60)");
    // The same difference over Lab of D50, from the numbers that were given: CIEDE2000 hardly depends on the white.
    const given = { white: "D50", l: 60, a: -100, b: 60 } as const;
    expect(move?.difference).toBeCloseTo(ciede2000(given, toLab(move?.hex ?? "", "D50")), -0.3);
    expect(move?.difference).toBeGreaterThan(3);
    for (const colour of WIDE) expect(measureGamut(colour)?.difference).toBeGreaterThan(0.5);
    // What it became lies inside, and stays as it is.
    expect(measureGamut(move?.hex ?? "")).toBeUndefined();
  });
});

describe("a colourway with inks outside sRGB", () => {
  const text = `ink,Neon,Low Tide\n#1b2a41,${WIDE[0]},#223344\n#f2ead8,#dfe6e0,oklch(0.7 0.35 30)\n`;

  it("keeps what was given, and nothing where all lies inside", () => {
    const [neon, lowTide] = readColourways(text);
    expect(neon?.given).toEqual({ "#1b2a41": WIDE[0] });
    expect(lowTide?.given).toEqual({ "#f2ead8": "oklch(0.7 0.35 30)" });
    expect(colourway("Dusk", { "#fff": "rgb(300 0 0)" })).not.toHaveProperty("given");
  });

  it("is written and read back whole, in both formats and as plain data", () => {
    const read = readColourways(text);
    expect(readColourways(writeColourways(read, "csv"))).toEqual(read);
    expect(readColourways(writeColourways(read, "json"))).toEqual(read);
    expect(readColourways(JSON.stringify(read))).toEqual(read);
    // An ink that was changed by hand afterwards is no longer what was given.
    const [neon] = read;
    const changed = [{ ...neon, inks: { ...neon?.inks, "#1b2a41": "#000000" } }];
    expect(readColourways(JSON.stringify(changed))[0]).not.toHaveProperty("given");
  });

  it("is noted, ink by ink, with what was given, what it became and how far that is", () => {
    const [neon] = readColourways(text);
    if (neon === undefined) throw new Error("no colourway");
    const [note, ...more] = checkGamut(neon);
    expect(more).toEqual([]);
    expect(note).toMatchObject({ level: "warning", code: "N_OUT_OF_GAMUT", where: "#1b2a41" });
    expect(note?.message).toMatch(
      /^colourway "Neon" gives color\(display-p3 0 1 0\), outside sRGB: ink #1b2a41 became #00f[0-9a-f]{3}, \d+\.\d\d in CIEDE2000 away$/,
    );
    expect(checkGamut(colourway("Dusk", { "#1b2a41": "#000" }))).toEqual([]);
  });
});
