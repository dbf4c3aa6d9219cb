import type { Print } from "../../repeat/types.js";
import type { Length } from "../../units/index.js";
import type { Edge, PanelChoice, ScaleOptions, Sketch } from "../types.js";

/** One kind of piece to cut, as it is worn: its hem below, its sides left and right. Sizes are finished sizes. */
export interface PieceOptions {
  readonly name: string;
  /** Either both sizes, or a panel of the sketch. */
  readonly width?: Length;
  readonly height?: Length;
  readonly panel?: PanelChoice;
  /** How many of it. 1 to 1000. Default 1. */
  readonly count?: number;
  /** The band that an edge of it lies on, as in `dress`. */
  readonly band?: string;
  /** Or a level of the print, measured across it. */
  readonly level?: Length;
  /** Default "bottom". */
  readonly edge?: Edge;
  readonly gap?: Length;
  /**
   * Whether its hem runs along the cloth or across it. Default: the edge on a band runs along; without one, along for
   * a border and across for an all-over print.
   */
  readonly cut?: "along" | "across";
  /** Start every one of it at the same place of the repeat. Default true where an edge lies on a band. */
  readonly match?: boolean;
  /** What lies on its left edge (its top edge where it is cut across), along the print. Default 0. */
  readonly along?: Length;
  /**
   * Sewn side by side all round, the last to the first, so that the closing seam must match. The whole number of
   * repeats that this needs is met by gathering more cloth in, or by changing the scale of the print. Default: none.
   */
  readonly sweep?: "gather" | "scale";
}

/** What cloth is needed for. */
export interface YardageOptions {
  readonly print: Print;
  /** The cloth's width, across the warp. Default: a border's own; must be given for an all-over print. */
  readonly clothWidth?: Length;
  /** Allowance on every side of a piece. Default 10 mm. */
  readonly seam?: Length;
  readonly pieces: readonly PieceOptions[];
  /** For pieces that are panels. */
  readonly sketch?: Sketch;
  readonly scale?: ScaleOptions;
}
