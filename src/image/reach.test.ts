import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findReach, type Reach } from "./reach.js";

const pictures = fc
  .record({ width: fc.integer({ min: 1, max: 14 }), height: fc.integer({ min: 1, max: 14 }) })
  .chain(({ width, height }) =>
    fc.record({
      width: fc.constant(width),
      height: fc.constant(height),
      seeds: fc.uint8Array({ minLength: width * height, maxLength: width * height, max: 9 }),
    }),
  )
  .map(({ seeds, ...size }) => ({ ...size, seeds: seeds.map((seed) => (seed === 9 ? 1 : 0)) }));

const reaches: fc.Arbitrary<Reach> = fc.record({
  x: fc.integer({ min: 0, max: 60 }).map((tenths) => tenths / 10),
  y: fc.integer({ min: 1, max: 60 }).map((tenths) => tenths / 10),
  wrapX: fc.boolean(),
  wrapY: fc.boolean(),
});

/** The definition: some seed, or a copy of it one tile further, within the ellipse. */
function isReached(
  { width, height, seeds }: { width: number; height: number; seeds: Uint8Array },
  { x: across, y: down, wrapX, wrapY }: Reach,
  x: number,
  y: number,
): boolean {
  const shifts = (wrap: boolean) => (wrap ? [-7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7] : [0]);
  for (let at = 0; at < seeds.length; at++) {
    if (seeds[at] === 0) continue;
    for (const i of shifts(wrapX))
      for (const j of shifts(wrapY)) {
        const [dx, dy] = [(at % width) + i * width - x, Math.floor(at / width) + j * height - y];
        const [p, q] = [dx === 0 ? 0 : dx / across, dy / down];
        if (p * p + q * q <= 1 + 1e-9) return true;
      }
  }
  return false;
}

describe("findReach", () => {
  it("finds exactly the pixels within the distance of a seed, over joined edges too", () => {
    fc.assert(
      fc.property(pictures, reaches, (picture, reach) => {
        const { width, height, seeds } = picture;
        const found = findReach(seeds, width, height, reach);
        const wanted = Array.from({ length: width * height }, (_, at) =>
          isReached(picture, reach, at % width, Math.floor(at / width)) ? 1 : 0,
        );
        expect([...found]).toEqual(wanted);
      }),
      { numRuns: 300 },
    );
  });
});
