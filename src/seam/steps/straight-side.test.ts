import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readStrip } from "../strip/strip.js";
import { lineAlong } from "./straight-side.js";

const [WIDTH, HEIGHT] = [80, 120];
const [FROM, TO] = [30, 90];

/** A dark shape that lies on the seam from row FROM to TO, as wide in each row as is said. */
function shape(widthAt: (row: number) => number) {
  const data = new Uint8Array(WIDTH * HEIGHT).fill(230);
  for (let y = FROM; y < TO; y++) data.fill(40, y * WIDTH, y * WIDTH + widthAt(y));
  const image = { width: WIDTH, height: HEIGHT, channels: 1, data, stride: WIDTH } as const;
  return readStrip(image, { edge: "left-right", offset: 0, cyclic: true }, 16);
}

const lineOf = (widthAt: (row: number) => number): -1 | 1 | undefined =>
  lineAlong(shape(widthAt), FROM, TO, 60 * 32 + 15);

describe("a line along the seam", () => {
  it("is as wide in every row, but for the stairs of its other side and what lies against it", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 11 }),
        fc.integer({ min: FROM, max: TO - 16 }),
        (width, joint) => {
          expect(lineOf(() => width)).toBe(1);
          expect(lineOf((row) => width + (row % 2))).toBe(1);
          expect(lineOf((row) => (row >= joint && row < joint + 16 ? 16 : width))).toBe(1);
        },
      ),
    );
  });

  it("is no wedge, and no part of a disc", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 3, max: 10 }), (width, more) => {
        const share = (row: number) => (row + 0.5 - FROM) / (TO - FROM);
        expect(lineOf((row) => width + Math.floor((more + 1) * share(row)))).toBeUndefined();
        expect(
          lineOf((row) => width + Math.round((more + 3) * 4 * share(row) * (1 - share(row)))),
        ).toBeUndefined();
      }),
    );
  });
});
