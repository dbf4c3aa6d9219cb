import { describe, expect, it } from "vitest";
import { colourDifference, colourway } from "../../colour/index.js";
import type { PixelImage } from "../../image/index.js";
import { border } from "../build/border.js";
import { checkColourway, deriveColourway, limitInks, recolour, seeColourway } from "../index.js";
import { inksOf } from "./inks.js";

const print = border({
  name: "Stripes",
  repeat: 320,
  width: 1400,
  ground: "#f2ead8",
  bands: [
    { name: "sea", from: 0, to: 300, ground: "#1b2a41" },
    { name: "night", from: 300, to: 400, ground: "#1d2d46" },
    { name: "reed", from: 400, to: 500, ground: "#6b7f2a" },
  ],
});

describe("deriveColourway", () => {
  it("has an entry for every ink, keeps those it should and meets the anchors", () => {
    const { colourway: derived } = deriveColourway(print, {
      name: "Low Tide",
      turnHue: 40,
      keep: ["#f2ead8"],
      anchors: { "#1b2a41": "#204030" },
    });
    expect(derived.name).toBe("Low Tide");
    expect(Object.keys(derived.inks).sort()).toEqual(
      inksOf(print)
        .map(({ ink }) => ink)
        .sort(),
    );
    expect(derived.inks["#f2ead8"]).toBe("#f2ead8");
    expect(derived.inks["#1b2a41"]).toBe("#204030");
  });
});

describe("seeColourway", () => {
  it("brings reed and brick nearer for eyes without the middle cones", () => {
    const drawn = colourway("Reed", { "#6b7f2a": "#6b7f2a", "#1b2a41": "#a8552c" });
    const seen = seeColourway(print, drawn, "deutan").inks;
    const before = colourDifference("#6b7f2a", "#a8552c");
    expect(colourDifference(seen["#6b7f2a"] ?? "", seen["#1b2a41"] ?? "")).toBeLessThan(before / 5);
  });
});

describe("checkColourway", () => {
  it("notes an ink that was given outside sRGB, and does not refuse it for that", () => {
    const inks = {
      "#f2ead8": "#f2ead8",
      "#1b2a41": "oklch(0.7 0.35 30)",
      "#1d2d46": "#000000",
      "#6b7f2a": "#6b7f2a",
    };
    const notes = checkColourway(print, colourway("Neon", inks), { strict: true });
    expect(notes.map(({ code, where }) => [code, where])).toEqual([["N_OUT_OF_GAMUT", "#1b2a41"]]);
  });
});

describe("limitInks", () => {
  it("merges what is nearest, and says how far it moved", () => {
    const { inks, moves, result, colourway: table } = limitInks(print, 3);
    expect(inks).toHaveLength(3);
    const moved = moves.filter(({ ink, to }) => ink !== to);
    expect(moved).toHaveLength(1);
    expect(moved[0]?.difference).toBeLessThan(5);
    expect(
      inksOf(result)
        .map(({ ink }) => ink)
        .sort(),
    ).toEqual([...inks].sort());
    expect(recolour(print, table)).toEqual(result);
  });

  it("names the colourway by the inks that are left", () => {
    expect([1, 3, 99].map((count) => limitInks(print, count).colourway.name)).toEqual([
      "1 ink",
      "3 inks",
      "4 inks",
    ]);
  });

  it("weighs by coverage, and keeps named inks", () => {
    const coverage = [
      { ink: "#1b2a41", share: 0.01 },
      { ink: "#1d2d46", share: 0.5 },
      { ink: "#6b7f2a", share: 0.1 },
      { ink: "#f2ead8", share: 0.39 },
    ];
    expect(limitInks(print, 3, { coverage }).inks).toContain("#1d2d46");
    expect(limitInks(print, 3, { coverage, keep: ["#1b2a41"] }).inks).toContain("#1b2a41");
  });

  it("reduces a flat picture too", () => {
    const bytes = [0, 0, 0, 255, 255, 255, 254, 254, 254];
    const data = Uint8Array.from(
      { length: 9 * 60 },
      (_, at) => bytes[Math.floor(at / 180) * 3 + (at % 3)] ?? 0,
    );
    const image: PixelImage = { width: 20, height: 9, channels: 3, data, stride: 60 };
    const { inks, result } = limitInks(image, 2);
    expect(inks).toHaveLength(2);
    expect(new Set(result.data.filter((_, at) => at % 4 === 0)).size).toBe(2);
  });
});
