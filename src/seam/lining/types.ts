/** What makes a stripe in a print of ours. */
export type LiningCause =
  | {
      readonly kind: "motif";
      /** The motif's name. */
      readonly motif: string;
      /** Where its copies stand, from the tile's top left corner, in mm. */
      readonly at: readonly { readonly x: number; readonly y: number }[];
    }
  | { readonly kind: "gap"; readonly from: number; readonly to: number };

/** One set of parallel stripes that shows at a distance. Lengths in mm. */
export interface LiningStripe {
  /** The direction in which the stripes run, degrees clockwise on the page from the x axis, 0 to below 180: 90 is upright. */
  readonly angle: number;
  /** Across the stripes, from the line through the tile's top left corner to the middle of a stripe, 0 to `period`; counted to the right, or down for level stripes. */
  readonly position: number;
  /** The same in pixels of an upright or level stripe's axis; `undefined` for slanted ones. */
  readonly positionPx: number | undefined;
  /** From one stripe to the next, across them. */
  readonly period: number;
  /** How wide a stripe is at half its strength. */
  readonly width: number;
  /** From the stripe to its opposite, after the blur of the distance: units of L* or, for chroma, of a* and b*. */
  readonly strength: number;
  readonly channel: "lightness" | "chroma";
  /** Whether the stripe is lighter or darker than the cloth, or, for chroma, differs in colour. */
  readonly tone: "light" | "dark" | "colour";
  /** How many times stronger than patterns of like size in other directions, as amplitudes. */
  readonly excess: number;
  /** The motifs or gaps that make it; empty for pictures. */
  readonly causes: readonly LiningCause[];
}

/** What shows when a print is seen from a distance. */
export interface LiningReport {
  readonly kind: "lining-report";
  /** No stripes show. */
  readonly ok: boolean;
  /** Of the rectangle that repeats, in mm. */
  readonly width: number;
  readonly height: number;
  /** Along which axes it repeats. */
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  /** From which distance, in metres. */
  readonly distance: number;
  /** Strongest first. */
  readonly stripes: readonly LiningStripe[];
}
