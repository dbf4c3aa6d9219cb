import { fromArrayBuffer } from "geotiff";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { encodeTiff } from "./encode.js";
import { encodeLzw } from "./lzw.js";

/** The codes of a stream, read by the rules of TIFF 6.0, section 13, as a reader does who never looks ahead. */
function codesOf(bytes: Uint8Array): readonly number[] {
  const codes: number[] = [];
  let [at, width, entries] = [0, 9, 258];
  for (;;) {
    let code = 0;
    for (let bit = 0; bit < width; bit++, at++)
      code = code * 2 + (((bytes[at >> 3] ?? 0) >> (7 - (at & 7))) & 1);
    codes.push(code);
    if (code === 257) return codes;
    if (code === 256)
      [width, entries] = [9, 257]; // the first code behind a clear adds no entry
    else entries++;
    width = entries >= 2047 ? 12 : entries >= 1023 ? 11 : entries >= 511 ? 10 : 9;
  }
}

const noise = (length: number): Uint8Array => {
  let state = 1;
  return Uint8Array.from({ length }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0; // Numerical Recipes, "quick and dirty"
    return state >>> 24;
  });
};

const flat = (length: number): Uint8Array => new Uint8Array(length).fill(200);

/** Long runs of few colours. */
const runs = (length: number): Uint8Array => {
  const seed = noise(length);
  return Uint8Array.from({ length }, (_, k) => (seed[k >> 6] ?? 0) % 5);
};

describe("encodeLzw", () => {
  it("gives the codes of the example in TIFF 6.0, section 13", () => {
    expect(codesOf(encodeLzw(Uint8Array.of(7, 7, 7, 8, 8, 7, 7, 6, 6)))).toEqual([
      256, 7, 258, 8, 8, 258, 6, 6, 257,
    ]);
  });

  it("codes no bytes and one byte", () => {
    expect(codesOf(encodeLzw(new Uint8Array(0)))).toEqual([256, 257]);
    expect(codesOf(encodeLzw(Uint8Array.of(9)))).toEqual([256, 9, 257]);
  });

  it("clears the table each time it is full", () => {
    const codes = codesOf(encodeLzw(noise(20_000)));
    expect(codes.filter((code) => code === 256).length).toBe(6);
    const length = flat(10_000_000);
    expect(codesOf(encodeLzw(length)).filter((code) => code === 256).length).toBeGreaterThan(1);
  });

  it("is decoded by two independent readers, through every width and several clears", async () => {
    // Every length around the first widths and the first clear, where an encoder that is one code off shows.
    const lengths = [1, 2, 253, 254, 255, 256, 257, 765, 766, 767, 1789, 1790, 3834, 3835, 3836, 3837, 3838];
    const cases = [
      ...lengths.map(noise),
      ...[1, 100, 100_000, 9_000_000].map(flat),
      noise(70_000),
      runs(70_000),
      runs(500_000),
    ];
    for (const data of cases) {
      // On one row, as a palette, which takes no differences: the bytes come to the encoder as they are.
      const entries = Array.from({ length: 256 }, (_, k) => `#${k.toString(16).padStart(2, "0").repeat(3)}`);
      const width = data.length > 1_000_000 ? 3000 : data.length;
      const height = data.length / width;
      const bytes = await encodeTiff(
        { width, height, channels: 1, data, stride: width },
        { colour: { kind: "palette", entries }, compression: "lzw", rowsPerStrip: height },
      );
      const { data: seen, info } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
      const byChannel = info.channels;
      expect(seen.length).toBe(data.length * byChannel);
      expect(seen.every((level, k) => level === data[Math.floor(k / byChannel)])).toBe(true);
      if (data.length > 1_000_000) continue; // the other reader is slow
      const image = await (await fromArrayBuffer(Uint8Array.from(bytes).buffer)).getImage();
      const again = (await image.readRasters({ interleave: true })) as Uint8Array;
      expect(Buffer.compare(Uint8Array.from(again), data)).toBe(0);
    }
  });
});
