import { compareInks } from "../colour/index.js";
import type { Colourway } from "../colour/types.js";
import type { Note } from "../errors.js";
import { inksOf } from "./inks.js";
import type { Print } from "./types.js";

/**
 * What is wrong between a print and a colourway: inks of the print without an entry, entries for inks that the print
 * lacks (with the nearest ink and its CIEDE2000 difference), and inks that come closer than 1 to each other.
 * An empty list means that nothing is.
 *
 * @throws {@link RepetendError} `E_COLOURWAY` on the first of them, with `strict`.
 * @example
 * ```ts
 * import { checkColourway, colourway, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * checkColourway(print, colourway("Dusk", {})).length; // 1: the ground has no entry
 * ```
 */
export function checkColourway(
  print: Print,
  colourway: Colourway,
  options: { readonly strict?: boolean } = {},
): readonly Note[] {
  return compareInks(
    inksOf(print).map((use) => use.ink),
    colourway,
    options,
  );
}
