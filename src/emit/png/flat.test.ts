import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../../image/index.js";
import { cropImage, dropAlpha } from "../../raster/index.js";
import { flatBytes, isFlat, packFlat } from "./flat.js";

/** RGBA pictures of runs, short and long, some of them a part of a larger one and so off the words of its memory. */
const pictures = fc
  .record({
    width: fc.integer({ min: 1, max: 60 }),
    height: fc.integer({ min: 1, max: 7 }),
    runs: fc.array(fc.tuple(fc.integer({ min: 1, max: 70 }), fc.nat(0xffffffff)), {
      minLength: 1,
      maxLength: 30,
    }),
    offset: fc.nat(5),
    padding: fc.nat(5),
  })
  .map(({ width, height, runs, offset, padding }): PixelImage => {
    const stride = 4 * width + padding;
    const colours = runs.flatMap(([count, colour]) => new Array<number>(count).fill(colour));
    const data = new Uint8Array(offset + stride * height).subarray(offset);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const colour = colours[(y * width + x) % colours.length] ?? 0;
        for (let k = 0; k < 4; k++) data[y * stride + 4 * x + k] = colour >>> (8 * k);
      }
    }
    return { width, height, channels: 4, data, stride };
  });

/** What PNG asks for: each row behind a byte that names its filter, here 0 (PNG specification, section 9.2). */
function packPlainly(image: PixelImage, channels: 3 | 4): Uint8Array {
  const { data, stride } = channels === 3 ? dropAlpha(image) : image;
  const row = image.width * channels;
  const rows = new Uint8Array((row + 1) * image.height);
  for (let y = 0; y < image.height; y++) {
    rows.set(data.subarray(y * stride, y * stride + row), y * (row + 1) + 1);
  }
  return rows;
}

/** Packed where something else stood before. */
function packed(image: PixelImage, channels: 3 | 4) {
  const memory = new Uint32Array(Math.ceil(flatBytes(image, channels) / 4) + 1).fill(0xdeadbeef);
  return packFlat(image, channels, memory.buffer);
}

/** The checksum as its definition has it, byte by byte (RFC 1950, section 9). */
function sumPlainly(bytes: Uint8Array): number {
  let [a, b] = [1, 0];
  for (const byte of bytes) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  return b * 65536 + a;
}

describe("packFlat", () => {
  it("packs rows as the plain way does", () => {
    fc.assert(
      fc.property(pictures, fc.constantFrom(3, 4), (image, channels) => {
        const plain = packPlainly(image, channels);
        const { rows, adler } = packed(image, channels);
        expect(Buffer.compare(rows, plain)).toBe(0);
        expect(adler).toBe(sumPlainly(plain));
      }),
      { numRuns: 400 },
    );
  });

  it("packs a part of a picture, which shares its bytes", () => {
    fc.assert(
      fc.property(pictures, fc.nat(1000), fc.constantFrom(3, 4), (image, at, channels) => {
        const x = at % image.width;
        const part = cropImage(image, { x, y: 0, width: image.width - x, height: image.height });
        expect(Buffer.compare(packed(part, channels).rows, packPlainly(part, channels))).toBe(0);
      }),
    );
  });
});

describe("the checksum of packed rows", () => {
  it.each([
    ["one white row, longer than a run is taken", 2 ** 20 + 9, 1, [0xffffffff]],
    ["white rows, whose sums grow most", 2 ** 14, 40, [0xffffffff]],
    ["white, then black pixels, which add a grown sum again and again", 2 ** 19, 3, [0xffffffff, 0xff000000]],
  ] as const)("of %s is that of their bytes", (_, width, height, inks) => {
    const words = new Uint32Array(width * height);
    const share = Math.ceil(width / inks.length);
    for (let at = 0; at < words.length; at++) words[at] = inks[Math.floor((at % width) / share)] ?? 0;
    const image = {
      width,
      height,
      channels: 4,
      data: new Uint8Array(words.buffer),
      stride: 4 * width,
    } as const;
    const { rows, adler } = packed(image, 3);
    expect(adler).toBe(sumPlainly(rows));
  });
});

describe("isFlat", () => {
  const of = (pixels: readonly number[]): PixelImage => ({
    width: pixels.length,
    height: 1,
    channels: 4,
    data: new Uint8Array(Uint32Array.from(pixels).buffer),
    stride: 4 * pixels.length,
  });

  it("tells runs from shades", () => {
    expect(isFlat(of([1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2]))).toBe(true);
    expect(isFlat(of([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]))).toBe(false);
    expect(isFlat(of([1]))).toBe(true);
  });
});
