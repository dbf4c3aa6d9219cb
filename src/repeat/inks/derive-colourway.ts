import { aText, partsOf } from "../../checks.js";
import { aColourway, aVision, DERIVE_PARTS } from "../../colour/checks.js";
import {
  type Colourway,
  colourway,
  type DeriveOptions,
  deriveInks,
  simulateVision,
  type Vision,
} from "../../colour/index.js";
import type { Note } from "../../errors.js";
import { aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { inksOf } from "./inks.js";

/** How a colourway is derived from the inks of a print. */
export interface DeriveColourwayOptions extends DeriveOptions {
  /** What it is called. */
  readonly name: string;
}

/** The answer of {@link deriveColourway}. */
export interface DerivedColourway {
  readonly colourway: Colourway;
  /** `N_OUT_OF_GAMUT` for each ink whose colour had to be mapped into sRGB. */
  readonly notes: readonly Note[];
}

/**
 * Derives a colourway from the inks of a print as drawn: hues turned, lightness and chroma changed in OKLCH, inks kept
 * as they are, and the others harmonised with those that are given.
 *
 * @param options `turnHue` in degrees, `lighten` -1 to 1, `chroma` 0 to 4, `keep` inks, `anchors` from ink to ink.
 * @throws {@link RepetendError} `E_NUMBER` for a number out of range; `E_INK` for an ink to keep or an anchor that the
 * print lacks; `E_COLOUR` for one that cannot be read; `E_COLOURWAY` for the name.
 * @example
 * ```ts
 * import { deriveColourway, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#6b7f2a", motifs: [] });
 * const { colourway } = deriveColourway(print, { name: "Low Tide", anchors: { "#6b7f2a": "#2a5f7f" } });
 * colourway.inks; // { "#6b7f2a": "#2a5f7f" }
 * ```
 */
export function deriveColourway(print: Print, options: DeriveColourwayOptions): DerivedColourway {
  aPrint(print, "print");
  partsOf<DeriveColourwayOptions>({ ...DERIVE_PARTS, name: aText })(options, "options");
  const { name, ...how } = options;
  const { inks, notes } = deriveInks(
    inksOf(print).map(({ ink }) => ink),
    how,
  );
  return { colourway: colourway(name, inks), notes };
}

/**
 * A print's colourway as someone sees it who lacks one kind of cones: rendered, it shows what stays apart for everybody.
 *
 * @param drawn the colourway that is looked at; inks that it does not name are seen as drawn.
 * @throws {@link RepetendError} `E_COLOUR` when an ink is no opaque colour.
 * @example
 * ```ts
 * import { colourway, seeColourway, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#ffffff", motifs: [] });
 * seeColourway(print, colourway("Day", {}), "deutan").inks; // { "#ffffff": "#ffffff" }
 * ```
 */
export function seeColourway(print: Print, drawn: Colourway, vision: Vision): Colourway {
  aPrint(print, "print");
  aColourway(drawn, "drawn");
  aVision(vision, "vision");
  const seen = inksOf(print).map(({ ink }): [string, string] => [
    ink,
    simulateVision(drawn.inks[ink] ?? ink, vision),
  ]);
  return colourway(`${drawn.name}, ${vision}`, Object.fromEntries(seen));
}
