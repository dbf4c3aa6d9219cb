import type { InkUse } from "../../motif/types.js";
import { aPrint } from "../checks.js";
import type { Placement, Print } from "../types.js";

/**
 * The inks of a print, most used first. One use is a fill, stroke, gradient stop or flood of one placed motif, or a
 * ground, in one repeat; equal counts go by ink.
 *
 * @example
 * ```ts
 * import { inksOf, straight } from "repetend";
 * inksOf(straight({ name: "Plain", width: 100, height: 100, ground: "#F2EAD8", motifs: [] }));
 * // [{ ink: "#f2ead8", uses: 1 }]
 * ```
 */
export function inksOf(print: Print): readonly InkUse[] {
  aPrint(print, "print");
  const uses = new Map<string, number>();
  const count = (ink: string | undefined, times: number) => {
    if (ink !== undefined) uses.set(ink, (uses.get(ink) ?? 0) + times);
  };
  const countMotifs = (motifs: readonly Placement[], times: number) => {
    for (const { motif } of motifs) for (const use of motif.inks) count(use.ink, use.uses * times);
  };
  count(print.ground, 1);
  if (print.kind === "all-over") countMotifs(print.motifs, 1);
  else {
    for (const band of print.bands) {
      count(band.ground, 1);
      countMotifs(band.motifs, band.count);
    }
  }
  return [...uses]
    .map(([ink, times]) => ({ ink, uses: times }))
    .sort((one, other) => other.uses - one.uses || (one.ink < other.ink ? -1 : 1));
}
