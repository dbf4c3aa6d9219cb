import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { fromArrayBuffer } from "geotiff";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { PixelImage } from "../../image/index.js";
import { asRgba } from "../as-rgba.fixture.js";
import { writeAtomically } from "../files/atomic.js";
import { encodeTiff, streamTiff } from "./encode.js";
import type { TiffColour, TiffCompression, TiffHeader } from "./format.js";
import { TiffSink } from "./sink.js";
import { compressStrips } from "./strips.js";

const hasTiffinfo = spawnSync("tiffinfo", ["-h"]).error === undefined;
const hasExiftool = spawnSync("exiftool", ["-ver"]).error === undefined;
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-tiff-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Writes pictures to files, for programs to read. */
const save = (files: readonly Uint8Array[]): readonly string[] =>
  files.map((bytes, index) => {
    const path = join(folder, `picture-${index}.${bytes[2] === 43 ? "btf" : "tif"}`);
    writeFileSync(path, bytes);
    return path;
  });

/** What `tiffinfo -D`, which decodes every strip, complains of; empty where it is happy. */
function tiffinfoComplaints(paths: readonly string[]): string {
  const run = spawnSync("tiffinfo", ["-D", ...paths], { encoding: "utf8" });
  return run.status === 0 ? run.stderr : `${run.status} ${run.stderr}`;
}

/** The warnings and errors of `exiftool -validate` over all files, sorted. */
function exiftoolComplaints(paths: readonly string[]): readonly string[] {
  const arguments_ = ["-q", "-q", "-validate", "-warning", "-error", "-a", "-s3", ...paths];
  const run = spawnSync("exiftool", arguments_, { encoding: "utf8" });
  return (
    `${run.stdout}${run.stderr}`
      .split("\n")
      // It counts bits through the ends of rows, which TIFF 6.0, section 3 has start on bytes.
      .filter((line) => !line.startsWith("[minor] Oversized IFD0 StripByteCounts"))
      .filter((line) => !/^(?:|OK|\d+ Warnings?.*|======== .*)$/.test(line))
      .sort()
  );
}

const entries = Array.from({ length: 256 }, (_, k) => `#${(k * 65_793).toString(16).padStart(6, "0")}`);

const colours: readonly TiffColour[] = [
  { kind: "rgb" },
  { kind: "rgba" },
  { kind: "grey", depth: 1 },
  { kind: "grey", depth: 8 },
  { kind: "cmyk" },
  { kind: "lab" },
  ...[1, 2, 15, 16, 17, 256].map(
    (count): TiffColour => ({ kind: "palette", entries: entries.slice(0, count) }),
  ),
];
const compressions: readonly TiffCompression[] = ["deflate", "lzw", "none"];

const channelsIn = ({ kind }: TiffColour): 1 | 3 | 4 =>
  kind === "rgb" || kind === "lab" ? 3 : kind === "rgba" || kind === "cmyk" ? 4 : 1;

/** Pictures with flat runs, as prints have them, and padding between rows. */
const pictures = fc
  .record({
    width: fc.integer({ min: 1, max: 37 }),
    height: fc.integer({ min: 1, max: 19 }),
    colour: fc.constantFrom(...colours),
    compression: fc.constantFrom(...compressions),
    rowsPerStrip: fc.integer({ min: 1, max: 21 }),
    padding: fc.integer({ min: 0, max: 3 }),
    isBig: fc.boolean(),
    seed: fc.array(fc.nat(255), { minLength: 1, maxLength: 24 }),
  })
  .map(({ width, height, colour, padding, seed, compression, rowsPerStrip, isBig }) => {
    const channels = channelsIn(colour);
    const limit = colour.kind === "palette" ? colour.entries.length : 256;
    const stride = width * channels + padding;
    const data = Uint8Array.from(
      { length: stride * height },
      (_, k) => (seed[(k >> 2) % seed.length] ?? 0) % limit,
    );
    const image: PixelImage = { width, height, channels, data, stride };
    const header: TiffHeader = { width, height, colour, compression, rowsPerStrip };
    return { image, header, isBig };
  });

/** The picture's bytes without padding; single bits as 0 and 1. */
function plainBytes(image: PixelImage, colour: TiffColour): Uint8Array {
  const row = image.width * image.channels;
  const out = new Uint8Array(row * image.height);
  for (let y = 0; y < image.height; y++) {
    out.set(image.data.subarray(y * image.stride, y * image.stride + row), y * row);
  }
  return colour.kind === "grey" && colour.depth === 1 ? out.map((level) => level >> 7) : out;
}

