import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { decode } from "fast-png";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { asRgba } from "../as-rgba.fixture.js";
import { encodePng, streamPng } from "./encode.js";
import { PNG_LIMIT, type PngColour } from "./format.js";

const hasPngcheck = spawnSync("pngcheck", ["-h"]).error === undefined;
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-png-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What pngcheck says of a file; empty where it is happy. */
function pngcheckComplaints(bytes: Uint8Array): string {
  if (!hasPngcheck) return "";
  const path = join(folder, "picture.png");
  writeFileSync(path, bytes);
  const run = spawnSync("pngcheck", ["-q", path], { encoding: "utf8" });
  return run.status === 0 ? "" : `${run.stdout}${run.stderr}`;
}

const entries = Array.from({ length: 256 }, (_, k) => `#${(k * 65_793).toString(16).padStart(6, "0")}`);

const colours: readonly PngColour[] = [
  { kind: "rgb" },
  { kind: "rgba" },
  { kind: "grey", depth: 1 },
  { kind: "grey", depth: 8 },
  ...[1, 2, 3, 4, 16, 17, 256].map(
    (count): PngColour => ({ kind: "palette", entries: entries.slice(0, count) }),
  ),
];

/** Pictures with flat runs, as prints have them, and padding between rows. */
const pictures = fc
  .record({
    width: fc.integer({ min: 1, max: 37 }),
    height: fc.integer({ min: 1, max: 19 }),
    colour: fc.constantFrom(...colours),
    padding: fc.integer({ min: 0, max: 3 }),
    seed: fc.array(fc.nat(255), { minLength: 1, maxLength: 24 }),
  })
  .map(({ width, height, colour, padding, seed }) => {
    const channels = colour.kind === "rgb" ? 3 : colour.kind === "rgba" ? 4 : 1;
    const limit = colour.kind === "palette" ? colour.entries.length : 256;
    const stride = width * channels + padding;
    const data = Uint8Array.from(
      { length: stride * height },
      (_, k) => (seed[(k >> 2) % seed.length] ?? 0) % limit,
    );
    return { colour, image: { width, height, channels, data, stride } satisfies PixelImage as PixelImage };
  });

const readBySharp = async (bytes: Uint8Array): Promise<Uint8Array> =>
  new Uint8Array(await sharp(bytes).toColourspace("srgb").ensureAlpha().raw().toBuffer());

describe("encodePng", () => {
  it("is read back the same by an independent decoder", async () => {
    await fc.assert(
      fc.asyncProperty(pictures, async ({ image, colour }) => {
        const bytes = await encodePng(image, { colour });
        expect(await readBySharp(bytes)).toEqual(asRgba(image, colour));
      }),
      { numRuns: 150 },
    );
  });

  it.skipIf(!hasPngcheck)(
    "gives files without a complaint from pngcheck (skipped where that is not installed)",
    async () => {
      const samples = fc.sample(pictures, { numRuns: 40, seed: 7 });
      for (const { image, colour } of samples) {
        const texts = { Title: "Saltmarsh", Repeat: "320 × 1400 mm", Colourway: "Ebbe → Flut" };
        expect(pngcheckComplaints(await encodePng(image, { colour, dpi: { x: 300, y: 299.5 }, texts }))).toBe(
          "",
        );
      }
    },
  );

  it("says size, colours and texts as a second decoder understands them", async () => {
    const image: PixelImage = { width: 3, height: 1, channels: 1, data: Uint8Array.of(0, 1, 2), stride: 3 };
    const bytes = await encodePng(image, {
      colour: { kind: "palette", entries: ["#1b2a41", "#c8553d80", "#f3ead7"] },
      dpi: { x: 300, y: 254 },
      texts: { Title: "Saltmarsh border" },
    });
    const read = decode(bytes);
    expect(read.depth).toBe(2);
    expect(read.palette).toEqual([
      [0x1b, 0x2a, 0x41, 255],
      [0xc8, 0x55, 0x3d, 0x80],
      [0xf3, 0xea, 0xd7, 255],
    ]);
    // PNG specification, pHYs in pixels per metre: 300 dpi is 11811, 254 dpi is 10000.
    expect(read.resolution).toEqual({ x: 11811, y: 10000, unit: 1 });
    expect(read.text).toEqual({ Title: "Saltmarsh border" });
  });

  it("stores a palette in the fewest bits that hold it", async () => {
    const depths = await Promise.all(
      [1, 2, 3, 4, 5, 16, 17, 256].map(async (count) => {
        const image: PixelImage = { width: 1, height: 1, channels: 1, data: Uint8Array.of(0), stride: 1 };
        return (
          await encodePng(image, { colour: { kind: "palette", entries: entries.slice(0, count) } })
        )[24];
      }),
    );
    expect(depths).toEqual([1, 1, 2, 2, 4, 4, 8, 8]);
  });

  it("refuses what a PNG cannot hold, before any pixel is read", async () => {
    const refusal = async (image: PixelImage, colour: PngColour) =>
      encodePng(image, { colour }).then(
        () => "none",
        (error: unknown) => (error instanceof RepetendError ? error.code : error),
      );
    const grey = { channels: 1, data: Uint8Array.of(3), stride: 1 } as const;
    const one = { ...grey, width: 1, height: 1 };
    expect(await refusal({ ...grey, width: PNG_LIMIT + 1, height: 1 }, { kind: "grey", depth: 8 })).toBe(
      "E_TOO_LARGE",
    );
    expect(await refusal({ ...grey, width: 0, height: 1 }, { kind: "grey", depth: 8 })).toBe("E_SIZE");
    expect(await refusal({ ...grey, width: 2, height: 1 }, { kind: "grey", depth: 8 })).toBe("E_IMAGE");
    expect(await refusal(one, { kind: "palette", entries: entries.slice(0, 3) })).toBe("E_IMAGE");
    expect(await refusal(one, { kind: "palette", entries: [] })).toBe("E_FORMAT");
    expect(await refusal(one, { kind: "palette", entries: ["red"] })).toBe("E_COLOUR");
    expect(await refusal(one, { kind: "rgb" })).toBe("E_IMAGE");
  });
});

describe("streamPng", () => {
  it("holds the same picture wherever the bands are cut", async () => {
    await fc.assert(
      fc.asyncProperty(pictures, fc.integer({ min: 1, max: 7 }), async ({ image, colour }, rows) => {
        const bands: PixelImage[] = [];
        for (let y = 0; y < image.height; y += rows) {
          const height = Math.min(rows, image.height - y);
          bands.push({
            ...image,
            height,
            data: image.data.subarray(y * image.stride, (y + height) * image.stride),
          });
        }
        const parts: Uint8Array[] = [];
        for await (const part of streamPng({ width: image.width, height: image.height, colour }, bands)) {
          parts.push(part);
        }
        const bytes = Buffer.concat(parts);
        expect(await readBySharp(bytes)).toEqual(asRgba(image, colour));
        expect(pngcheckComplaints(bytes)).toBe("");
      }),
      { numRuns: 40 },
    );
  });

  it("refuses bands that do not fill the picture", async () => {
    const band: PixelImage = { width: 1, height: 1, channels: 1, data: Uint8Array.of(3), stride: 1 };
    const header = { width: 1, height: 2, colour: { kind: "grey", depth: 8 } } as const;
    await expect(drain(streamPng(header, [band]))).rejects.toThrow(/E_IMAGE/);
    await expect(drain(streamPng(header, [band, band, band]))).rejects.toThrow(/E_IMAGE/);
  });
});

async function drain(parts: AsyncIterable<Uint8Array>): Promise<void> {
  for await (const _ of parts);
}
