import type { StepLike } from "../repeat/index.js";

/**
 * How tiles are laid to each other. "straight": side by side and under each other, and so is any rectangle that
 * repeats by itself. "half-drop": the next tile to the right is lower by half the height. "brick": the next row is
 * moved along by half the width. "stepped": by p/q instead of a half. "border": along the cloth (x) only.
 */
export type SeamLayout =
  | "straight"
  | "half-drop"
  | "brick"
  | "border"
  | { readonly kind: "straight" | "half-drop" | "brick" | "border" }
  | { readonly kind: "stepped"; readonly along: "column" | "row"; readonly step: StepLike };

/** Which two edges of the tile meet. */
export type EdgePair = "left-right" | "top-bottom";

/**
 * What is wrong at an edge. "gap": a line of ground or of nothing along the edge. "shift": the edges meet, but out of
 * register. "cut": a motif ends at the edge and has no partner. "colour": the same shapes in another ink. "size": the
 * picture is not a whole multiple of its repeat. "doubled": the last row repeats the first.
 */
export type FaultKind = "gap" | "shift" | "cut" | "colour" | "size" | "doubled";

/** From `from` up to but not including `to`, along the edge: down the right edge, or along the bottom edge. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** One open stretch of a seam. */
export interface SeamRun {
  readonly kind: FaultKind;
  /** In whole pixels. */
  readonly px: Stretch;
  /** In mm, where the resolution is known. */
  readonly mm: Stretch | undefined;
  /** The largest difference across the seam in this stretch, CIEDE2000. */
  readonly worst: number;
}

/** How far the far edge is out of register with the near one. Pixels; positive is down or right of where it should be. */
export interface SeamShift {
  /** Along the seam. */
  readonly along: number;
  /**
   * Across the seam: positive where the picture lacks that many rows, negative where it has too many. `undefined` where
   * nothing tells: outlines of one slope, or all of them square to the seam.
   */
  readonly across: number | undefined;
  /** 0 to 1. */
  readonly confidence: number;
}

/** What was found where two edges meet. */
export interface EdgeReport {
  readonly edge: EdgePair;
  readonly ok: boolean;
  /** The fault, where there is one; that of the longest stretch where there are several. */
  readonly kind: FaultKind | undefined;
  /** The largest difference across the seam that nothing explains, CIEDE2000; 0 for a closed seam. */
  readonly worst: number;
  readonly shift: SeamShift | undefined;
  readonly runs: readonly SeamRun[];
  /** The open part of the edge's length, 0 to 1. */
  readonly share: number;
  /** How to mend it, in one sentence; `undefined` for a closed seam. */
  readonly mend: string | undefined;
}

/** What was found at all edges that meet. */
export interface SeamReport {
  readonly kind: "seam-report";
  readonly ok: boolean;
  /** Of the picture that was checked, in pixels. */
  readonly width: number;
  readonly height: number;
  readonly dpi: { readonly x: number; readonly y: number } | undefined;
  /** Left-right first; a border has no other. */
  readonly edges: readonly EdgeReport[];
}
