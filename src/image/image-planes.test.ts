import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../colour/index.js";
import type { RepetendError } from "../errors.js";
import { BARE, composite, coverageOf, planesOfImage, weightPlane } from "./index.js";
import type { PixelImage } from "./pixels.js";

const blank = (width: number, height: number): PixelImage & { data: Uint8Array } => ({
  width,
  height,
  channels: 4,
  data: new Uint8Array(4 * width * height),
  stride: 4 * width,
});

/** A disc on a ground, its edge anti-aliased by exact mixing. */
function disc(ink: readonly number[], ground: readonly number[], size = 40): PixelImage {
  const image = blank(size, size);
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      const distance = Math.hypot(x + 0.5 - size / 2, y + 0.5 - size / 2);
      const share = Math.min(1, Math.max(0, size / 3 - distance + 0.5));
      const alpha = share * (ink[3] ?? 255) + (1 - share) * (ground[3] ?? 255);
      for (let channel = 0; channel < 3; channel++) {
        const colour =
          share * (ink[channel] ?? 0) * (ink[3] ?? 255) +
          (1 - share) * (ground[channel] ?? 0) * (ground[3] ?? 255);
        image.data[(y * size + x) * 4 + channel] = alpha === 0 ? 0 : Math.round(colour / alpha);
      }
      image.data[(y * size + x) * 4 + 3] = Math.round(alpha);
    }
  return image;
}

const worst = (one: PixelImage, other: PixelImage): number =>
  one.data.reduce((most, level, at) => {
    const cover = one.data[at - (at % 4) + 3] ?? 0;
    const apart = Math.abs(level - (other.data[at] ?? 0)) * (at % 4 === 3 ? 1 : cover / 255);
    return Math.max(most, apart);
  }, 0);

describe("planesOfImage", () => {
  it("finds the inks of flat artwork and gives every pixel back", () => {
    fc.assert(
      fc.property(
        fc.subarray([0x1b2a41, 0xc8553d, 0xf2ead8, 0x6b7f2a, 0xd9a441, 0x1d1a26, 0x2a5f7f], { minLength: 1 }),
        fc.array(fc.nat(8), { minLength: 24, maxLength: 24 }),
        (colours, places) => {
          const image = blank(6, 4);
          for (const [at, place] of places.entries()) {
            const colour = colours[place % colours.length] ?? 0;
            image.data.set([colour >> 16, (colour >> 8) & 255, colour & 255, 255], 4 * at);
          }
          const planes = planesOfImage(image);
          expect(planes.edges).toBe("hard");
          expect(composite(planes, colourway("Same", {})).data).toEqual(image.data);
        },
      ),
    );
  });

  it("takes anti-aliased edges as mixes of the inks on both sides, so that they are recoloured too", () => {
    const drawn = planesOfImage(disc([200, 85, 61], [27, 42, 65]));
    expect([...drawn.inks].sort()).toEqual(["#1b2a41", "#c8553d"]);
    const other = colourway("Other", { "#c8553d": "#1d1a26", "#1b2a41": "#f2ead8" });
    const wanted = disc([0x1d, 0x1a, 0x26], [0xf2, 0xea, 0xd8]);
    expect(worst(wanted, composite(drawn, other))).toBeLessThanOrEqual(2);
  });

  it("takes transparent pixels as bare cloth, and edges to it as its mixes", () => {
    const planes = planesOfImage(disc([200, 85, 61, 255], [0, 0, 0, 0]));
    expect([...planes.inks].sort()).toEqual([BARE, "#c8553d"].sort());
    const other = colourway("Other", { "#c8553d": "#f2ead8" });
    expect(worst(disc([0xf2, 0xea, 0xd8, 255], [0, 0, 0, 0]), composite(planes, other))).toBeLessThanOrEqual(
      2,
    );
    const shares = coverageOf(planes).map(({ share }) => share);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  it("takes inks that are named as they are", () => {
    const image = disc([200, 85, 61], [27, 42, 65]);
    const planes = planesOfImage(image, { inks: ["#c8553d", "#1b2a41", "#ffffff"] });
    expect(planes.inks).toHaveLength(3);
    expect(weightPlane(planes, "#ffffff").data.every((weight) => weight === 0)).toBe(true);
  });

  it("reads named inks as all others, and refuses what is none, none at all, or too many", () => {
    const image = disc([200, 85, 61], [27, 42, 65]);
    const named = (inks: readonly string[]) => planesOfImage(image, { inks }).inks;
    expect(named(["RGB(200 85 61)", "#1B2A41", "#fff", "white", BARE])).toEqual([
      "#c8553d",
      "#1b2a41",
      "#ffffff",
      BARE,
    ]);
    const many = Array.from({ length: 257 }, (_, k) => `rgb(${k % 256} ${k >> 8} 0)`);
    for (const [inks, code] of [
      [["#c8553d", "reedgreen"], "E_COLOUR"],
      [[], "E_LIMIT"],
      [many, "E_LIMIT"],
    ] as const) {
      expect(() => named(inks)).toThrow(expect.objectContaining({ code }));
    }
  });

  it("refuses a picture that is no flat artwork", () => {
    const image = blank(60, 60);
    for (let at = 0; at < 3600; at++) image.data.set([at % 251, at % 241, at % 239, 255], 4 * at);
    const refusal = (() => {
      try {
        return planesOfImage(image);
      } catch (error) {
        return error;
      }
    })();
    expect((refusal as RepetendError).code).toBe("E_LIMIT");
  });
});
