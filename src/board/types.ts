import type { Colourway } from "../colour/index.js";
import type { Note } from "../errors.js";
import type { Dressed } from "../garment/index.js";
import type { PixelGrid, Print, Shrinkage } from "../repeat/index.js";
import type { SeamReport } from "../seam/index.js";
import type { SvgElement } from "../svg/index.js";
import type { BoardPage } from "./page/paper.js";

/** How much of the cloth an ink covers, as it stands in a job's manifest. */
export interface SheetCoverage {
  /** `#rrggbb` as drawn, or `#00000000` for cloth without ink. */
  readonly ink: string;
  /** Of the cloth, 0 to 1. */
  readonly share: number;
  /** In one tile as printed, in square centimetres. */
  readonly perRepeat: number;
  /** In one metre along the warp, of the printed width of one tile (a border: of the cloth), in square centimetres. */
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
  /**
   * Notes on what was found by drawing. They stand behind the others, in the room that is left on the pages, for
   * which an all-over print's picture gives way; where it is too little, warnings go first and the foot says how many are
   * missing.
   */
  readonly findings?: readonly Note[];
}

/** Who shows what and when: texts as the studio gives them, each left out where it is not given. */
export interface SheetHead {
  readonly collection?: string;
  readonly season?: string;
  /** As it is to stand there: nothing here knows what day it is. */
  readonly date?: string;
  /** The studio, and how to reach it. */
  readonly from?: string;
}

/** A print on a colourway board. */
export interface BoardPrint {
  /** As drawn. */
  readonly print: Print;
  /** Colourways of its own, by the names of the board's, where its inks are others. Default: the board's. */
  readonly colourways?: readonly Colourway[];
  /** What its inks cover, as it stands in a job's manifest; without it, nothing is said of that. */
  readonly coverage?: readonly Pick<SheetCoverage, "ink" | "share">[];
}

/** A garment on a colourway board. */
export interface BoardGarment {
  /** As drawn. */
  readonly dressed: Dressed;
  /** Colourways with the inks of its trim, by the names of the board's. Default: the board's. */
  readonly colourways?: readonly Colourway[];
}

/** What a colourway board shows. */
export interface ColourwayBoardOptions {
  /** Under each other in every colourway, at one scale. */
  readonly prints: readonly BoardPrint[];
  /** Side by side. Default: the prints as drawn. */
  readonly colourways?: readonly Colourway[];
  readonly garments?: readonly BoardGarment[];
  /** Default: the name of the one print; of several the collection of the head, or their names. */
  readonly title?: string;
  readonly head?: SheetHead;
  /** Default "A3 landscape". */
  readonly page?: BoardPage;
}

/** One fact that the studio gives: sizes, a price, a delivery. */
export interface SheetFact {
  readonly name: string;
  readonly value: string;
}

/** How much cloth a style needs, as `yardage` has it. Lengths in mm. */
export interface LineCloth {
  /** The name of the print, where a style needs several cloths. */
  readonly print?: string;
  readonly length: number;
  readonly clothWidth: number;
  /** What a bolt that starts anywhere may cost besides. Default 0. */
  readonly spare?: number;
}

/** A style on a line sheet. */
export interface LineStyle {
  readonly name: string;
  /** As the studio counts its styles. */
  readonly number?: string;
  /** As drawn. */
  readonly dressed: Dressed;
  /** Colourways with the inks of its trim, by the names of the sheet's. Default: the sheet's. */
  readonly colourways?: readonly Colourway[];
  /** The name of the colourway that is shown large. Default: the first. */
  readonly front?: string;
  readonly cloth?: readonly LineCloth[];
  /** In order, below what the sheet says by itself. */
  readonly facts?: readonly SheetFact[];
}

/** What a line sheet shows. */
export interface LineSheetOptions {
  /** In order. */
  readonly styles: readonly LineStyle[];
  /** Every style is shown in all of them. Default: as drawn. */
  readonly colourways?: readonly Colourway[];
  /** The prints that styles are cut from: their repeats and widths are said of those that are given. */
  readonly prints?: readonly Print[];
  /** Default: the collection of the head, or "Line sheet". */
  readonly title?: string;
  readonly head?: SheetHead;
  /** Default "A4 portrait". */
  readonly page?: BoardPage;
  /** Styles on a page at most, 1 to 12; fewer where their facts need the room. Default 3. */
  readonly perPage?: number;
}

/** A part of a page: what it paints, what that refers to, and where it ends, in mm from the page's top. */
export interface Part {
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  readonly bottom: number;
}
