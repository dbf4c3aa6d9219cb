import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fromArrayBuffer } from "geotiff";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dropAlpha, rasterisePrint } from "../../raster/index.js";
import { type AllOver, type Border, brick, halfDrop, recolour, straight } from "../../repeat/index.js";
import { type EmitTileOptions, emitTile } from "../index.js";
import { CmykConverter } from "../profile/cmyk.js";
import { toLabPixels } from "../profile/lab.js";
import { CELL, countApart, hem, lowTide, nightjar, readRgba } from "../saltmarsh.fixture.js";

const hasTiffinfo = spawnSync("tiffinfo", ["-h"]).error === undefined;
const hasExiftool = spawnSync("exiftool", ["-ver"]).error === undefined;
const hasPngcheck = spawnSync("pngcheck", ["-h"]).error === undefined;

let dir = "";
let profile: Uint8Array = new Uint8Array(0);
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "repetend-emit-tiff-"));
  // The decoder's own profile of a press, taken out of a picture that it writes.
  const picture = sharp({ create: { width: 1, height: 1, channels: 3, background: "#ffffff" } });
  const { icc } = await sharp(await picture.withIccProfile("cmyk").jpeg().toBuffer()).metadata();
  profile = icc ?? profile;
});
afterAll(() => rmSync(dir, { recursive: true }));

const { ground: _, ...bareCell } = CELL;
// At 61 dpi 40 mm are 96 px; of 33 mm a half-drop has blocks of 40, of 17 mm a tile has 41 rows: no strip fits.
const prints: readonly (readonly [string, AllOver | Border])[] = [
  ["straight", straight(CELL)],
  ["straight, of an odd number of rows", straight({ ...CELL, height: 17 })],
  ["bare", straight(bareCell)],
  ["half-drop, of blocks of an odd number of rows", halfDrop({ ...CELL, height: 34 })],
  ["bare half-drop", halfDrop(bareCell)],
  ["brick", brick({ ...CELL, height: 17 })],
  ["border", hem(CELL.ground)],
];
const grounded = prints.map(([, print]) => print).filter(({ ground }) => ground !== undefined);
const emit = (print: AllOver | Border, options: Partial<EmitTileOptions>) =>
  emitTile(print, { dpi: 61, dir, formats: ["png", "tiff"], ...options });
const pathOf = (file: { readonly path: string } | undefined, folder = dir) => join(folder, file?.path ?? "");

/** What a TIFF says in numbers. */
async function numberIn(
  path: string,
  tag: "PhotometricInterpretation" | "SamplesPerPixel",
): Promise<unknown> {
  const image = await (await openTiff(path)).getImage();
  return image.fileDirectory.loadValue(tag);
}

const openTiff = (path: string) => fromArrayBuffer(Uint8Array.from(readFileSync(path)).buffer);

/** The samples of a TIFF as they are stored. */
async function samplesOf(path: string): Promise<Uint8Array> {
  const image = await (await openTiff(path)).getImage();
  return (await image.readRasters({ interleave: true })) as Uint8Array;
}

/** What the programs for checking files say; empty where they are happy. */
function complaintsOf(paths: readonly string[]): readonly string[] {
  const complaints: string[] = [];
  const tiffs = paths.filter((path) => path.endsWith(".tif"));
  if (hasTiffinfo) complaints.push(spawnSync("tiffinfo", ["-D", ...tiffs], { encoding: "utf8" }).stderr);
  if (hasExiftool) {
    const arguments_ = ["-q", "-q", "-validate", "-warning", "-error", "-a", "-s3", ...tiffs];
    const { stdout, stderr } = spawnSync("exiftool", arguments_, { encoding: "utf8" });
    // Of classic files it knows the baseline of TIFF 6.0 only: not Deflate, and no colour beyond palettes.
    const known = /^(?:|OK|\d+ Warnings?.*|======== .*|Invalid value for IFD0 tag 0x010[36] .*)$/;
    complaints.push(...`${stdout}${stderr}`.split("\n").filter((line) => !known.test(line)));
  }
  const pngs = paths.filter((path) => path.endsWith(".png"));
  if (hasPngcheck && pngs.length > 0) {
    const { status, stdout } = spawnSync("pngcheck", ["-q", ...pngs], { encoding: "utf8" });
    complaints.push(status === 0 ? "" : stdout);
  }
  return complaints.filter((line) => line !== "");
}

