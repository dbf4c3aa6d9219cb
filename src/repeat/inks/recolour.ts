import { aColourway } from "../../colour/checks.js";
import type { Colourway } from "../../colour/types.js";
import { recolourMotif } from "../../motif/index.js";
import type { Motif } from "../../motif/types.js";
import { aPrint } from "../checks.js";
import type { Placement, Print } from "../types.js";

/**
 * The print in a colourway: every fill, stroke, gradient stop, flood and ground whose ink the colourway names.
 * All inks change at once, so two inks may trade places; inks without an entry stay as drawn.
 * `checkColourway` tells what is missing, unknown or merging.
 *
 * @example
 * ```ts
 * import { colourway, recolour, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * recolour(print, colourway("Dusk", { "#f2ead8": "#1b2a41" })).ground; // "#1b2a41"
 * ```
 */
export function recolour<P extends Print>(print: P, colourway: Colourway): P;
export function recolour(print: Print, colourway: Colourway): Print {
  aPrint(print, "print");
  aColourway(colourway, "colourway");
  const { inks } = colourway;
  if (Object.keys(inks).length === 0) return print;
  const done = new Map<Motif, Motif>();
  const recoloured = (motif: Motif): Motif => {
    const known = done.get(motif) ?? recolourMotif(motif, inks);
    done.set(motif, known);
    return known;
  };
  const ink = (drawn: string | undefined) => (drawn === undefined ? undefined : (inks[drawn] ?? drawn));
  const all = (motifs: readonly Placement[]) =>
    motifs.map((one) => ({ ...one, motif: recoloured(one.motif) }));
  if (print.kind === "all-over") return { ...print, ground: ink(print.ground), motifs: all(print.motifs) };
  const bands = print.bands.map((band) => ({ ...band, ground: ink(band.ground), motifs: all(band.motifs) }));
  return { ...print, ground: ink(print.ground), bands };
}
