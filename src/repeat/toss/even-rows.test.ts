import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { IDENTITY } from "../../geometry/affine.js";
import { evenRows } from "./even-rows.js";
import { lookAtKind } from "./kind.js";
import { makePiece } from "./piece.js";
import { startRandom } from "./random.js";
import { bandSpace, cellSpace } from "./space.js";
import { PIP } from "./toss.fixture.js";
import { readTurns } from "./turns.js";

const kind = lookAtKind(PIP.motif, { tolerance: 0.05, margin: 6, gap: 2, map: IDENTITY });
const turns = readTurns("one-way", "pip", "turn");

/** How much stands in one row of a wave: 0 for nothing, 1 for all. */
function strength(places: readonly number[], wave: number): number {
  const sum = (of: (angle: number) => number) =>
    places.reduce((all, place) => all + of((2 * Math.PI * place) / wave), 0);
  return Math.hypot(sum(Math.cos), sum(Math.sin)) / places.length;
}

const spaces = fc.constantFrom(
  cellSpace({ width: 100, height: 80, along: "column", step: { p: 1, q: 2 } }),
  bandSpace(100, 80, 1),
);

describe("rows", () => {
  it("are evened out along the cloth and down it, and no motif is moved far", () => {
    fc.assert(
      fc.property(spaces, fc.nat(), (space, seed) => {
        if (kind === undefined) throw new Error("a pip paints something");
        const random = startRandom(seed);
        const made = { kind, asked: 0, turns, mirrored: false, stiff: true, turn: 0, scale: 1 };
        // All in the left two thirds; and since every second column of a half-drop is lower by half, rows close on 40 mm.
        const places = Array.from({ length: 30 }, () => ({ x: 66 * random(), y: 26 * random() }));
        const pieces = places.map((place) => makePiece({ ...made, ...place }));
        evenRows(pieces, space, 12, 8);
        const before = {
          x: strength(
            places.map(({ x }) => x),
            100,
          ),
          y: strength(
            places.map(({ y }) => y),
            40,
          ),
        };
        const after = {
          x: strength(
            pieces.map(({ x }) => x),
            100,
          ),
          y: strength(
            pieces.map(({ y }) => y),
            40,
          ),
        };
        expect(after.x).toBeLessThan(0.8 * before.x);
        if (space.v === undefined) expect(after.y).toBe(before.y);
        else expect(after.y).toBeLessThan(0.8 * before.y);
        // Three waves, once for all and once for the one kind.
        const moved = pieces.map(({ x }, k) => Math.abs(x - (places[k]?.x ?? 0)));
        expect(Math.max(...moved)).toBeLessThanOrEqual(6 * 8 + 1e-9);
      }),
      { numRuns: 40 },
    );
  });
});
