import type { ManifestFile, PlannedFile } from "../emit/index.js";
import type { Note } from "../errors.js";
import type { SeamReport } from "../seam/index.js";
import type { GarmentReport } from "./garments/garment-report.js";

/** What was found at the edges of the tile in one colourway. */
export interface TileSeams {
  readonly colourway: string;
  readonly report: SeamReport;
}

/** How much of the cloth an ink covers. */
export interface PrintCoverage {
  /** `#rrggbb` as drawn, or `#00000000` for cloth without ink. */
  readonly ink: string;
  /** Of the cloth, 0 to 1. */
  readonly share: number;
  /** In one tile as printed, in square centimetres. */
  readonly perRepeat: number;
  /** In one metre along the warp, of the printed width of one tile (a border: of the cloth), in square centimetres. */
  readonly perRunningMetre: number;
}

/** What a job is about, and the files that it makes. */
export interface JobPlan {
  /** The print's name. */
  readonly print: string;
  /** In the trade's words, for example "border" or "half-drop". */
  readonly layout: string;
  /** Along which axes the tile repeats. */
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  readonly files: readonly (PlannedFile & {
    /** Of the pixels without compression; not for SVG. */
    readonly uncompressed?: number;
  })[];
  /** How the print lies on each garment; left out when the job has none. */
  readonly garments?: readonly GarmentReport[];
  readonly notes: readonly Note[];
}

/** What a job made: written beside the files as `manifest.json`. */
export interface Manifest extends JobPlan {
  /** Of the versions, the inputs and the plan: where it is the same, nothing has to be made again. */
  readonly key: string;
  /** By path, the same of each file, and what was to be said of how it was made. */
  readonly madeFrom: Readonly<Record<string, { readonly key: string; readonly notes: readonly Note[] }>>;
  readonly files: readonly ManifestFile[];
  readonly seams: readonly TileSeams[];
  /** Of each ink, most used first; empty for a print with filters, blend modes or pictures. */
  readonly coverage: readonly PrintCoverage[];
}