/** The file's bytes, classic or BigTIFF as it is told. */
async function write(image: PixelImage, header: TiffHeader, isBig?: boolean): Promise<Buffer> {
  const parts: Buffer[] = [];
  const patch: [number, Uint8Array][] = [];
  const file = new TiffSink(
    {
      write: async (part) => void parts.push(Buffer.from(part)),
      patch: async (position, bytes) => void patch.push([position, bytes]),
    },
    isBig === undefined ? {} : { isBig },
  );
  await file.start(header);
  await file.add(await compressStrips(image, header.colour, header));
  await file.end();
  const whole = Buffer.concat(parts);
  for (const [position, bytes] of patch) whole.set(bytes, position);
  return whole;
}

async function openByGeotiff(bytes: Uint8Array) {
  const tiff = await fromArrayBuffer(Uint8Array.from(bytes).buffer);
  expect(await tiff.getImageCount()).toBe(1);
  return { tiff, image: await tiff.getImage() };
}

/** The samples as they are stored, channels together, by the second decoder. */
async function readByGeotiff(bytes: Uint8Array): Promise<Uint8Array> {
  const { image } = await openByGeotiff(bytes);
  const samples = await image.readRasters({ interleave: true });
  return Uint8Array.from(samples as Uint8Array);
}

const readBySharp = async (bytes: Uint8Array): Promise<Uint8Array> =>
  new Uint8Array(await sharp(bytes).toColourspace("srgb").ensureAlpha().raw().toBuffer());

describe("a TIFF", () => {
  it("is read back the same by an independent decoder, classic and big, of any strips", async () => {
    await fc.assert(
      fc.asyncProperty(pictures, async ({ image, header, isBig }) => {
        const bytes = await write(image, header, isBig);
        expect(bytes[2]).toBe(isBig ? 43 : 42);
        expect(await readByGeotiff(bytes)).toEqual(plainBytes(image, header.colour));
      }),
      { numRuns: 400 },
    );
  });

  it("looks the same to a second one", async () => {
    const ofScreens = pictures.filter(({ header }) => !["cmyk", "lab"].includes(header.colour.kind));
    await fc.assert(
      fc.asyncProperty(ofScreens, async ({ image, header, isBig }) => {
        const bytes = await write(image, header, isBig);
        expect(await readBySharp(bytes)).toEqual(asRgba(image, header.colour));
      }),
      { numRuns: 200 },
    );
  });

  it.skipIf(!hasTiffinfo || !hasExiftool)(
    "draws no complaint from tiffinfo and exiftool (skipped where these are not installed)",
    async () => {
      const samples = fc.sample(pictures, { numRuns: 120, seed: 11 });
      const texts = { documentName: "Saltmarsh", description: "320 × 1400 mm", software: "repetend 0.0.0" };
      const files = await Promise.all(
        samples.map(({ image, header, isBig }, index) =>
          write(image, { ...header, ...(index % 3 ? { dpi: { x: 300, y: 299.5 }, texts } : {}) }, isBig),
        ),
      );
      const paths = save(files);
      expect(tiffinfoComplaints(paths)).toBe("");
      // Of classic files, exiftool knows the baseline of TIFF 6.0 only (its Validate.pm): not Deflate, and no colour beyond palettes.
      const countOf = (isMet: (header: TiffHeader) => boolean) =>
        samples.filter(({ header, isBig }) => !isBig && isMet(header)).length;
      expect(exiftoolComplaints(paths)).toEqual([
        ...new Array(countOf(({ compression }) => compression === "deflate")).fill(
          "Invalid value for IFD0 tag 0x0103 Compression",
        ),
        ...new Array(countOf(({ colour }) => ["cmyk", "lab"].includes(colour.kind))).fill(
          "Invalid value for IFD0 tag 0x0106 PhotometricInterpretation",
        ),
      ]);
    },
  );

  it("has its strips on words, the directory behind them, and nothing left over", async () => {
    const samples = fc.sample(pictures, { numRuns: 60, seed: 5 });
    for (const { image, header, isBig } of samples) {
      const bytes = await write(image, header, isBig);
      const place = isBig ? Number(bytes.readBigUInt64LE(8)) : bytes.readUInt32LE(4);
      const { image: read } = await openByGeotiff(bytes);
      const listOf = async (tag: "StripOffsets" | "StripByteCounts") => {
        const value = await read.fileDirectory.loadValue(tag);
        return typeof value === "number" ? [value] : Array.from(value ?? []).map(Number);
      };
      const offsets = await listOf("StripOffsets");
      const counts = await listOf("StripByteCounts");
      expect(offsets.length).toBe(Math.ceil(header.height / header.rowsPerStrip));
      expect([place, ...offsets].every((offset) => offset % 2 === 0)).toBe(true);
      const ends = offsets.map((offset, index) => offset + (counts[index] ?? 0));
      const nexts = [...offsets.slice(1), place];
      const step = isBig ? 8 : 2;
      ends.forEach((end, index) => {
        expect(nexts[index]).toBe(Math.ceil(end / step) * step);
      });
    }
  });

  it("has the bits of a byte set where a film is white (TIFF 6.0, section 3: BlackIsZero)", async () => {
    const data = Uint8Array.of(0, 127, 128, 255, 0, 255, 255, 0, 255);
    const image: PixelImage = { width: 9, height: 1, channels: 1, data, stride: 9 };
    const bytes = await encodeTiff(image, { colour: { kind: "grey", depth: 1 }, compression: "none" });
    expect([...bytes.subarray(8, 10)]).toEqual([0b00110110, 0b10000000]);
    const { image: read } = await openByGeotiff(bytes);
    expect(await read.fileDirectory.loadValue("PhotometricInterpretation")).toBe(1);
  });
});