describe("a tile as TIFF", () => {
  it.each(prints)("of a %s print holds the pixels of its PNG, which are those drawn", async (_, print) => {
    const paths: string[] = [];
    for (const edges of ["soft", "hard"] as const) {
      const drawn = await rasterisePrint(print, { dpi: 61, edges });
      for (const compression of ["deflate", "lzw", "none"] as const) {
        const folder = join(dir, edges, compression);
        const { files } = await emit(print, { edges, compression, dir: folder });
        for (const file of files) {
          const path = pathOf(file, folder);
          expect([path, countApart(await readRgba(path), drawn)]).toEqual([path, 0]);
          paths.push(path);
        }
      }
    }
    expect(complaintsOf(paths)).toEqual([]);
  });

  it("stores hard edges as places in a palette, and bare cloth, which no such TIFF has, as RGBA", async () => {
    // TIFF 6.0, sections 5 and 6: 3 is a palette, 2 is RGB.
    for (const [print, photometric, samples] of [
      [straight(CELL), 3, 1],
      [straight(bareCell), 2, 4],
    ] as const) {
      const { files } = await emit(print, { formats: ["tiff"], edges: "hard" });
      expect(await numberIn(pathOf(files[0]), "PhotometricInterpretation")).toBe(photometric);
      expect(await numberIn(pathOf(files[0]), "SamplesPerPixel")).toBe(samples);
    }
  });

  it("in several colourways, from one set of planes, equals the PNGs of these", async () => {
    const paths: string[] = [];
    for (const [at, [, print]] of prints.entries()) {
      for (const edges of ["soft", "hard"] as const) {
        const folder = join(dir, `colourways-${at}-${edges}`);
        const { files } = await emit(print, { edges, colourways: [nightjar, lowTide], dir: folder });
        expect(files.map(({ format }) => format)).toEqual(["png", "tiff", "png", "tiff"]);
        for (const png of [0, 2]) {
          const pixels = await readRgba(pathOf(files[png], folder));
          expect(countApart(await readRgba(pathOf(files[png + 1], folder)), pixels)).toBe(0);
        }
        paths.push(...files.map((file) => pathOf(file, folder)));
      }
    }
    expect(complaintsOf(paths)).toEqual([]);
  });

  it("becomes CMYK through a profile, which is embedded, as the whole picture would in one go", async () => {
    const converter = await CmykConverter.open(profile);
    const paths: string[] = [];
    for (const [at, print] of grounded.entries()) {
      const drawn = await rasterisePrint(recolour(print, lowTide), { dpi: 61 });
      const inks = await converter.convert(dropAlpha(drawn));
      for (const colourways of [[lowTide], [lowTide, nightjar]]) {
        const folder = join(dir, `cmyk-${at}-${colourways.length}`);
        const { files } = await emit(print, {
          formats: ["tiff"],
          space: "cmyk",
          profile,
          colourways,
          dir: folder,
        });
        const path = pathOf(files[0], folder);
        const metadata = await sharp(path).metadata();
        expect([metadata.space, metadata.channels]).toEqual(["cmyk", 4]);
        expect(Buffer.compare(metadata.icc ?? Buffer.alloc(0), profile)).toBe(0);
        const stored = await samplesOf(path);
        expect(stored.length).toBe(inks.data.length);
        const apart = stored.filter((level, k) => level !== inks.data[k]).length;
        // Several colourways come from ink planes, which round otherwise than the renderer does.
        expect(apart / stored.length).toBeLessThanOrEqual(colourways.length > 1 ? 0.02 : 0);
        paths.push(...files.map((file) => pathOf(file, folder)));
      }
    }
    await converter.close();
    expect(complaintsOf(paths)).toEqual([]);
  });

  it("becomes Lab as the whole picture would in one go", async () => {
    for (const print of grounded) {
      const { files } = await emit(print, { formats: ["tiff"], space: "lab" });
      const lab = toLabPixels(dropAlpha(await rasterisePrint(print, { dpi: 61 })));
      const path = pathOf(files[0]);
      expect(await numberIn(path, "PhotometricInterpretation")).toBe(8); // TIFF 6.0, section 23
      // The decoder hands out the signed a and b as bytes, as they are stored.
      expect(Buffer.compare(Uint8Array.from(await samplesOf(path)), lab.data)).toBe(0);
      expect(complaintsOf([path])).toEqual([]);
    }
  });

  it("is refused in spaces that it cannot have", async () => {
    const refused: readonly (readonly [AllOver, Partial<EmitTileOptions>])[] = [
      [straight(CELL), { formats: ["png"], space: "lab" }],
      [straight(bareCell), { formats: ["tiff"], space: "lab" }],
      [straight(bareCell), { formats: ["tiff"], space: "cmyk", profile }],
      [straight(CELL), { formats: ["tiff"], space: "cmyk" }],
    ];
    for (const [print, options] of refused) await expect(emit(print, options)).rejects.toThrow(/E_FORMAT/);
    const path = join(dir, "table.csv");
    writeFileSync(path, "ink,Dusk");
    for (const space of ["rgb", "cmyk"] as const)
      await expect(emit(straight(CELL), { formats: ["tiff"], space, profile: path })).rejects.toThrow(
        `E_FORMAT ${path}: this is no colour profile`,
      );
  });

  it("of one pixel, or of one row, is whole", async () => {
    const paths: string[] = [];
    for (const [width, height] of [
      [1, 1],
      [50, 1],
      [1, 50],
    ] as const) {
      const folder = join(dir, `small-${width}-${height}`);
      const { files } = await emit(straight({ ...CELL, width, height }), { dpi: 25.4, dir: folder });
      const [png, tiff] = await Promise.all(files.map((file) => readRgba(pathOf(file, folder))));
      expect([png?.width, png?.height, tiff && png && countApart(png, tiff)]).toEqual([width, height, 0]);
      paths.push(...files.map((file) => pathOf(file, folder)));
    }
    expect(complaintsOf(paths)).toEqual([]);
  });
});
