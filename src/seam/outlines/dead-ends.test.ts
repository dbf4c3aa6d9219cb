import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactSteps, findOpenPieces } from "../steps/open-pieces.js";
import { measureJumps, readStrip, type Strip } from "../strip/strip.js";
import { findCutEnds } from "./dead-ends.js";

const [WIDTH, HEIGHT] = [80, 160];

/** What lies around the seam: the distance to a shape (negative inside) at rows and columns from the seam, soft or hard. */
function draw(distance: (across: number, along: number) => number, edges: "soft" | "hard") {
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const across = (x < WIDTH / 2 ? x : x - WIDTH) + 0.5;
      const off = distance(across, y + 0.5);
      const share = edges === "hard" ? (off < 0 ? 1 : 0) : Math.max(0, Math.min(1, 0.5 - off));
      data[y * WIDTH + x] = Math.round(230 - 190 * share);
    }
  const image = { width: WIDTH, height: HEIGHT, channels: 1, data, stride: WIDTH } as const;
  return readStrip(image, { edge: "left-right", offset: 0, cyclic: true }, 16);
}

/** A bar of half the thickness given, through (0, `at`) with a slope of rows a column. */
const bar = (at: number, slope: number, half: number) => (across: number, along: number) =>
  Math.abs(along - at - slope * across) / Math.hypot(1, slope) - half;

const cutAtSeam = (shape: (across: number, along: number) => number) => (across: number, along: number) =>
  across > 0 ? 9 : shape(across, along);

const cutEnds = (strip: Strip, edges: "soft" | "hard") =>
  findCutEnds(strip, findOpenPieces(strip, exactSteps(strip, measureJumps(strip))), edges);

const kinds = fc.constantFrom("soft" as const, "hard" as const);

describe("outlines that end at the seam", () => {
  it("prove a cut where two slanted bars end there, and nothing where they go on", () => {
    const slopes = fc.double({ min: 0.45, max: 1.3, noNaN: true });
    fc.assert(
      fc.property(slopes, slopes, fc.boolean(), kinds, (one, other, isTurned, edges) => {
        const bars = [bar(50.3, one, 5), bar(110.7, isTurned ? -other : other, 6)];
        const shape = (across: number, along: number) => Math.min(...bars.map((each) => each(across, along)));
        expect(cutEnds(draw(cutAtSeam(shape), edges), edges).length).toBeGreaterThanOrEqual(2);
        expect(cutEnds(draw(shape, edges), edges)).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it("pass a straight side that lies on the seam, and a disc that touches it", () => {
    const reach = fc.double({ min: 8, max: 30, noNaN: true });
    fc.assert(
      fc.property(reach, fc.double({ min: -1, max: 1, noNaN: true }), kinds, (half, depth, edges) => {
        const side = (across: number, along: number) => Math.max(across, Math.abs(along - 80) - half);
        expect(cutEnds(draw(side, edges), edges)).toEqual([]);
        const disc = (across: number, along: number) =>
          Math.hypot(across + half - depth, along - 80.2) - half;
        expect(cutEnds(draw(disc, edges), edges)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});
