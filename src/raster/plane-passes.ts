import type { Box } from "../geometry/box.js";
import { growBox } from "../geometry/box.js";
import type { Motif } from "../motif/index.js";
import { inksOf, layersInWindow, type Placement, type Print } from "../repeat/index.js";
import { OVERSCAN } from "./band-plan.js";

/** Inks that are painted pure red, green and blue in one rendering. */
export type InkGroup = readonly string[];

/** The renderings that a band takes. */
export interface PlanePasses {
  readonly groups: readonly InkGroup[];
  /** The ink that is not rendered but has what the others leave. */
  readonly derived: string | undefined;
}

/** A print of which only what a band shows is left, and the inks in it. */
export interface BandPrint {
  readonly print: Print;
  /** In the print's order. */
  readonly inks: readonly string[];
}

/** Leaves out the motifs that do not reach into windows of a print on its pixel grid, so that they are not recoloured. */
export function narrowPrint(onGrid: Print, windows: readonly Box[]): BandPrint {
  const layers = windows.flatMap((window) => layersInWindow(onGrid, growBox(window, OVERSCAN), window));
  const motifs = new Set<Motif>();
  const inks = new Set<string>();
  for (const layer of layers) {
    if (layer.kind === "ground") inks.add(layer.ink);
    else for (const { motif } of layer.copies) motifs.add(motif);
  }
  for (const motif of motifs) for (const { ink } of motif.inks) inks.add(ink);
  const keep = (placements: readonly Placement[]) => placements.filter((one) => motifs.has(one.motif));
  const print: Print =
    onGrid.kind === "border"
      ? { ...onGrid, bands: onGrid.bands.map((one) => ({ ...one, motifs: keep(one.motifs) })) }
      : { ...onGrid, motifs: keep(onGrid.motifs) };
  return { print, inks: inksOf(onGrid).flatMap(({ ink }) => (inks.has(ink) ? [ink] : [])) };
}

/**
 * Groups inks by three. Where that saves a rendering, one ink is left out, and has what the others leave.
 *
 * @param spare the ink that may be left out: the ground, which lies below all others.
 */
export function planPasses(inks: readonly string[], spare: string): PlanePasses {
  const derived = inks.length % 3 === 1 ? spare : undefined;
  const rendered = inks.filter((ink) => ink !== derived);
  const groups = Array.from({ length: Math.ceil(rendered.length / 3) }, (_, at) =>
    rendered.slice(3 * at, 3 * at + 3),
  );
  return { groups, derived };
}

/** How many renderings the planes of a print take at most. */
export function countPasses(print: Print): number {
  const inks = inksOf(print).length + (print.ground === undefined ? 1 : 0);
  return Math.ceil((inks % 3 === 1 ? inks - 1 : inks) / 3);
}
