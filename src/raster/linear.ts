import type { Motif } from "../motif/index.js";
import { aPrint } from "../repeat/checks.js";
import type { Placement, Print } from "../repeat/index.js";
import type { SvgElement } from "../svg/index.js";

/** All placements of a print, of all its bands. */
export function placementsOf(print: Print): readonly Placement[] {
  return print.kind === "border" ? print.bands.flatMap((band) => band.motifs) : print.motifs;
}

function hasPicture(elements: readonly SvgElement[]): boolean {
  return elements.some((element) => {
    if (element.name === "mask") return false;
    return (
      element.name === "image" || hasPicture(element.children.filter((child) => child.type === "element"))
    );
  });
}

/**
 * What keeps a print from being a sum of its inks: filters, blend modes, and pictures with colours of their own. Empty
 * when nothing does: painting over with fixed opacities is linear in the colours (T. Porter, T. Duff, "Compositing
 * digital images", SIGGRAPH 1984, section 4.1: the operator "over").
 *
 * @returns one phrase a reason, with the motif's name.
 *
 * @example
 * ```ts
 * import { straight } from "repetend";
 * import { whyNotLinear } from "repetend/raster";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#1b2a41", motifs: [] });
 * whyNotLinear(print); // []
 * ```
 */
export function whyNotLinear(print: Print): readonly string[] {
  aPrint(print, "print");
  const motifs = new Set<Motif>(placementsOf(print).map((one) => one.motif));
  return [...motifs].flatMap((motif) => [
    ...motif.effects.map((effect) =>
      effect === "filter"
        ? `motif "${motif.name}" has a filter`
        : `motif "${motif.name}" blends by ${effect}`,
    ),
    ...(hasPicture(motif.body) || hasPicture(motif.defs) ? [`motif "${motif.name}" holds a picture`] : []),
  ]);
}

const OPACITIES = ["opacity", "fill-opacity", "stroke-opacity", "stop-opacity"];

function isTranslucent(elements: readonly SvgElement[]): boolean {
  return elements.some(
    ({ name, attributes, children }) =>
      name === "mask" ||
      OPACITIES.some((opacity) => Number(attributes[opacity] ?? 1) < 1) ||
      isTranslucent(children.filter((child) => child.type === "element")),
  );
}

/**
 * Whether a print lays inks over each other that shine through: opacities and masks. It is a sum of its inks all the
 * same, but renderers round every such layer to whole levels, each rendering its own way, so that planes and a rendering
 * may come to lie 2 to 4 levels apart in up to a hundredth of the samples.
 */
export function hasTranslucency(print: Print): boolean {
  aPrint(print, "print");
  const motifs = new Set<Motif>(placementsOf(print).map((one) => one.motif));
  return [...motifs].some((motif) => isTranslucent(motif.body) || isTranslucent(motif.defs));
}
