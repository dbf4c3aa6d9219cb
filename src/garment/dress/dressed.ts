import type { Colourway } from "../../colour/types.js";
import type { Note } from "../../errors.js";
import type { Box } from "../../geometry/box.js";
import type { InkUse } from "../../motif/types.js";
import type { SvgElement } from "../../svg/tree.js";
import type { SketchScale } from "../types.js";
import type { BeyondCloth } from "./cloth-need.js";

/** What became of one panel. Lengths in real mm. */
export interface DressedPanel {
  /** The choice that named it, with a number where it named several. */
  readonly panel: string;
  readonly print: string;
  readonly how: "flat" | "draped";
  /** What was mirrored from the panel that it matches. */
  readonly mirrored: "artwork" | "placement" | undefined;
  /** The part of the print that lies in it, in mm of the print. */
  readonly takes: Box;
  /** Degrees, clockwise on the page, by which the print is turned. */
  readonly grain: number;
  /** What it needs beyond the cloth; empty when the cloth suffices. What is beyond stays bare. */
  readonly beyond: readonly BeyondCloth[];
  /** Cloth for one length of the drawn edge, where draped: 1 is true scale, more is gathered, less cannot be sewn. */
  readonly gathers: { readonly top: number; readonly bottom: number } | undefined;
  /** How far a draped path lies off its true place at most, in mm of the page. */
  readonly off: number;
}

/** What there is to say about a dressed sketch. */
export interface DressReport {
  readonly scale: SketchScale;
  /** A sentence on the scale, for a spec sheet. */
  readonly says: string;
  /** How much wider the border's cloth is than the length that was given, in mm; `undefined` for all-over prints. */
  readonly spare: number | undefined;
  readonly panels: readonly DressedPanel[];
  readonly notes: readonly Note[];
}

/** A print in a dressed sketch. */
export interface DressedPrint {
  readonly name: string;
  /** Colourways of its own, by name; `undefined` where it follows those that are given. */
  readonly colourways: readonly Colourway[] | undefined;
  /** How the ids of its panels and of what it refers to begin. */
  readonly scopes: readonly string[];
  /** Its inks in all its panels. */
  readonly inks: readonly InkUse[];
}

/** A sketch with prints in its panels. Plain data; make it with `dress`, write it with `writeDressed`. */
export interface Dressed {
  readonly kind: "dressed";
  readonly name: string;
  readonly viewBox: Box;
  /** Natural size on the page, in mm. */
  readonly width: number;
  readonly height: number;
  /** What the sketch and what the prints refer to: only the latter follow a print's inks. */
  readonly sketchDefs: readonly SvgElement[];
  readonly printDefs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  /** That of the garment first, then others in the order of their panels. */
  readonly prints: readonly DressedPrint[];
  /** Inks of the prints, most used first, then the garment's own that a colourway changes. */
  readonly inks: readonly InkUse[];
  readonly garmentInks: readonly string[];
  readonly report: DressReport;
}
