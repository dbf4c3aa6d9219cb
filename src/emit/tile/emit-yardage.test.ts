import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type AllOver, type Border, brick, halfDrop, straight } from "../../repeat/index.js";
import { emitTile } from "../index.js";
import { CELL, countApart, hem, lay, lowTide, nightjar, readRgba } from "../saltmarsh.fixture.js";

let dir = "";
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-yardage-"));
});
afterAll(() => rmSync(dir, { recursive: true }));

const { ground: _, ...bareCell } = CELL;

/** Print, length in mm, how many tiles along x and y. */
const cloths: readonly (readonly [string, AllOver | Border, number, number, number])[] = [
  ["a border, whose warp runs along x", hem(CELL.ground), 149, 3, 1],
  ["a border on bare cloth", hem(), 101, 3, 1],
  ["an all-over print, whose warp runs along y", straight(CELL), 100, 1, 3],
  ["an all-over print along x", straight({ ...CELL, grain: "x" }), 150, 3, 1],
  ["a half-drop", halfDrop(CELL), 81, 1, 3],
  ["a half-drop on bare cloth, along x", halfDrop({ ...bareCell, grain: "x" }), 300, 3, 1],
  ["a brick", brick(CELL), 240, 1, 3],
];

describe("whole cloth", () => {
  it.each(cloths)("of %s is its tile laid edge to edge, to the last bit", async (_, print, length, x, y) => {
    for (const edges of ["soft", "hard"] as const) {
      const folder = join(dir, edges);
      const { files } = await emitTile(print, {
        dpi: 61,
        dir: folder,
        formats: ["png", "tiff"],
        edges,
        colourways: [lowTide, nightjar],
        length,
      });
      expect(files.map(({ kind }) => kind)).toEqual([...Array(4).fill("tile"), ...Array(4).fill("yardage")]);
      for (const [at, whole] of files.slice(4).entries()) {
        const tile = files[at];
        expect([whole.format, whole.colourway]).toEqual([tile?.format, tile?.colourway]);
        expect([whole.width, whole.height]).toEqual([x * (tile?.width ?? 0), y * (tile?.height ?? 0)]);
        expect([whole.mm.width, whole.mm.height]).toEqual([
          x * (tile?.mm.width ?? 0),
          y * (tile?.mm.height ?? 0),
        ]);
        expect(whole.repeats).toBe(x * y);
        const [one, all] = [
          await readRgba(join(folder, tile?.path ?? "")),
          await readRgba(join(folder, whole.path)),
        ];
        expect([whole.path, countApart(lay(one, x, y), all)]).toEqual([whole.path, 0]);
      }
    }
  });

  it("has tall tiles of several bands one below the other", async () => {
    const tall = straight({ ...CELL, width: 5, height: 900, motifs: CELL.motifs });
    const { files } = await emitTile(tall, { dpi: 150, dir, formats: ["png", "tiff"], length: 1000 });
    for (const [at, whole] of files.slice(2).entries()) {
      const one = await readRgba(join(dir, files[at]?.path ?? ""));
      expect(countApart(lay(one, 1, 2), await readRgba(join(dir, whole.path)))).toBe(0);
    }
  });

  it("counts whole repeats, with the length as one of them where it is one", async () => {
    const count = async (length: number | string) => {
      const { files } = await emitTile(hem(CELL.ground), { dpi: 25.4, dir, formats: ["svg"], length });
      return files[1]?.repeats;
    };
    expect([await count(1), await count(50), await count("50.1mm"), await count("1m")]).toEqual([
      1, 1, 2, 20,
    ]);
  });

  it("is written as SVG of its size too", async () => {
    for (const [print, size] of [
      [hem(CELL.ground), 'width="150mm" height="40mm" viewBox="0 0 150 40"'],
      [straight(CELL), 'width="50mm" height="120mm" viewBox="0 0 50 120"'],
    ] as const) {
      const { files } = await emitTile(print, { dpi: 61, dir, formats: ["svg"], length: 120 });
      expect(readFileSync(join(dir, files[1]?.path ?? ""), "utf8")).toContain(size);
    }
  });

  it("refuses a length that is none", async () => {
    for (const length of [0, -5, Number.NaN]) {
      await expect(emitTile(hem(), { dpi: 61, dir, length })).rejects.toThrow(/E_(SIZE|NUMBER|UNIT)/);
    }
  });
});
