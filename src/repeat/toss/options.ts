import type { Motif } from "../../motif/types.js";
import type { Length } from "../../units/index.js";
import type { StepLike } from "../build/step.js";
import type { Band, Placement } from "../types.js";
import type { TossTurn } from "./turns.js";

/** How the cells of a tossed print lie to each other: the layouts of all-over prints. */
export type TossLayout =
  | "straight"
  | "half-drop"
  | "brick"
  | { readonly along: "column" | "row"; readonly step: StepLike }
  | { readonly ends: number; readonly move: number };

/** A cell to toss motifs into; its sizes and layout are those of the print that will hold it. */
export interface TossCell {
  readonly width: Length;
  readonly height: Length;
  /** Default "straight". */
  readonly layout?: TossLayout;
}

/** A band of a border to toss motifs into. With `beside`, its limits are measured from the selvedge at y = 0. */
export interface TossBand {
  /** The band's period along the cloth, or the border's repeat where it has none of its own. */
  readonly repeat: Length;
  /** The band's limits across the cloth; placements count from `from`. */
  readonly from: Length;
  readonly to: Length;
  /** "inside": motifs stay half a gap inside of the limits. "free": they may lean out. Default "inside". */
  readonly across?: "inside" | "free";
  /**
   * The border's other bands, from `border`: what they draw over this band's cloth is kept clear of, as far as it shows,
   * at each of their own periods. Default: none.
   */
  readonly beside?: readonly Band[];
}

/** One motif to toss. */
export interface TossMotif {
  readonly motif: Motif;
  /** Width of the motif's frame, above 0; or from a smallest to a largest one. Default: its natural width. */
  readonly width?: Length | readonly [Length, Length];
  /** How many there are for one of another motif's, above 0: 2 and 1 stand two to one. Fillers share among fillers. Default 1. */
  readonly share?: number;
  /** Fills the holes that are left when the others stand, as many as fit. Default false. */
  readonly filler?: boolean;
  /** Default "any". */
  readonly turn?: TossTurn;
  /** Half of them are mirrored. Default false. */
  readonly flip?: boolean;
}

/** What is tossed, and into what. */
export interface TossOptions {
  readonly space: TossCell | TossBand;
  /** At least one. */
  readonly motifs: readonly TossMotif[];
  /** The least distance between any two outlines, above 0. */
  readonly gap: Length;
  /** A whole number from 0 to 4,294,967,295: another seed, another toss. Default 1. */
  readonly seed?: number;
  /** Motifs that stand already, in the coordinates of the cell or band: they stay, and are kept clear of. */
  readonly around?: readonly Placement[];
  /** How many motifs, fillers not counted: 1 to 1,000. Default: as many as fit. */
  readonly count?: number;
}
