import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeScreen, screenRows } from "./screen.js";

const screens = { ordered: makeScreen("ordered"), "blue-noise": makeScreen("blue-noise") } as const;
const kinds = fc.constantFrom("ordered" as const, "blue-noise" as const);

const even = (width: number, height: number, level: number) => ({
  width,
  height,
  channels: 1 as const,
  data: new Uint8Array(width * height).fill(level),
  stride: width,
});

const share = (data: Uint8Array) => data.reduce((sum, dot) => sum + (dot > 0 ? 1 : 0), 0) / data.length;

describe("screenRows", () => {
  it("keeps the tone: the share of dots is the level", () => {
    fc.assert(
      fc.property(
        kinds,
        fc.integer({ min: 0, max: 255 }),
        fc.integer({ min: 100, max: 400 }),
        (kind, level, width) => {
          const dots = screenRows(even(width, 256, level), screens[kind], { y: 0, height: 256 });
          expect(Math.abs(share(dots.data) - level / 255)).toBeLessThan(0.03);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("leaves nothing of no ink and all of full ink", () => {
    for (const screen of Object.values(screens)) {
      expect(share(screenRows(even(100, 100, 0), screen, { y: 0, height: 100 }).data)).toBe(0);
      expect(share(screenRows(even(100, 100, 255), screen, { y: 0, height: 100 }).data)).toBe(1);
    }
  });

  it("is the same for a part of the rows as for all of them", () => {
    const whole = screenRows(even(150, 200, 90), screens["blue-noise"], { y: 0, height: 200 });
    const part = screenRows(even(150, 20, 90), screens["blue-noise"], { y: 60, height: 200 });
    expect(part.data).toEqual(whole.data.subarray(60 * 150, 80 * 150));
  });

  it("joins at the seams: across them dots are as far apart as inside", () => {
    // Of a tone of 10 % in blue noise, hardly any two dots touch; the same must hold over the edges of odd sizes.
    const [width, height] = [131, 197];
    const { data } = screenRows(even(width, height, 25), screens["blue-noise"], { y: 0, height });
    const at = (x: number, y: number) => data[((y + height) % height) * width + ((x + width) % width)] ?? 0;
    const touching = (x: number, y: number) =>
      at(x, y) > 0 && [at(x + 1, y), at(x, y + 1), at(x + 1, y + 1), at(x - 1, y + 1)].some((dot) => dot > 0);
    let [seam, inside] = [0, 0];
    for (let y = 0; y < height; y++) if (touching(width - 1, y)) seam++;
    for (let x = 0; x < width; x++) if (touching(x, height - 1)) seam++;
    for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) if (touching(x, y)) inside++;
    expect(seam).toBeLessThanOrEqual(4);
    expect(inside / (width * height)).toBeLessThan(0.03);
  });
});
