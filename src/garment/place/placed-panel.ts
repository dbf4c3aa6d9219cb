import type { Note } from "../../errors.js";
import type { Affine } from "../../geometry/affine.js";
import type { Print } from "../../repeat/types.js";
import type { PanelOptions } from "../options.js";
import type { Sketch, SketchScale, SketchShape } from "../types.js";
import type { Draped } from "./draped.js";
import type { PanelFrame } from "./panel-frame.js";

/** A print in its place on one panel. */
export interface PlacedPanel {
  readonly name: string;
  readonly shape: SketchShape;
  readonly print: Print;
  readonly options: PanelOptions;
  readonly frame: PanelFrame;
  /** From the print, in mm, to user units of the sketch, where it lies flat. */
  readonly flat: Affine | undefined;
  readonly draped: Draped | undefined;
  /** Mirrors everything afterwards, in user units of the sketch. */
  readonly mirror: Affine | undefined;
  readonly mirrored: "artwork" | "placement" | undefined;
  readonly notes: readonly Note[];
}

/** What has been placed before, by the choice that named it. */
export type Earlier = ReadonlyMap<string, readonly PlacedPanel[]>;

/** What all panels of one dress share. */
export interface Placing {
  readonly sketch: Sketch;
  readonly scale: SketchScale;
  readonly earlier: Earlier;
}
