import type { Note } from "../errors.js";
import type { Box } from "../geometry/box.js";
import type { SvgElement } from "./tree.js";

/**
 * A drawing after strict reading: nothing in it is left to a renderer's opinion.
 *
 * - Style sheets, `style=` and classes are resolved to presentation attributes; `var()`, `inherit` and
 *   `currentColor` are gone.
 * - Colours are `#rrggbb` in lower case, their alpha moved to the matching opacity attribute; paints are such a
 *   colour, `none`, or `url(#id)` to an element of `defs`.
 * - `use`, `symbol`, `switch` and nested `svg` are resolved to groups with matrices and clips.
 * - Lengths are plain numbers in user units; ids are few, unique and carry the scope's prefix.
 */
export interface Drawing {
  /** The prefix of every id inside. */
  readonly scope: string;
  /** The part of the drawing that is shown, in its user units. */
  readonly viewBox: Box;
  /** Natural size in mm. */
  readonly width: number;
  readonly height: number;
  /** Gradients, clip paths, masks, patterns, filters and markers that the body refers to. */
  readonly defs: readonly SvgElement[];
  /** What is painted, in paint order, in user units of the viewBox. */
  readonly body: readonly SvgElement[];
  /** What was dropped on reading. */
  readonly removed: readonly Note[];
}
