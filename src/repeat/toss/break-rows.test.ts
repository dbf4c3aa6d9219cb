import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { IDENTITY } from "../../geometry/affine.js";
import { breakRows } from "./break-rows.js";
import { lookAtKind } from "./kind.js";
import { makePiece, type Piece } from "./piece.js";
import { startRandom } from "./random.js";
import { lackOf } from "./settle.js";
import { cellSpace } from "./space.js";
import { PIP } from "./toss.fixture.js";
import { readTurns } from "./turns.js";

const GAP = 2;
const kind = lookAtKind(PIP.motif, { tolerance: 0.02, margin: 6, gap: GAP, map: IDENTITY });
const turns = readTurns("any", "pip", "turn");
const SIDE = 120;
const space = cellSpace({ width: SIDE, height: SIDE, along: "column", step: { p: 0, q: 1 } });

/** How much of all that stands of a kind stands in rows on lines x + y = a multiple of the period. */
function inRows(pieces: readonly Piece[], asked: number, period: number): number {
  const own = pieces.filter((piece) => piece.asked === asked);
  const sum = (of: (angle: number) => number) =>
    own.reduce((all, { x, y }) => all + of((2 * Math.PI * (x + y)) / period), 0) / own.length;
  return Math.hypot(sum(Math.cos), sum(Math.sin));
}

/** A hundred pips at almost even places, of three kinds: those of the first stand in slanted rows. */
function slanted(seed: number): readonly Piece[] {
  if (kind === undefined) throw new Error("a pip paints something");
  const random = startRandom(seed);
  return Array.from({ length: 100 }, (_, k) => {
    const [column, row] = [k % 10, Math.floor(k / 10)];
    const asked = (column + row) % 5 === 0 ? 0 : 1 + Math.floor(2 * random());
    return makePiece({
      ...{ kind, asked, turns, mirrored: false, stiff: false, turn: 360 * random(), scale: 1 },
      ...{ x: 12 * column + 2 * random(), y: 12 * row + 2 * random() },
    });
  });
}

describe("rows of one kind", () => {
  it("are broken up in any direction: others of like size change places with it, and gaps hold", () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const pieces = slanted(seed);
        const held = pieces[3] as Piece;
        const still = { ...held };
        const counts = [0, 1, 2].map((asked) => pieces.filter((piece) => piece.asked === asked).length);
        const before = inRows(pieces, 0, 60);
        expect(before).toBeGreaterThan(0.9);
        const fixed = pieces.map((piece) => (piece === held ? { ...piece, fixed: true } : piece));
        breakRows(fixed, { space, gap: GAP, ease: 1.05 * GAP, good: 0.03 * GAP });
        expect(inRows(fixed, 0, 60)).toBeLessThan(0.75 * before);
        expect([0, 1, 2].map((asked) => fixed.filter((piece) => piece.asked === asked).length)).toEqual(
          counts,
        );
        expect([fixed[3]?.x, fixed[3]?.y]).toEqual([still.x, still.y]);
        for (const lack of lackOf(fixed, space, GAP).values()) expect(lack).toBeLessThanOrEqual(0.25 * GAP);
      }),
      { numRuns: 4 },
    );
  });

  it("are left where they do not show", () => {
    if (kind === undefined) throw new Error("a pip paints something");
    const one = { kind, turns, mirrored: false, stiff: false, turn: 0, scale: 1 };
    const few = [10, 50, 90].map((x) => makePiece({ ...one, asked: 0, x, y: x }));
    const rest = [20, 60, 100].map((x) => makePiece({ ...one, asked: 1, x, y: 20 }));
    const before = [...few, ...rest].map(({ x, y }) => [x, y]);
    breakRows([...few, ...rest], { space, gap: GAP, ease: 1.05 * GAP, good: 0.03 * GAP });
    expect([...few, ...rest].map(({ x, y }) => [x, y])).toEqual(before);
  });
});
