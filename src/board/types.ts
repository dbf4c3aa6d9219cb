import type { Colourway } from "../colour/index.js";
import type { Note } from "../errors.js";
import type { PixelGrid, Print, Shrinkage } from "../repeat/index.js";
import type { SeamReport } from "../seam/index.js";
import type { SvgElement } from "../svg/index.js";

/** How much of the cloth an ink covers, as it stands in a job's manifest. */
export interface SheetCoverage {
  /** `#rrggbb` as drawn, or `#00000000` for cloth without ink. */
  readonly ink: string;
  /** Of the cloth, 0 to 1. */
  readonly share: number;
  /** In one repeat as printed, in square centimetres. */
  readonly perRepeat: number;
  /** In one metre along the warp, in square centimetres. */
  readonly perRunningMetre: number;
}

/** What was found at the edges of the tile in one colourway, as it stands in a job's manifest. */
export interface SheetSeams {
  readonly colourway: string;
  readonly report: SeamReport;
}

/** What a spec sheet is about. */
export interface SpecSheetOptions {
  /** As drawn. */
  readonly print: Print;
  /** How it becomes pixels; without it, nothing is said of pixels and of the size as printed. */
  readonly grid?: PixelGrid;
  /** The scale and shrinkage that the grid was made with. Default: none. */
  readonly scale?: number;
  readonly shrinkage?: Shrinkage;
  /** The first is shown large. Default: the print as drawn. */
  readonly colourways?: readonly Colourway[];
  readonly coverage?: readonly SheetCoverage[];
  readonly seams?: readonly SheetSeams[];
  readonly notes?: readonly Note[];
}

/** A part of a page: what it paints, what that refers to, and where it ends, in mm from the page's top. */
export interface Part {
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  readonly bottom: number;
}
