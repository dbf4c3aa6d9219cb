import type { SheetFact } from "../../board/index.js";
import type { PanelOptions, PieceOptions, ScaleOptions } from "../../garment/index.js";
import type { JobLength } from "./job.js";

/** How panels of a garment take the print: the options of `dress`, with another print by its job file. */
export type JobPanel = Omit<PanelOptions, "print"> & {
  /** Another job file, relative to this one, whose print these panels take. Default: the print of this job. */
  readonly print?: string;
};

/** A kind of piece to cut: the options of `yardage`, with another print by its job file. */
export type JobPiece = PieceOptions & {
  /** Another job file, relative to this one, from whose print it is cut. Default: the print of this job. */
  readonly print?: string;
};

/** What is cut for a garment. */
export interface JobCut {
  readonly pieces: readonly JobPiece[];
  /** Allowance on every side of a piece. Default 10 mm. */
  readonly seam?: JobLength;
}

/** A garment that is shown in the print. */
export interface JobGarment {
  readonly name: string;
  /** The drawing, relative to the job file. */
  readonly sketch: string;
  readonly scale: ScaleOptions;
  /** In order: a panel that mirrors or continues another comes after it. */
  readonly panels: readonly JobPanel[];
  /**
   * A table of the garment's own colours (trim, lining, page), relative to the job file, with the colourways of the
   * job. Default: they stay as drawn.
   */
  readonly colourways?: string;
  /** Width of the cloth of all-over prints. */
  readonly clothWidth?: JobLength;
  /** Dots per inch of the picture, on the sketch's page. Default 300. */
  readonly dpi?: number;
  /** On the line sheet: as the studio counts its styles. */
  readonly number?: string;
  /** On the line sheet: the name of the colourway that is shown large. Default: the first. */
  readonly front?: string;
  /** On the line sheet: the pieces, from which the cloth that is needed is worked out. */
  readonly cut?: JobCut;
  /** On the line sheet: what else there is to say, in order. */
  readonly facts?: readonly SheetFact[];
}
