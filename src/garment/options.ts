import type { Colourway } from "../colour/types.js";
import type { Print } from "../repeat/types.js";
import type { Length } from "../units/index.js";
import type { Edge, PanelChoice, ScaleOptions } from "./types.js";

/** How a print follows the edges of a panel. Corners and guides are in user units of the sketch. */
export interface DrapeOptions {
  /**
   * Along which edge the print keeps its true scale; the other is gathered or eased in. With "both" the cloth is cut
   * wider at one end, as a flared panel is. Default: the edge that a band meets, else "bottom".
   */
  readonly hold?: "top" | "bottom" | "both";
  /**
   * How much cloth lies in one length of the drawn edge that is held: 1 for smooth cloth, 1.5 where three lengths are
   * gathered or pleated into two. 1 to 10. Default 1.
   */
  readonly fullness?: number;
  /** Top left, top right, bottom right, bottom left. Default: those that the panel says, else found. */
  readonly corners?: readonly [Spot, Spot, Spot, Spot];
  /**
   * Lines from the top edge to the bottom edge that the print follows down the cloth, such as folds: `#id` or `.class`
   * of lines in the sketch (those of other panels are left out), or path data.
   */
  readonly guides?: readonly string[];
  /** Real height of the cloth in the panel. Default: the mean of its two sides. */
  readonly height?: Length;
}

/** A point in user units of the sketch. */
export type Spot = readonly [number, number];

/** How one panel, or several of one kind, take the print. */
export interface PanelOptions {
  /** Which panels. Shapes that one choice names are dressed one by one. */
  readonly panel: PanelChoice;
  /** Another print for these panels, such as a companion all-over. */
  readonly print?: Print;
  /**
   * Colourways of that print's own, by the names of those that are given when the garment is recoloured, where its inks
   * are others. They count for all panels with that print; the first that are named do. Default: those that are given.
   */
  readonly colourways?: readonly Colourway[];
  /** A band of the border that meets the panel's edge. */
  readonly band?: string;
  /** A level of the print, measured across it from its top, that meets the edge. Give this or `band`. */
  readonly level?: Length;
  /** Which edge is met. Default "bottom"; "top" for an all-over print without a level, whichever way it is turned. */
  readonly edge?: Edge;
  /** Which side of the band meets the edge. Default: the side that points to it. */
  readonly meets?: "top" | "bottom";
  /** Cloth left between the edge and the band. Default 0. */
  readonly gap?: Length;
  /** A point of the print, along and across, that lies on a point of the sketch; instead of band, level and along. */
  readonly pin?: { readonly print: readonly [Length, Length]; readonly at: Spot };
  /** What lies on the panel's centre line, measured along the print. Default 0. */
  readonly along?: Length;
  /** The name of a motif whose centre lies on the panel's centre line; instead of `along`. */
  readonly centre?: string;
  /**
   * By how many degrees, clockwise, the print is turned on the page; or an edge to which the warp runs parallel.
   * Default 0, or the quarter turn that brings a band to a side edge.
   */
  readonly grain?: number | Edge;
  /** A panel listed before that this one matches left to right, such as the other sleeve. */
  readonly mirrors?: PanelChoice;
  /**
   * What is mirrored: the artwork too, as in a pair cut face to face, or the placement only, as on a print with one
   * way up. Default "artwork".
   */
  readonly mirrored?: "artwork" | "placement";
  /**
   * A panel listed before whose phase and level this one keeps across their seam. Where the two are drawn apart, the
   * edges that are sewn together are named.
   */
  readonly continues?: PanelChoice | { readonly panel: PanelChoice; readonly from: Edge; readonly to: Edge };
  /** Let the print follow the panel's top and bottom edges. Default false. */
  readonly drape?: boolean | DrapeOptions;
}

/** How a sketch is dressed. */
export interface DressOptions {
  readonly scale: ScaleOptions;
  /** In order: a panel that mirrors or continues another comes after it. */
  readonly panels: readonly PanelOptions[];
  /** Width of the cloth of an all-over print, across the warp; panels that need more are reported. */
  readonly clothWidth?: Length;
  /** Colours of the sketch itself (garment, trim, page) that a colourway changes along. Default: none. */
  readonly garmentInks?: readonly string[];
}
