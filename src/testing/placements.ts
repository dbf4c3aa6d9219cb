import fc from "fast-check";
import type { Motif } from "../motif/index.js";
import { type Placement, type PlaceOptions, place } from "../repeat/index.js";
import { withRecipe, writeCall } from "./recipe.js";
import { someOf } from "./some-of.js";

/** A placement whose point is still a share of the cell that will hold it. */
export interface LoosePlacement {
  readonly motif: Motif;
  /** Thousandths of the cell, from its middle. */
  readonly across: number;
  readonly down: number;
  /** In lengths of the grid. */
  readonly size: number;
  readonly turn: number;
  readonly flip: PlaceOptions["flip"];
}

/** How far from a cell's middle a motif may stand: one cell beyond either edge, in thousandths. */
const FURTHEST = 1500;

/** Loose placements, so that a shrinking cell takes its motifs with it. Shrinks to one in the middle, as drawn. */
export function loosePlacements(
  motifs: fc.Arbitrary<Motif>,
  sizes: { readonly min: number; readonly max: number },
  counts: { readonly min: 0 | 1; readonly max: number },
): fc.Arbitrary<readonly LoosePlacement[]> {
  const share = fc.integer({ min: -FURTHEST, max: FURTHEST });
  return someOf(
    fc.record({
      motif: motifs,
      across: share,
      down: share,
      size: fc.integer(sizes),
      turn: fc.nat(359),
      flip: fc.constantFrom(undefined, "x" as const, "y" as const, "xy" as const),
    }),
    counts,
  );
}

/** The placements in a cell, their points and widths on a grid of so many mm. */
export function settle(
  loose: readonly LoosePlacement[],
  cell: { readonly width: number; readonly height: number },
  grid: number,
): readonly Placement[] {
  const at = (side: number, share: number) => onGrid(Math.round((side * (500 + share)) / 1000 / grid), grid);
  return loose.map(({ motif, across, down, size, turn, flip }) => {
    const options: PlaceOptions = {
      at: [at(cell.width, across), at(cell.height, down)],
      width: onGrid(size, grid),
      ...(turn === 0 ? {} : { turn }),
      ...(flip === undefined ? {} : { flip }),
    };
    return withRecipe(place(motif, options), () => writeCall("place", motif, options));
  });
}

/** A whole number of grid lengths in mm, free of the noise of binary fractions. */
export const onGrid = (steps: number, grid: number): number => Number((steps * grid).toFixed(6));
