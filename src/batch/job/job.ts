import type { JobBoard, JobHead, JobLineSheet } from "./board-job.js";
import type { JobGarment } from "./garment-job.js";
import type { JobBandToss, JobToss } from "./toss-job.js";

/** A length in a job: a number of mm, or a number with its unit, for example `"32cm"`. */
export type JobLength = number | string;

/** A motif in its place. */
export interface JobMotif {
  /** The drawing, relative to the job file. */
  readonly file: string;
  /** Where the centre of the drawing's frame goes; in a band, from x = 0 and from the band's upper limit. */
  readonly at: readonly [JobLength, JobLength];
  /** Placed width of the drawing's frame. Default: its natural width. */
  readonly width?: JobLength;
  /** Degrees, clockwise. Default 0. */
  readonly turn?: number;
  /** Mirrored before it is turned. Default: not. */
  readonly flip?: "x" | "y" | "xy";
}

/** A band of a border. */
export interface JobBand {
  readonly name: string;
  readonly from: JobLength;
  readonly to: JobLength;
  /** The selvedge from which `from` and `to` are measured. Default "top". */
  readonly edge?: "top" | "bottom";
  /** Default: the border's repeat. */
  readonly period?: JobLength;
  /** Default "scale". */
  readonly fit?: "scale" | "space";
  readonly ground?: string;
  readonly motifs?: readonly JobMotif[];
  /** Fills the band. Default: nothing. */
  readonly toss?: JobBandToss;
  /** Default false. */
  readonly clip?: boolean;
}

/** A border print. */
export interface JobBorder {
  readonly name: string;
  readonly layout: "border";
  readonly repeat: JobLength;
  readonly width: JobLength;
  readonly ground?: string;
  readonly bands: readonly JobBand[];
  /** Which axis of the artwork runs along the warp. Default "x". */
  readonly grain?: "x" | "y";
}

/** What all-over prints share. */
export interface JobCell {
  readonly name: string;
  /** Of one cell. */
  readonly width: JobLength;
  readonly height: JobLength;
  readonly ground?: string;
  readonly motifs: readonly JobMotif[];
  /** Fills the cell. Default: nothing. */
  readonly toss?: JobToss;
  /** Which axis of the artwork runs along the warp. Default "y". */
  readonly grain?: "x" | "y";
}

/** A print of a job. */
export type JobPrint =
  | JobBorder
  | (JobCell & { readonly layout: "straight" | "half-drop" | "brick" })
  | (JobCell & { readonly layout: "stepped"; readonly along: "column" | "row"; readonly step: string })
  | (JobCell & { readonly layout: "satin"; readonly ends: number; readonly move: number });

/** What the separations are like; `{}` for plain ones. */
export interface JobSeparations {
  /** How far lighter inks run on under darker ones. Default 0. */
  readonly trap?: JobLength;
  /** Turns tones into dots, one bit a pixel. Default: none. */
  readonly screen?: "ordered" | "blue-noise";
  /** Adds the union of the light inks, for dark cloth. Default: none. */
  readonly underBase?: {
    /** Default: all that are lighter than the ground. */
    readonly inks?: readonly string[];
    /** How far it is drawn back from its edges. Default 0. */
    readonly choke?: JobLength;
  };
  /** What full ink is in the files. Default "high". */
  readonly full?: "high" | "black";
  /** Default "png". */
  readonly format?: "png" | "tiff";
}

/** A window of the cloth. */
export interface JobWindow {
  /** Default 0. */
  readonly x?: JobLength;
  /** Default 0. */
  readonly y?: JobLength;
  readonly width: JobLength;
  readonly height: JobLength;
}

/** What is written. */
export interface JobEmit {
  /** Dots per inch. Default 300. */
  readonly dpi?: number | { readonly x: number; readonly y: number };
  /** Default 1. */
  readonly scale?: number;
  /** Default "0%" each. */
  readonly shrinkage?: { readonly warp?: string; readonly weft?: string };
  /** Default SVG and PNG. */
  readonly formats?: readonly ("svg" | "png" | "tiff")[];
  /** Of TIFFs. Default "deflate". */
  readonly compression?: "deflate" | "lzw" | "none";
  /** Of TIFFs. Default "rgb". */
  readonly space?: "rgb" | "cmyk" | "lab";
  /** An ICC profile, relative to the job file: of CMYK to convert by, of RGB to embed. */
  readonly profile?: string;
  /** Adds cloth of at least this length along the warp, in whole repeats. */
  readonly length?: JobLength;
  /** Adds a strike-off: this window of the cloth as printed. */
  readonly crop?: JobWindow;
  /** Default "soft". */
  readonly edges?: "soft" | "hard";
  /** One grey picture an ink. Default: none. */
  readonly separations?: JobSeparations;
  /** Whether a spec sheet is drawn. Default false. */
  readonly sheet?: boolean;
  /** Whether a colourway board is drawn. Default false. */
  readonly board?: boolean | JobBoard;
  /** Whether a line sheet of the garments is drawn. Default false. */
  readonly lineSheet?: boolean | JobLineSheet;
}

/** A job as it stands in its file. */
export interface Job {
  readonly $schema?: string;
  readonly print: JobPrint;
  /** A table of colourways, relative to the job file. Default: the inks as drawn. */
  readonly colourways?: string;
  /** Garments that are shown in the print, in every colourway. */
  readonly garments?: readonly JobGarment[];
  /** At the head of boards and line sheets. */
  readonly head?: JobHead;
  readonly emit?: JobEmit;
}
