import type { Shift } from "./lattice.js";
import type { FoundLayout, RepeatReading } from "./layout.js";

/** One repeat that was considered. */
export interface RepeatCandidate extends RepeatReading {
  /** How like the picture is to itself at the shifts of this repeat: 1 is equal. */
  readonly likeness: number;
  /** The share of the picture that differs from its partner one repeat on, 0 to 1. */
  readonly unexplained: number;
}

/**
 * What a picture of cloth tells about its repeat.
 */
export interface RepeatEstimate {
  readonly kind: "repeat-estimate";
  /**
   * "lattice": it repeats both ways. "border": along one axis only, see `repeats`. "stripes": nothing but stripes. "tile":
   * less than two repeats, but its own edges meet. "plain": one colour. "nothing": no repeat was found.
   */
  readonly found: "lattice" | "border" | "stripes" | "tile" | "plain" | "nothing";
  /** As `checkSeams` takes it; "none" where nothing was found. */
  readonly layout: FoundLayout;
  /** One cell of the layout in pixels, fractions kept; `undefined` along an axis where nothing repeats, or any length does. */
  readonly width: number | undefined;
  readonly height: number | undefined;
  /** The same in mm, where the resolution is known. */
  readonly mm: { readonly width: number | undefined; readonly height: number | undefined } | undefined;
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  /** 0 to 1: how sure. Below 0.5 look at the cloth yourself. */
  readonly confidence: number;
  /** The same cloth written the other way: a half-drop of 10 x 10 is a brick of 20 x 5. */
  readonly sameAs: readonly RepeatReading[];
  /** The two shortest shifts that take the cloth to itself, in pixels; one for a border, none where nothing was found. */
  readonly shifts: readonly Shift[];
  /** What was considered, most likely first; the first is the answer. */
  readonly candidates: readonly RepeatCandidate[];
  /** One sentence for a person. */
  readonly says: string;
}
