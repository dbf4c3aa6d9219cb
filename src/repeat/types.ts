import type { Note } from "../errors.js";
import type { Affine } from "../geometry/affine.js";
import type { Box } from "../geometry/box.js";
import type { Step } from "../geometry/lattice.js";
import type { Motif } from "../motif/types.js";

/** A motif in its place. Make it with `place`. */
export interface Placement {
  readonly kind: "placement";
  readonly motif: Motif;
  /** From the motif's user units to mm of the print (or of the band that holds it). */
  readonly map: Affine;
  /** A box that holds everything it paints, in mm. */
  readonly reach: Box;
}

/** How the cells of an all-over print lie to each other. */
export type Layout =
  | { readonly kind: "straight" }
  | { readonly kind: "half-drop" }
  | { readonly kind: "brick" }
  | { readonly kind: "stepped"; readonly along: "column" | "row"; readonly step: Step }
  | { readonly kind: "satin"; readonly ends: number; readonly move: number };

/** Which axis of the artwork runs along the warp. */
export type Grain = "x" | "y";

/** A print that repeats both ways. Lengths in mm. */
export interface AllOver {
  readonly kind: "all-over";
  readonly name: string;
  readonly layout: Layout;
  /** One cell of the lattice: for a satin, the whole repeat of all its ends. */
  readonly width: number;
  readonly height: number;
  /** An ink, or `undefined` for bare cloth. */
  readonly ground: string | undefined;
  readonly motifs: readonly Placement[];
  readonly grain: Grain;
  readonly notes: readonly Note[];
}

/** One band of a border, from selvedge to selvedge side by side or over each other. Lengths in mm. */
export interface Band {
  readonly name: string;
  /** Across the cloth, measured from the top selvedge; `from` < `to`. */
  readonly from: number;
  readonly to: number;
  /** After fitting: divides the border's repeat exactly `count` times. */
  readonly period: number;
  readonly count: number;
  /** An ink, or `undefined` where the border's own ground shows. */
  readonly ground: string | undefined;
  /** Fitted placements, in mm of the border (not of the band). */
  readonly motifs: readonly Placement[];
  /** Cut what leans out of the band. */
  readonly clip: boolean;
  /** How the band was fitted: `change` in per cent of the asked period. */
  readonly fit: { readonly by: "none" | "scale" | "space"; readonly asked: number; readonly change: number };
}

/** A print that repeats along the cloth only; its height is the cloth's width. Lengths in mm. */
export interface Border {
  readonly kind: "border";
  readonly name: string;
  readonly repeat: number;
  /** The cloth's width: beyond 0 and `width` there is nothing. */
  readonly width: number;
  readonly ground: string | undefined;
  readonly bands: readonly Band[];
  readonly grain: Grain;
  readonly notes: readonly Note[];
}

/** A print. */
export type Print = AllOver | Border;

/** One tile of a print as SVG. Lengths in mm. */
export interface Tile {
  readonly kind: "tile";
  readonly width: number;
  readonly height: number;
  readonly svg: string;
  /** Along which axes it repeats. */
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  /**
   * How much the next tile along x is lowered (`y`), or the next tile down is moved along (`x`).
   * 0 and 0 for a tile that repeats by itself; a single cell of a half-drop has `y` = half its height.
   */
  readonly offset: { readonly x: number; readonly y: number };
}
