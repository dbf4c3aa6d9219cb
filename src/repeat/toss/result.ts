import type { Note } from "../../errors.js";
import type { Placement } from "../types.js";

/** How many there are of one motif. */
export interface TossedMotif {
  readonly motif: string;
  readonly count: number;
  /** The part that was asked, among fillers or among the others: 0 to 1. */
  readonly asked: number;
  /** The part that it makes up. */
  readonly reached: number;
  readonly filler: boolean;
}

/** What a toss reached. Lengths in mm. */
export interface TossFacts {
  /** The gap that was asked. */
  readonly gap: number;
  /** The smallest distance between two outlines, across all seams; `undefined` where no two are neighbours. */
  readonly smallest:
    | {
        readonly gap: number;
        readonly between: readonly [string, string];
        readonly x: number;
        readonly y: number;
      }
    | undefined;
  /** From each motif to its nearest neighbour: the mean, and the standard deviation. */
  readonly nearest: { readonly mean: number; readonly deviation: number };
  /** The widest circle found that touches no motif, nor a limit of a band out of which none leans. */
  readonly hole: { readonly diameter: number; readonly x: number; readonly y: number };
  /** The part of the space that motifs cover, 0 to 1; what leans out of a band counts. */
  readonly covered: number;
  /** In the order in which they were asked. */
  readonly motifs: readonly TossedMotif[];
  /** How many motifs have one of their own kind as nearest neighbour. */
  readonly alike: number;
}

/** A tossed filling. */
export interface Tossed {
  readonly kind: "tossed";
  /** The tossed motifs, without those that stood already: for `motifs` of a print or a band. */
  readonly placements: readonly Placement[];
  readonly facts: TossFacts;
  /** `N_TOSS_COUNT`, `N_TOSS_SHARE`, `N_TOSS_ROOM`, `N_TOSS_AROUND`, `N_TOSS_BESIDE`: what could not be held, and what would do. */
  readonly notes: readonly Note[];
}
