import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seeded } from "../../../tests/seeded.fixture.js";
import type { PixelImage } from "../../image/index.js";
import { motif } from "../../motif/index.js";
import { rasterise } from "../../raster/index.js";
import { border, halfDrop, place, straight } from "../../repeat/index.js";
import { checkLining } from "./check-lining.js";
import { drawLining } from "./map.js";

const DPI = 25.4; // a mm a pixel

/** A grey tile from a function of x and y. */
function paint(width: number, height: number, level: (x: number, y: number) => number): PixelImage {
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) data[y * width + x] = Math.round(level(x, y));
  return { width, height, channels: 1, data, stride: width };
}

/** About 2.5 grey levels are one unit of L* at this grey. */
const GREY = 150;

const drop = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><circle cx="10" cy="10" r="9" fill="#1b2a41"/></svg>',
  { name: "drop" },
);
const seed = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><circle cx="10" cy="10" r="4" fill="#c8553d"/></svg>',
  { name: "seed" },
);

describe("checkLining", () => {
  it("finds an upright bar: where it is, how often and how strong", () => {
    const image = paint(128, 128, (x) => (x >= 40 && x < 60 ? GREY - 30 : GREY));
    const [stripe, ...others] = checkLining(image, { dpi: DPI }).stripes;
    expect(others).toEqual([]);
    expect(stripe).toMatchObject({ angle: 90, channel: "lightness", tone: "dark" });
    expect(stripe?.period).toBeCloseTo(128, 6);
    expect(Math.abs((stripe?.position ?? 0) - 50)).toBeLessThan(1);
    expect(stripe?.positionPx).toBeCloseTo(stripe?.position ?? 0, 6);
    expect(stripe?.strength).toBeGreaterThan(10);
  });

  it("is judged on both sides of its threshold of 2 units", () => {
    const wave = (amplitude: number) =>
      checkLining(
        paint(128, 128, (x) => GREY + amplitude * Math.sin((2 * Math.PI * x) / 128)),
        { dpi: DPI },
      );
    // L* of grey 150 changes by 0.38 a level: 1.4 and 3.8 units from stripe to opposite, with rounding.
    expect(wave(1.8).ok).toBe(true);
    expect(wave(5).ok).toBe(false);
  });

  it("sees fewer fine stripes from further away", () => {
    const fine = paint(128, 128, (x) => (x % 16 < 8 ? 100 : 200));
    expect(checkLining(fine, { dpi: DPI, distance: 1 }).ok).toBe(false);
    expect(checkLining(fine, { dpi: DPI, distance: 30 }).ok).toBe(true);
  });

  it("finds slanted stripes at their angle", () => {
    // One period along x and one along y: stripes run at right angles to (1, 1), up to the right.
    const image = paint(128, 128, (x, y) => GREY + 20 * Math.sin((2 * Math.PI * (x + y)) / 128));
    const [stripe] = checkLining(image, { dpi: DPI }).stripes;
    expect(stripe?.angle).toBeCloseTo(135, 6);
    expect(stripe?.period).toBeCloseTo(128 / Math.SQRT2, 6);
  });

  it("finds coloured stripes of one lightness as chroma", () => {
    const [one, other] = [
      [170, 120, 120],
      [120, 142, 120],
    ];
    const data = new Uint8Array(128 * 128 * 3);
    for (let at = 0; at < 128 * 128; at++) data.set((at % 128 < 64 ? one : other) ?? [], 3 * at);
    const report = checkLining({ width: 128, height: 128, channels: 3, data, stride: 384 }, { dpi: DPI });
    expect(report.stripes[0]?.channel).toBe("chroma");
  });

  it("takes an even grid of spots for no stripes", () => {
    const spots = paint(128, 128, (x, y) => (Math.hypot((x % 64) - 32, (y % 64) - 32) < 16 ? 60 : 220));
    expect(checkLining(spots, { dpi: DPI }).ok).toBe(true);
    const rows = paint(128, 128, (x, y) => (Math.hypot((x % 16) - 8, (y % 64) - 32) < 7 ? 60 : 220));
    expect(checkLining(rows, { dpi: DPI }).stripes[0]?.angle).toBe(0);
  });

  it("takes noise for stripes only by the chance that its threshold allows", () => {
    const alarms = Array.from({ length: 100 }, (_, index) => {
      const random = seeded(index);
      const noise = paint(96, 96, () => Math.floor(256 * random()));
      return checkLining(noise, { dpi: DPI }).ok ? 0 : 1;
    });
    expect(alarms.reduce((sum: number, one) => sum + one, 0)).toBeLessThanOrEqual(8);
  });

  it("does not depend on where the tile is cut", () => {
    const bar = (by: number) =>
      checkLining(
        paint(128, 128, (x) => ((x + by) % 128 < 20 ? 90 : 180)),
        { dpi: DPI },
      ).stripes[0];
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 127 }), (by) => {
        const [one, other] = [bar(0), bar(by)];
        expect(other?.strength).toBeCloseTo(one?.strength ?? 0, 3);
        const moved = (((one?.position ?? 0) - by - (other?.position ?? 0)) % 128) + 128;
        expect(Math.min(moved % 128, 128 - (moved % 128))).toBeLessThan(1);
      }),
      { numRuns: 20 },
    );
  });

  it("names the motifs of a stripe, and the gap", async () => {
    const at = [15, 45, 75, 105];
    const print = straight({
      name: "Rows",
      width: 120,
      height: 120,
      ground: "#f2ead8",
      motifs: at.map((x) => place(drop, { at: [x, 30] })),
    });
    const dark = (await checkLining(print, { rasterise })).stripes.find(({ tone }) => tone === "dark");
    expect(dark?.angle).toBe(0);
    expect(dark?.position).toBeCloseTo(30, 0);
    expect(dark?.causes).toEqual([
      {
        kind: "motif",
        motif: "drop",
        at: at.map((x) => ({ x: expect.closeTo(x, 6), y: expect.closeTo(30, 6) })),
      },
    ]);
    const gap = straight({
      name: "Gap",
      width: 120,
      height: 120,
      ground: "#f2ead8",
      motifs: at.flatMap((x) => [10, 32, 54, 76].map((y) => place(drop, { at: [x, y], width: 25 }))),
    });
    const light = (await checkLining(gap, { rasterise })).stripes.find(({ tone }) => tone === "light");
    expect(light?.angle).toBe(0);
    expect(light?.causes[0]?.kind).toBe("gap");
  });

  it("takes a border's bands as meant", async () => {
    const bands = [
      {
        name: "hem",
        from: 60,
        to: 100,
        period: 20,
        ground: "#1b2a41",
        motifs: [place(seed, { at: [10, 20] })],
      },
    ];
    const print = border({ name: "Hem", repeat: 80, width: 100, ground: "#f2ead8", bands });
    expect((await checkLining(print, { rasterise })).ok).toBe(true);
  });

  it("sees the same in a cell and in the rectangle that it makes", () => {
    const bar = (x: number, y: number) => (x >= 20 && x < 36 && y >= 10 ? 60 : 220);
    const [one] = checkLining(paint(64, 64, bar), { dpi: DPI, layout: "half-drop" }).stripes;
    const rectangle = paint(128, 64, (x, y) => bar(x % 64, (y + (x < 64 ? 0 : 32)) % 64));
    const [other] = checkLining(rectangle, { dpi: DPI }).stripes;
    expect(one).toMatchObject({ angle: 90, period: 64 });
    expect(one?.angle).toBe(other?.angle);
    expect(one?.strength).toBeCloseTo(other?.strength ?? 0, 1);
  });

  it("refuses a distance of nothing and a print without a renderer", () => {
    const image = paint(32, 32, () => 100);
    expect(() => checkLining(image, { distance: 0 })).toThrow(expect.objectContaining({ code: "E_NUMBER" }));
    for (const dpi of [0, Number.NaN, -300])
      expect(() => checkLining(image, { dpi })).toThrow(expect.objectContaining({ code: "E_NUMBER" }));
    const print = halfDrop({ name: "Any", width: 20, height: 20, motifs: [] });
    expect(() => checkLining(print, {} as never)).toThrow(expect.objectContaining({ code: "E_RENDER" }));
  });
});

describe("drawLining", () => {
  it("is a drawing with a line for each stripe in sight", async () => {
    const image = paint(128, 128, (x) => (x >= 40 && x < 60 ? GREY - 30 : GREY));
    const report = checkLining(image, { dpi: DPI });
    const svg = drawLining(report, image);
    expect(svg.match(/<line /g)?.length).toBe(1);
    expect(svg).toContain("dark at 90°, every 128.0 mm");
    expect(drawLining({ ...report, stripes: [] })).toContain("no stripes show");
  });
});
