import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seeded } from "../../../tests/seeded.fixture.js";
import type { PixelImage } from "../../image/index.js";
import { findRepeat } from "./find-repeat.js";

type Paint = (x: number, y: number) => readonly [number, number, number];

function paint(width: number, height: number, colour: Paint): PixelImage {
  const data = new Uint8Array(3 * width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) data.set(colour(x, y), 3 * (y * width + x));
  return { width, height, channels: 3, data, stride: 3 * width };
}

const GROUND = [240, 230, 200] as const;
const modulo = (value: number, by: number) => ((value % by) + by) % by;

interface Disc {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly colour: readonly [number, number, number];
}

function discs(seed: number, count: number, width: number, height: number): readonly Disc[] {
  const random = seeded(seed);
  return Array.from({ length: count }, () => ({
    x: random() * width,
    y: random() * height,
    size: (0.05 + 0.13 * random()) * Math.min(width, height),
    colour: [random() * 255, random() * 255, random() * 255] as const,
  }));
}

/** Discs on a lattice: each next column lower by `drop`, each next row moved along by `move`. */
function yardage(cell: { width: number; height: number; drop?: number; move?: number }, seed = 3): Paint {
  const { width, height, drop = 0, move = 0 } = cell;
  const list = discs(seed, 7, width, height);
  return (x, y) => {
    for (const { x: cx, y: cy, size, colour } of list)
      for (let k = -1; k <= 1; k++) {
        // The nearest copy lies in this column or row, or in one beside it.
        const column = Math.round((x - cx) / width) + k;
        const row = Math.round((y - cy) / height) + k;
        const [dx, dy] =
          drop !== 0
            ? [x - cx - column * width, modulo(y - cy - column * drop + height / 2, height) - height / 2]
            : [modulo(x - cx - row * move + width / 2, width) - width / 2, y - cy - row * height];
        if (Math.hypot(dx, dy) < size) return colour;
      }
    return GROUND;
  };
}

