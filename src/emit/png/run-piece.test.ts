import { inflateRawSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type RunRows, RunWriter } from "../../image/index.js";
import { adler32 } from "../deflate/checksum.js";
import { canonicalCodes, codeLengths } from "../deflate/huffman.js";
import { PIECES_END } from "./piece.js";
import { writeRunPiece } from "./run-piece.js";
import { findTokens } from "./run-tokens.js";

interface Picture {
  readonly width: number;
  readonly height: number;
  /** A value a pixel. */
  readonly pixels: readonly number[];
}

/** Pictures of runs, of rows like the one above, and of noise; some rows are too wide for a copy from above. */
const pictures: fc.Arbitrary<Picture> = fc
  .record({
    width: fc.oneof(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 80, max: 700 }), fc.constant(11_000)),
    height: fc.integer({ min: 1, max: 5 }),
    seed: fc.array(fc.record({ value: fc.nat(5), length: fc.integer({ min: 1, max: 900 }) }), {
      minLength: 1,
      maxLength: 20,
    }),
    above: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
  })
  .map(({ width, height, seed, above }) => {
    const pixels: number[] = [];
    let [next, left, value] = [0, 0, 0];
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        if (y > 0 && above[y] && x % 97 > 5) {
          pixels.push(pixels[pixels.length - width] ?? 0);
          continue;
        }
        if (left-- <= 0) {
          const run = seed[next++ % seed.length] ?? { value: 0, length: 1 };
          [value, left] = [run.value, x % 3 === 0 ? run.length % 4 : run.length];
        }
        pixels.push(value);
      }
    }
    return { width, height, pixels };
  });

function runsOf({ width, height, pixels }: Picture): RunRows {
  const writer = new RunWriter();
  for (let y = 0; y < height; y++) {
    writer.startRow();
    for (let x = 0; x < width; x++) writer.push(pixels[y * width + x] ?? 0, x + 1);
  }
  return writer.finish();
}

const palette = fc.uint8Array({ minLength: 24, maxLength: 24 });

describe("writeRunPiece", () => {
  it("stores the bytes of the pixels in any colours, with their checksum", () => {
    fc.assert(
      fc.property(
        pictures,
        palette,
        fc.constantFrom(1 as const, 3 as const, 4 as const),
        (picture, colours, channels) => {
          const { width, height, pixels } = picture;
          const raw = Buffer.alloc(height * (width * channels + 1));
          for (const [at, value] of pixels.entries()) {
            const y = Math.floor(at / width);
            const to = y * (width * channels + 1) + 1 + (at % width) * channels;
            raw.set(colours.subarray(4 * value, 4 * value + channels), to);
          }
          const piece = writeRunPiece(findTokens(runsOf(picture), picture, channels, 6), colours);
          const ended = Buffer.concat([piece.deflated, PIECES_END]);
          expect(Buffer.compare(inflateRawSync(ended), raw)).toBe(0);
          expect(piece.length).toBe(raw.length);
          expect(piece.adler).toBe(adler32(raw));
        },
      ),
      { numRuns: 150 },
    );
  });

  it("ends on a full flush, so that pieces can be laid end to end", () => {
    const picture = { width: 5, height: 1, pixels: [0, 0, 1, 1, 1] };
    const piece = writeRunPiece(findTokens(runsOf(picture), picture, 1, 2), Buffer.alloc(8, 7));
    expect([...piece.deflated.subarray(-4)]).toEqual([0, 0, 255, 255]);
  });

  it("takes few bytes for many rows that are alike", () => {
    const [width, height] = [1000, 500];
    const pixels = Array.from({ length: width * height }, (_, at) => (at % width) % 6);
    const piece = writeRunPiece(
      findTokens(runsOf({ width, height, pixels }), { width, height }, 3, 6),
      Buffer.from(Array.from({ length: 24 }, (_, at) => at * 10)),
    );
    expect(piece.deflated.length).toBeLessThan(30_000);
  });
});

describe("codeLengths", () => {
  it("fills the code space exactly within the limit", () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.nat(3), fc.nat(1_000_000)), { minLength: 2, maxLength: 286 }),
        (counts) => {
          fc.pre(counts.filter((count) => count > 0).length > 1);
          const lengths = codeLengths(counts, 9);
          expect([...lengths].every((length, at) => length > 0 === (counts[at] ?? 0) > 0)).toBe(true);
          expect(Math.max(...lengths)).toBeLessThanOrEqual(9);
          const space = [...lengths].reduce((sum, length) => sum + (length > 0 ? 2 ** -length : 0), 0);
          expect(space).toBe(1);
        },
      ),
    );
  });

  it("spends no more bits than the entropy and one bit a symbol, where the limit is far", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 2, maxLength: 100 }), (counts) => {
        const all = counts.reduce((sum, count) => sum + count, 0);
        const entropy = counts.reduce((sum, count) => sum - count * Math.log2(count / all), 0);
        const bits = [...codeLengths(counts, 15)].reduce(
          (sum, length, at) => sum + length * (counts[at] ?? 0),
          0,
        );
        expect(bits).toBeGreaterThanOrEqual(entropy - 1e-6);
        expect(bits).toBeLessThan(entropy + all);
      }),
    );
  });

  it("gives the codes of RFC 1951, section 3.2.2", () => {
    // The example there: lengths 3,3,3,3,3,2,4,4 give 010,011,100,101,110,00,1110,1111; ours are read from the low bit.
    const codes = canonicalCodes(Uint8Array.of(3, 3, 3, 3, 3, 2, 4, 4));
    expect([...codes]).toEqual([0b010, 0b110, 0b001, 0b101, 0b011, 0b00, 0b0111, 0b1111]);
  });
});
