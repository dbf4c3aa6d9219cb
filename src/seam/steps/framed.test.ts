import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkSeams } from "../index.js";

const [WIDTH, HEIGHT] = [80, 1200];
const GROUND = [239, 230, 210];
const LINE = [20, 26, 36];
const INK = [181, 83, 60];
const OTHER = [59, 110, 122];

/** Leaves end so many columns from the seam. */
const REACH = 25;

/** A leaf between two lines that climb steeply over the seam, `slope` rows a column; beyond it it is filled with another ink. */
function steepLeaf(slope: number, half: number, beyond: readonly number[], edges: "soft" | "hard") {
  const data = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const across = (x < WIDTH / 2 ? x : x - WIDTH) + 0.5;
      const side = Math.abs(y + 0.5 - HEIGHT / 2 - slope * across) / Math.hypot(1, slope) - half;
      const mix = (distance: number) =>
        edges === "hard" ? (distance < 0 ? 1 : 0) : Math.max(0, Math.min(1, 0.5 - distance));
      const [line, fill] = [
        mix(Math.max(side, Math.abs(across) - REACH)),
        mix(Math.max(side + 5, Math.abs(across) - REACH + 5)),
      ];
      const inside = across > 0 ? beyond : INK;
      for (let i = 0; i < 3; i++) {
        const drawn = (GROUND[i] ?? 0) + line * ((LINE[i] ?? 0) - (GROUND[i] ?? 0));
        data[(y * WIDTH + x) * 3 + i] = Math.round(drawn + fill * ((inside[i] ?? 0) - drawn));
      }
    }
  return { width: WIDTH, height: HEIGHT, channels: 3, data, stride: 3 * WIDTH } as const;
}

const slopes = fc.double({ min: 3.5, max: 12, noNaN: true }).chain((slope) => fc.constantFrom(slope, -slope));
const halves = fc.double({ min: 9, max: 13, noNaN: true });
const kinds = fc.constantFrom("soft" as const, "hard" as const);

describe("another ink between steep outlines", () => {
  it("is found, however long they take to climb over the seam", () => {
    fc.assert(
      fc.property(slopes, halves, kinds, (slope, half, edges) => {
        const [edge] = checkSeams(steepLeaf(slope, half, OTHER, edges)).edges;
        expect(edge?.kind).toBe("colour");
      }),
      { numRuns: 30 },
    );
  });

  it("is never found where the ink is the same", () => {
    fc.assert(
      fc.property(slopes, halves, kinds, (slope, half, edges) => {
        expect(checkSeams(steepLeaf(slope, half, INK, edges)).ok).toBe(true);
      }),
      { numRuns: 30 },
    );
  });
});
