import fc from "fast-check";
import type { Point } from "../geometry/affine.js";
import { latticePoint } from "../geometry/lattice.js";
import { motif } from "../motif/index.js";
import type { Motif } from "../motif/types.js";
import { brick, halfDrop, satin, stepped, straight } from "./all-over.js";
import { border } from "./border.js";
import { latticeOf } from "./lattice-of.js";
import { place } from "./place.js";
import { areCoprime } from "./step.js";
import type { Placement, Print } from "./types.js";

const draw = (name: string, inner: string): Motif =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inner}</svg>`,
    { name },
  );

/** Three small drawings: a leaf with a vein, a ring, and a hook that is not symmetrical in any way. */
export const MOTIFS: readonly Motif[] = [
  draw(
    "leaf",
    '<path d="M10 1C18 8 16 15 10 19C4 15 2 8 10 1Z" fill="#3e6b4f"/><path d="M10 4V17" stroke="#f2ead8" stroke-width="0.8" fill="none"/>',
  ),
  draw("ring", '<circle cx="10" cy="10" r="7" fill="none" stroke="#c8553d" stroke-width="3"/>'),
  draw("hook", '<path d="M3 3H17V8H8V17H3Z" fill="#1b2a41"/>'),
];

const whole = (min: number, max: number) => fc.integer({ min, max });

const placements = (width: number, height: number): fc.Arbitrary<readonly Placement[]> =>
  fc.array(
    fc
      .record({
        motif: fc.constantFrom(...MOTIFS),
        x: whole(-width, 2 * width),
        y: whole(-height, 2 * height),
        size: whole(4, 50),
        turn: whole(0, 359),
        flip: fc.constantFrom("x" as const, "y" as const, "xy" as const, undefined),
      })
      .map(({ motif: one, x, y, size, turn, flip }) =>
        place(one, { at: [x, y], width: size, turn, ...(flip ? { flip } : {}) }),
      ),
    { minLength: 1, maxLength: 4 },
  );

const cells = fc.record({ width: whole(12, 60), height: whole(12, 60) });
const ground = fc.constantFrom("#f2ead8", "#d7e3e0");

/** All-over prints of every layout, with motifs across the edges and larger than the cell. */
export const allOverPrints: fc.Arbitrary<Print> = cells.chain(({ width, height }) =>
  fc
    .record({
      motifs: placements(width, height),
      ground,
      layout: fc.constantFrom("straight", "half-drop", "brick", "stepped", "satin"),
      along: fc.constantFrom("column" as const, "row" as const),
      q: whole(3, 6),
      p: whole(1, 5),
      ends: whole(5, 9),
      move: whole(2, 7),
    })
    .map(({ motifs, ground: ink, layout, along, p, q, ends, move }): Print => {
      const options = { name: "Any", width, height, ground: ink, motifs };
      if (layout === "straight") return straight(options);
      if (layout === "half-drop") return halfDrop(options);
      if (layout === "brick") return brick(options);
      if (layout === "stepped") return stepped({ ...options, along, step: { p, q } });
      return areCoprime(ends, move) && move < ends - 1
        ? satin({ ...options, ends, move })
        : satin({ ...options, ends: 5, move: 2 });
    }),
);

/** Borders with a few bands, periods that do and do not divide the repeat, and motifs that lean out. */
export const borderPrints: fc.Arbitrary<Print> = fc
  .record({ repeat: whole(20, 80), width: whole(30, 100) })
  .chain(({ repeat, width }) =>
    fc
      .record({
        ground,
        bands: fc.array(
          fc.record({
            from: whole(0, width - 8),
            tall: whole(4, 40),
            period: whole(9, 80),
            fit: fc.constantFrom("scale" as const, "space" as const),
            ground: fc.constantFrom("#1b2a41", "#c8553d", undefined),
            clip: fc.boolean(),
            motifs: placements(repeat, 20),
          }),
          { minLength: 1, maxLength: 3 },
        ),
      })
      .map((drawn) =>
        border({
          name: "Any border",
          repeat,
          width,
          ground: drawn.ground,
          bands: drawn.bands.map(({ tall, ground: ink, ...band }, index) => ({
            ...band,
            name: `band ${index + 1}`,
            to: Math.min(width, band.from + tall),
            ...(ink === undefined ? {} : { ground: ink }),
          })),
        }),
      ),
  );

/** Any print. */
export const prints: fc.Arbitrary<Print> = fc.oneof(allOverPrints, borderPrints);

/** A vector that takes the field to itself, in mm. */
export function latticeVector(print: Print, i: number, j: number): Point {
  return print.kind === "border" ? { x: i * print.repeat, y: 0 } : latticePoint(latticeOf(print), i, j);
}