describe("what a TIFF says of itself", () => {
  const image: PixelImage = { width: 3, height: 1, channels: 1, data: Uint8Array.of(0, 1, 2), stride: 3 };
  const palette = { kind: "palette", entries: ["#1b2a41", "#c8553d", "#f3ead7"] } as const;

  it("is read by a second decoder: size, colours, texts", async () => {
    const texts = { documentName: "Saltmarsh", description: "Ebbe → Flut", software: "repetend 0.0.0" };
    const bytes = await encodeTiff(image, { colour: palette, dpi: { x: 300, y: 254 }, texts });
    const { image: read } = await openByGeotiff(bytes);
    const directory = read.fileDirectory;
    const listOf = async (tag: Parameters<typeof directory.loadValue>[0]) => {
      const value: unknown = await directory.loadValue(tag);
      return typeof value === "number" ? value : Array.from(value as ArrayLike<number>);
    };
    expect(await listOf("ImageWidth")).toBe(3);
    expect(await listOf("ImageLength")).toBe(1);
    expect(await listOf("SamplesPerPixel")).toBe(1);
    expect(await listOf("ResolutionUnit")).toBe(2);
    expect(await listOf("XResolution")).toEqual([300, 1]);
    expect(await listOf("YResolution")).toEqual([254, 1]);
    const map = [await listOf("ColorMap")].flat();
    expect(map.length).toBe(48);
    expect([map[0], map[16], map[32]]).toEqual([0x1b1b, 0x2a2a, 0x4141]);
    expect([map[2], map[18], map[34]]).toEqual([0xf3f3, 0xeaea, 0xd7d7]);
    const { data } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
    expect([...data]).toEqual([0x1b, 0x2a, 0x41, 0xc8, 0x55, 0x3d, 0xf3, 0xea, 0xd7]);
    expect(Buffer.from(bytes).includes("Ebbe → Flut\0")).toBe(true);
    expect((await sharp(bytes).metadata()).density).toBe(300);
  });

  it.skipIf(!hasExiftool)("is read by exiftool too, accents and all", async () => {
    const texts = { documentName: "Saltmarsh", description: "Ebbe → Flut", software: "repetend 0.0.0" };
    const path = join(folder, "words.tif");
    writeFileSync(path, await encodeTiff(image, { colour: palette, dpi: { x: 299.9994, y: 254 }, texts }));
    const tags = ["DocumentName", "ImageDescription", "Software", "XResolution", "Compression"];
    const run = spawnSync("exiftool", ["-s3", ...tags.map((tag) => `-${tag}`), path], { encoding: "utf8" });
    expect(run.stdout.trim().split("\n")).toEqual([
      "Saltmarsh",
      "Ebbe → Flut",
      "repetend 0.0.0",
      "299.9994",
      "Adobe Deflate",
    ]);
  });

  it("does not depend on how the bands are cut", async () => {
    await fc.assert(
      fc.asyncProperty(pictures, fc.integer({ min: 1, max: 7 }), async ({ image, header }, rows) => {
        const bands: PixelImage[] = [];
        for (let y = 0; y < image.height; y += rows) {
          const height = Math.min(rows, image.height - y);
          bands.push({
            ...image,
            height,
            data: image.data.subarray(y * image.stride, (y + height) * image.stride),
          });
        }
        const path = join(folder, "bands.tif");
        const file = await writeAtomically(path, (sink) => streamTiff(sink, header, bands));
        const whole = await encodeTiff(image, header);
        expect(file.bytes).toBe(whole.length);
        expect(Buffer.compare(readFileSync(path), whole)).toBe(0);
      }),
      { numRuns: 60 },
    );
  });
});
