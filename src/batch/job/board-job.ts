import type { BoardPage, SheetHead } from "../../board/index.js";

/** A colourway board of the print and the garments of a job. */
export interface JobBoard {
  /** Default "A3 landscape". */
  readonly page?: BoardPage;
  /** Other job files, relative to this one, whose prints stand below in the same colourways. */
  readonly prints?: readonly string[];
  /** Default: the name of the print; with others the collection of the head, or their names. */
  readonly title?: string;
}

/** A line sheet of the garments of a job. */
export interface JobLineSheet {
  /** Default "A4 portrait". */
  readonly page?: BoardPage;
  /** Styles on a page at most, 1 to 12. Default 3. */
  readonly perPage?: number;
  /** Default: the collection of the head. */
  readonly title?: string;
}

/** Who shows what and when, at the head of boards and line sheets. */
export type JobHead = SheetHead;