describe("findRepeat", () => {
  it("reads layouts and sizes, with the other name of the same cloth", () => {
    const straight = findRepeat(paint(330, 300, yardage({ width: 110, height: 90 })));
    expect(straight).toMatchObject({ found: "lattice", layout: "straight", sameAs: [] });
    expect(straight.width).toBeCloseTo(110, 0);
    expect(straight.height).toBeCloseTo(90, 0);
    expect(straight.confidence).toBeGreaterThan(0.9);

    const drop = findRepeat(paint(330, 300, yardage({ width: 110, height: 90, drop: 45 })));
    expect(drop).toMatchObject({ layout: "half-drop", sameAs: [{ layout: "brick" }] });
    expect(drop.sameAs[0]?.width).toBeCloseTo(220, 0);
    expect(drop.sameAs[0]?.height).toBeCloseTo(45, 0);

    expect(findRepeat(paint(330, 300, yardage({ width: 110, height: 90, move: 55 }))).layout).toBe("brick");
    expect(findRepeat(paint(330, 300, yardage({ width: 100, height: 90, drop: 36 }))).layout).toEqual({
      kind: "stepped",
      along: "column",
      step: { p: 2, q: 5 },
    });
    expect(findRepeat(paint(330, 300, yardage({ width: 105, height: 90, move: 35 }))).layout).toEqual({
      kind: "stepped",
      along: "row",
      step: { p: 1, q: 3 },
    });
  });

  it("gives sizes in mm where the resolution is known", () => {
    const image = paint(330, 300, yardage({ width: 110, height: 90 }));
    expect(findRepeat(image).mm).toBeUndefined();
    expect(findRepeat(image, { dpi: 127 }).mm?.width).toBeCloseTo(22, 0);
    expect(findRepeat({ ...image, dpi: { x: 254, y: 127 } }).mm?.width).toBeCloseTo(11, 0);
  });

  it("is not tempted by a motif that stands twice in the repeat", () => {
    const base = yardage({ width: 120, height: 100 });
    const twice: Paint = (x, y) =>
      Math.hypot(modulo(x, 60) - 30, modulo(y, 100) - 50) < 22 ? [30, 60, 90] : base(x, y);
    expect(findRepeat(paint(360, 300, twice)).width).toBeCloseTo(120, 0);
    // One small spot is all that keeps the repeat from being half as wide.
    const spot: Paint = (x, y) =>
      Math.hypot(modulo(x, 120) - 20, modulo(y, 100) - 12) < 5 ? [200, 40, 40] : yardage60(x, y);
    const yardage60 = yardage({ width: 60, height: 100 }, 5);
    expect(findRepeat(paint(360, 300, spot)).width).toBeCloseTo(120, 0);
  });

  it("sees that a border repeats along x only", () => {
    const random = seeded(8);
    const band = Array.from({ length: 26 }, () => ({
      x: random() * 90,
      y: random() * 240,
      size: 6 + 14 * random(),
      colour: [random() * 255, random() * 255, random() * 255] as const,
    }));
    const image = paint(300, 240, (x, y) => {
      const disc = band.find((one) => Math.hypot(modulo(x - one.x + 45, 90) - 45, y - one.y) < one.size);
      return disc?.colour ?? GROUND;
    });
    const estimate = findRepeat(image);
    expect(estimate).toMatchObject({ found: "border", layout: "border", repeats: { x: true, y: false } });
    expect(estimate.width).toBeCloseTo(90, 0);
    expect(estimate.height).toBeUndefined();
  });

  it("says honestly what stripes, plain grounds and pictures without a repeat are", () => {
    const stripes = findRepeat(paint(300, 200, (x) => (x % 40 < 14 ? [20, 40, 60] : GROUND)));
    expect(stripes).toMatchObject({ found: "stripes", layout: "straight" });
    expect(stripes.width).toBeCloseTo(40, 0);
    expect(stripes.height).toBeUndefined();
    const slanted = findRepeat(
      paint(300, 240, (x, y) => (modulo(0.8 * x + 0.6 * y, 24) < 9 ? [20, 40, 60] : GROUND)),
    );
    expect(slanted.found).toBe("stripes");
    expect(slanted.width).toBeCloseTo(30, 0);
    expect(slanted.height).toBeCloseTo(40, 0);

    expect(findRepeat(paint(100, 80, () => GROUND))).toMatchObject({ found: "plain", confidence: 1 });

    const random = seeded(1);
    const noise = findRepeat(paint(200, 200, () => [random() * 255, random() * 255, random() * 255]));
    expect(noise).toMatchObject({ found: "nothing", layout: "none", confidence: 0, shifts: [] });
    expect(findRepeat(paint(200, 160, (x, y) => [x, y, 90])).layout).toBe("none");
    const tossed = discs(4, 60, 400, 320);
    const alone = paint(400, 320, (x, y) => {
      const disc = tossed.find((one) => Math.hypot(x - one.x, y - one.y) < one.size / 3);
      return disc?.colour ?? GROUND;
    });
    expect(findRepeat(alone).layout).toBe("none");
  });

  it("reads a single tile by its edges", () => {
    const tile = (cell: Parameters<typeof yardage>[0]) =>
      findRepeat(paint(cell.width, cell.height, yardage(cell, 11)));
    expect(tile({ width: 200, height: 160 })).toMatchObject({
      found: "tile",
      layout: "straight",
      width: 200,
    });
    expect(tile({ width: 200, height: 160, drop: 80 })).toMatchObject({ found: "tile", layout: "half-drop" });
  });

  it("bears noise and uneven light", () => {
    const random = seeded(2);
    const base = yardage({ width: 110, height: 90, drop: 45 });
    const scan = paint(400, 330, (x, y) => {
      const light = 0.7 + (0.3 * x) / 400;
      const [r, g, b] = base(x, y).map((level) =>
        Math.max(0, Math.min(255, level * light + 30 * (random() - 0.5))),
      );
      return [r ?? 0, g ?? 0, b ?? 0];
    });
    const estimate = findRepeat(scan);
    expect(estimate.layout).toBe("half-drop");
    expect(Math.abs((estimate.width ?? 0) - 110)).toBeLessThan(1);
  });

  it("does not depend on which part of the cloth is in the picture", () => {
    const base = yardage({ width: 97.3, height: 83.6, drop: 41.8 });
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 500 }), fc.integer({ min: -500, max: 500 }), (right, down) => {
        const estimate = findRepeat(paint(270, 240, (x, y) => base(x + right, y + down)));
        expect(estimate.layout).toBe("half-drop");
        expect(Math.abs((estimate.width ?? 0) - 97.3)).toBeLessThan(1);
        expect(Math.abs((estimate.height ?? 0) - 83.6)).toBeLessThan(1);
      }),
      { numRuns: 5 },
    );
  });

  it("scales with the picture, and keeps its layout", () => {
    const base = yardage({ width: 100, height: 80, move: 50 });
    fc.assert(
      fc.property(fc.double({ min: 0.7, max: 1.6, noNaN: true }), (scale) => {
        const image = paint(Math.round(270 * scale), Math.round(220 * scale), (x, y) =>
          base(x / scale, y / scale),
        );
        const estimate = findRepeat(image);
        expect(estimate.layout).toBe("brick");
        expect(Math.abs((estimate.width ?? 0) - 100 * scale)).toBeLessThan(1);
      }),
      { numRuns: 5 },
    );
  });

  it("refuses pictures that are too small or lack bytes", () => {
    const image = paint(40, 40, () => GROUND);
    expect(() => findRepeat({ ...image, width: 15 })).toThrow(expect.objectContaining({ code: "E_IMAGE" }));
    expect(() => findRepeat({ ...image, height: 41 })).toThrow(expect.objectContaining({ code: "E_IMAGE" }));
  });
});
