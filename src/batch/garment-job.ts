import type { PanelOptions, ScaleOptions } from "../garment/index.js";
import type { JobLength } from "./job.js";

/** How panels of a garment take the print: the options of `dress`, with another print by its job file. */
export type JobPanel = Omit<PanelOptions, "print"> & {
  /** Another job file, relative to this one, whose print these panels take. Default: the print of this job. */
  readonly print?: string;
};

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
}
