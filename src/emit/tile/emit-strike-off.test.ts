import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Box } from "../../geometry/index.js";
import { rasterisePrint } from "../../raster/index.js";
import { type AllOver, type Border, brick, halfDrop, recolour, straight } from "../../repeat/index.js";
import { type EmitTileOptions, emitTile } from "../index.js";
import { CELL, countApart, hem, lowTide, readRgba } from "../saltmarsh.fixture.js";

let dir = "";
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-strike-off-"));
});
afterAll(() => rmSync(dir, { recursive: true }));

const { ground: _, ...bareCell } = CELL;
/** One pixel is one mm. */
const DPI = 25.4;
const prints: readonly (AllOver | Border)[] = [
  straight(CELL),
  halfDrop(CELL),
  brick(CELL),
  halfDrop(bareCell),
  hem(CELL.ground),
  hem(),
];

/** The strike-off's file and pixels. */
async function strikeOff(print: AllOver | Border, crop: Box, options: Partial<EmitTileOptions> = {}) {
  const { files } = await emitTile(print, { dpi: DPI, dir, formats: ["png", "tiff"], crop, ...options });
  return files.filter(({ kind }) => kind === "strike-off");
}

/** Windows anywhere: across several tiles, and beyond the selvedges of a border. */
const windows = fc.record({
  x: fc.integer({ min: -130, max: 130 }),
  y: fc.integer({ min: -90, max: 90 }),
  width: fc.integer({ min: 1, max: 170 }),
  height: fc.integer({ min: 1, max: 110 }),
});

describe("a strike-off", () => {
  it("shows what the endless cloth does in its window, to the last bit", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...prints),
        windows,
        fc.constantFrom("soft", "hard"),
        async (print, crop, edges) => {
          const files = await strikeOff(print, crop, { edges, colourways: [lowTide] });
          const field = await rasterisePrint(recolour(print, lowTide), { dpi: DPI, edges, window: crop });
          expect(files.map(({ format }) => format)).toEqual(["png", "tiff"]);
          for (const { path, width, height, mm } of files) {
            expect([width, height, mm]).toEqual([
              crop.width,
              crop.height,
              { width: crop.width, height: crop.height },
            ]);
            expect(countApart(field, await readRgba(join(dir, path)))).toBe(0);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it("is bare beyond a selvedge, and opaque inside the cloth", async () => {
    const print = hem(CELL.ground);
    const [beyond] = await strikeOff(print, { x: -7, y: -10, width: 20, height: 60 });
    const { data } = await readRgba(join(dir, beyond?.path ?? ""));
    const alphas = Array.from({ length: 60 }, (_, y) => data[4 * 20 * y + 3]);
    expect(alphas).toEqual(Array.from({ length: 60 }, (_, y) => (y >= 10 && y < 50 ? 255 : 0)));
    const [inside] = await strikeOff(print, { x: -7, y: 0, width: 20, height: 40 });
    expect((await sharp(join(dir, inside?.path ?? "")).metadata()).channels).toBe(3);
  });

  it("is refused in CMYK and Lab where it reaches beyond a selvedge, where there is no colour", async () => {
    const lab = { formats: ["tiff"], space: "lab" } as const;
    const print = hem(CELL.ground);
    await expect(strikeOff(print, { x: 0, y: -1, width: 9, height: 9 }, lab)).rejects.toThrow(/E_FORMAT/);
    await expect(strikeOff(print, { x: 0, y: 32, width: 9, height: 9 }, lab)).rejects.toThrow(/E_FORMAT/);
    expect(await strikeOff(print, { x: 0, y: 31, width: 9, height: 9 }, lab)).toHaveLength(1);
  });

  it("is written as SVG of its window too", async () => {
    const { files } = await emitTile(halfDrop(CELL), {
      dpi: DPI,
      dir,
      formats: ["svg"],
      crop: { x: -13, y: 7, width: 61, height: 33 },
    });
    const text = readFileSync(join(dir, files[1]?.path ?? ""), "utf8");
    expect(text).toContain('width="61mm" height="33mm"');
  });
});
