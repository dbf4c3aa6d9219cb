import type { Note } from "../errors.js";
import type { Affine, Point } from "../geometry/affine.js";
import type { Box } from "../geometry/box.js";
import type { CubicPath } from "../geometry/cubic-path.js";
import type { SvgElement } from "../svg/tree.js";
import type { Length } from "../units/index.js";

/** One painted shape of a sketch. */
export interface SketchShape {
  /** Where it stands in the sketch's body: child by child, from 0. */
  readonly address: readonly number[];
  /** Its own id and those of the groups around it, innermost first. */
  readonly ids: readonly string[];
  /** Its own classes and those of the groups around it. */
  readonly classes: readonly string[];
  /** `#rrggbb`, `url(#…)` or `none`. */
  readonly fill: string;
  /** Whether it is filled by the even-odd rule. */
  readonly evenOdd: boolean;
  /** Whether it lies over what is below it as shading does: it, or a group around it, blends. */
  readonly blends: boolean;
  /** From its own user units to the sketch's. */
  readonly map: Affine;
  /** In user units of the sketch. */
  readonly outline: CubicPath;
  /** Whether it is an open line, without area. */
  readonly line: boolean;
  /** Its `data-repetend-corners`: top left, top right, bottom right, bottom left, in user units of the sketch. */
  readonly corners: readonly [Point, Point, Point, Point] | undefined;
  /** Its `data-repetend-panel`: the id of the panel that a guide belongs to. */
  readonly panel: string | undefined;
}

/** A garment sketch, ready to be dressed. Plain data; make it with `readSketch`. */
export interface Sketch {
  readonly kind: "sketch";
  readonly name: string;
  /** What is shown, in user units. */
  readonly viewBox: Box;
  /** Natural size on the page, in mm. */
  readonly width: number;
  readonly height: number;
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  readonly shapes: readonly SketchShape[];
  /** What was dropped on reading. */
  readonly removed: readonly Note[];
}

/** Which shapes of a sketch: `#id` or `.class` of a shape or of a group around it, or all of one fill colour. */
export type PanelChoice = string | { readonly fill: string };

/** The four sides of a panel, as the print lies on it. */
export type Edge = "top" | "right" | "bottom" | "left";

/**
 * What says how large the garment is: a real length, and what spans it in the sketch. A line counts by its length, any
 * other shape by its height, or its width with `across: "width"`.
 */
export type ScaleOptions =
  | { readonly of: PanelChoice; readonly is: Length; readonly across?: "height" | "width" }
  | {
      /** Two points in user units of the sketch, such as the high point of the shoulder and the hem. */
      readonly from: readonly [number, number];
      readonly to: readonly [number, number];
      readonly is: Length;
    };

/** How large a sketch is drawn. */
export interface SketchScale {
  /** Real mm a user unit of the sketch. */
  readonly perUnit: number;
  /** Real mm a mm of the page: the sketch is drawn 1 to this. */
  readonly ratio: number;
  /** The real length that was given, in mm. */
  readonly span: number;
}
