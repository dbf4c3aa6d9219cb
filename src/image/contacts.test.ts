import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../colour/index.js";
import { checkContacts, findContacts, planesOfImage } from "./index.js";
import type { PixelImage } from "./pixels.js";

const INKS = ["#1b2a41", "#c8553d", "#f2ead8"] as const;

/** A picture of places among the inks. */
function paint(width: number, places: readonly number[], dpi = 254): PixelImage {
  const data = Buffer.from(places.map((place) => (INKS[place] ?? "").slice(1)).join(""), "hex");
  return {
    width,
    height: places.length / width,
    channels: 3,
    data: new Uint8Array(data),
    stride: 3 * width,
    dpi: { x: dpi, y: dpi },
  };
}

const pictures = fc
  .record({ width: fc.integer({ min: 2, max: 9 }), height: fc.integer({ min: 2, max: 9 }) })
  .chain(({ width, height }) =>
    fc
      .array(fc.nat(2), { minLength: width * height, maxLength: width * height })
      .map((places) => ({ width, height, places })),
  );

describe("findContacts", () => {
  it("counts every pixel side between two inks, over the seams too", () => {
    fc.assert(
      fc.property(pictures, fc.boolean(), ({ width, height, places }, wrapY) => {
        const at = (x: number, y: number) => places[(y % height) * width + (x % width)] ?? 0;
        const sides = new Map<string, number>();
        const touch = (one: number, other: number) => {
          if (one === other) return;
          const key = [INKS[one], INKS[other]].sort().join(" ");
          sides.set(key, (sides.get(key) ?? 0) + 1);
        };
        for (let y = 0; y < height; y++)
          for (let x = 0; x < width; x++) {
            touch(at(x, y), at(x + 1, y));
            if (wrapY || y + 1 < height) touch(at(x, y), at(x, y + 1));
          }
        const found = findContacts(planesOfImage(paint(width, places)), { wrapY });
        const measured = found.contacts.map(({ one, other, length }): [string, number] => [
          [one, other].sort().join(" "),
          Math.round(length / (Math.PI / 4)),
        ]);
        expect(new Map(measured)).toEqual(new Map([...sides].filter(([, count]) => count >= 4)));
      }),
    );
  });

  it("tells how wide an ink is drawn", () => {
    // A stripe of 3 px: its pixel sides count pi / 4 each, as they would on edges of all directions.
    const places = Array.from({ length: 20 * 20 }, (_, at) => (at % 20 < 3 ? 1 : 0));
    const { widths, perMm } = findContacts(planesOfImage(paint(20, places)));
    expect(widths["#c8553d"]).toBeCloseTo(3 / (Math.PI / 4), 6);
    expect(perMm).toBeCloseTo(10, 9);
  });
});

describe("checkContacts", () => {
  const stripes = (wide: number) =>
    findContacts(
      planesOfImage(
        paint(
          40,
          Array.from({ length: 1600 }, (_, at) => (at % 40 < wide ? 1 : 0)),
        ),
      ),
    );
  const codes = (wide: number, inks: Record<string, string>) =>
    checkContacts(stripes(wide), colourway("Other", inks)).map(({ code }) => code);

  it("says nothing of a colourway that keeps inks apart and in order", () => {
    expect(codes(3, { "#1b2a41": "#101820", "#c8553d": "#d9a441" })).toEqual([]);
  });

  it("warns of inks that touch and nearly run together", () => {
    expect(codes(20, { "#1b2a41": "#303030", "#c8553d": "#383838" })).toEqual(["N_INKS_CLOSE"]);
  });

  it("warns of fine details that are hardly seen, not of areas as near", () => {
    const near = { "#1b2a41": "#303030", "#c8553d": "#424242" };
    expect(codes(3, near)).toEqual(["N_DETAIL_FAINT"]);
    expect(codes(20, near)).toEqual([]);
  });

  it("tells that dark and light have changed places, against the first colourway where there is one", () => {
    const turned = { "#1b2a41": "#f2ead8", "#c8553d": "#1d1a26" };
    expect(codes(20, turned)).toEqual(["N_LIGHTNESS_ORDER"]);
    const first = colourway("First", turned);
    expect(checkContacts(stripes(20), colourway("Other", turned), { first })).toEqual([]);
  });
});
