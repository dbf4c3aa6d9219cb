import type { Note } from "../errors.js";
import type { Box } from "../geometry/box.js";
import type { PaintedBoxes } from "../svg/index.js";
import type { SvgElement } from "../svg/tree.js";

/** How often an ink is used: one use is one fill, stroke, gradient stop or flood. */
export interface InkUse {
  /** `#rrggbb`, lower case. */
  readonly ink: string;
  readonly uses: number;
}

/** A checked drawing, ready to be placed in a print. Plain data; make it with `motif`. */
export interface Motif {
  readonly kind: "motif";
  readonly name: string;
  /** The prefix of every id inside: the same for the same name and drawing, different otherwise. */
  readonly scope: string;
  /** The drawing's own frame, in its user units; its centre goes where `place` says. */
  readonly viewBox: Box;
  /** Natural size in mm. */
  readonly width: number;
  readonly height: number;
  /** A box that holds everything it paints (strokes, markers and filter regions too), in user units. */
  readonly reach: Box;
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  /**
   * Around what each element of the body paints, in user units: see `PaintedBoxes`. Whoever changes the body by hand puts
   * an empty list here: renderers are not given what lies beyond its box.
   */
  readonly boxes: PaintedBoxes;
  /** Its inks, most used first, ties by ink. */
  readonly inks: readonly InkUse[];
  /** What keeps its paint from being linear in its inks: `filter`, or a blend mode. */
  readonly effects: readonly string[];
  /** What was dropped on reading, and what the frame cuts off. */
  readonly removed: readonly Note[];
}
