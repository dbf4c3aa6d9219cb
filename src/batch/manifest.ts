import type { ManifestFile, PlannedFile } from "../emit/index.js";
import type { Note } from "../errors.js";
import type { SeamReport } from "../seam/index.js";

/** What was found at the edges of the tile in one colourway. */
export interface TileSeams {
  readonly colourway: string;
  readonly report: SeamReport;
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
  readonly notes: readonly Note[];
}

/** What a job made: written beside the files as `manifest.json`. */
export interface Manifest extends JobPlan {
  readonly files: readonly ManifestFile[];
  readonly seams: readonly TileSeams[];
}
