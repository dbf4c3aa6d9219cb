import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../image/index.js";
import { cropImage, dropAlpha, pasteImage } from "./crop.js";
import { BARE, toIndices } from "./indices.js";

const entries = ["#1b2a41", "#c8553d", "#f3ead7", BARE];

/** A picture of the entries' colours, and the place of each pixel's. */
const flats = fc
  .record({ width: fc.integer({ min: 1, max: 9 }), height: fc.integer({ min: 1, max: 9 }) })
  .chain(({ width, height }) =>
    fc
      .array(fc.nat(entries.length - 1), { minLength: width * height, maxLength: width * height })
      .map((places) => {
        const bytes = places.map((place) => (entries[place] ?? "").slice(1).padEnd(8, "f")).join("");
        const image: PixelImage = {
          width,
          height,
          channels: 4,
          data: Buffer.from(bytes, "hex"),
          stride: width * 4,
        };
        return { image, places };
      }),
  );

describe("toIndices", () => {
  it("finds each pixel's place among the entries", () => {
    fc.assert(
      fc.property(flats, ({ image, places }) => {
        expect([...(toIndices(image, entries)?.data ?? [])]).toEqual(places);
      }),
    );
  });

  it("tells when a pixel has another colour, or a shade of alpha", () => {
    const image: PixelImage = {
      width: 1,
      height: 1,
      channels: 4,
      data: Uint8Array.of(27, 42, 65, 254),
      stride: 4,
    };
    expect(toIndices(image, entries)).toBeUndefined();
    expect(toIndices({ ...image, data: Uint8Array.of(28, 42, 65, 255) }, entries)).toBeUndefined();
  });
});

describe("cropImage, pasteImage and dropAlpha", () => {
  it("take a part and put it back where it was", () => {
    fc.assert(
      fc.property(flats, fc.nat(8), fc.nat(8), ({ image }, right, down) => {
        const [x, y] = [right % image.width, down % image.height];
        const part = cropImage(image, { x, y, width: image.width - x, height: image.height - y });
        const copy = { ...image, data: new Uint8Array(image.data) };
        for (let row = y; row < image.height; row++) {
          copy.data.fill(7, row * image.stride + x * 4, (row + 1) * image.stride);
        }
        pasteImage(part, copy, x, y);
        expect(copy.data).toEqual(new Uint8Array(image.data));
        const plain = dropAlpha(part);
        expect(plain.data.length).toBe(part.width * part.height * 3);
        expect([...plain.data.subarray(0, 3)]).toEqual([...part.data.subarray(0, 3)]);
      }),
    );
  });
});
