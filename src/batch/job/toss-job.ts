import type { TossTurn } from "../../repeat/index.js";
import type { JobLength } from "./job.js";

/** A motif to toss. */
export interface JobTossMotif {
  /** The drawing, relative to the job file. */
  readonly file: string;
  /** Width of the drawing's frame, or the smallest and the largest one. Default: its natural width. */
  readonly width?: JobLength | readonly [JobLength, JobLength];
  /** How many there are for one of another motif's. Default 1. */
  readonly share?: number;
  /** Fills the holes that are left. Default false. */
  readonly filler?: boolean;
  /** Which turns it may take, degrees clockwise. Default "any". */
  readonly turn?: TossTurn;
  /** Half of them are mirrored. Default false. */
  readonly flip?: boolean;
}

/** Motifs that are tossed into a print's cell. */
export interface JobToss {
  readonly motifs: readonly JobTossMotif[];
  /** The least distance between any two outlines. */
  readonly gap: JobLength;
  /** Another seed, another toss. Default 1. */
  readonly seed?: number;
  /** How many motifs, fillers not counted. Default: as many as fit. */
  readonly count?: number;
  /** Whether they keep clear of the motifs that are placed by hand, and of what other bands draw there. Default true. */
  readonly clear?: boolean;
}

/** Motifs that are tossed into a band. */
export interface JobBandToss extends JobToss {
  /** Whether they stay inside of the band's limits, or may lean out. Default "inside". */
  readonly across?: "inside" | "free";
}
