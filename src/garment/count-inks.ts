import type { InkUse } from "../motif/types.js";
import type { SvgElement } from "../svg/tree.js";

/** Attributes that hold an ink. */
export const INK_ATTRIBUTES = ["fill", "stroke", "stop-color", "flood-color", "lighting-color"] as const;

/** Colours in these say how much is seen, not what is printed. */
export const SHAPERS: ReadonlySet<string> = new Set(["mask", "clipPath"]);

const HEX = /^#[0-9a-f]{6}$/;

/**
 * The inks of the prints in a dressed sketch, most used first, ties by ink; then those of the garment's own inks that
 * the sketch paints with.
 */
export function countInks(
  body: readonly SvgElement[],
  sketchDefs: readonly SvgElement[],
  printDefs: readonly SvgElement[],
  garmentInks: readonly string[],
): readonly InkUse[] {
  const prints = new Map<string, number>();
  const garment = new Map<string, number>();
  const walk = (one: SvgElement, inPrint: boolean): void => {
    if (SHAPERS.has(one.name)) return;
    const here = inPrint || one.attributes["data-repetend-print"] !== undefined;
    for (const name of INK_ATTRIBUTES) {
      const ink = one.attributes[name];
      if (ink === undefined || !HEX.test(ink)) continue;
      // Where a print begins its inherited paints are only put back to nothing.
      if (one.attributes["data-repetend-print"] !== undefined) continue;
      if (here) prints.set(ink, (prints.get(ink) ?? 0) + 1);
      else if (garmentInks.includes(ink)) garment.set(ink, (garment.get(ink) ?? 0) + 1);
    }
    for (const child of one.children) if (child.type === "element") walk(child, here);
  };
  for (const one of body) walk(one, false);
  for (const one of sketchDefs) walk(one, false);
  for (const one of printDefs) walk(one, true);
  const sorted = (uses: ReadonlyMap<string, number>): readonly InkUse[] =>
    [...uses]
      .map(([ink, count]) => ({ ink, uses: count }))
      .sort((one, other) => other.uses - one.uses || (one.ink < other.ink ? -1 : 1));
  return [...sorted(prints), ...sorted(garment).filter(({ ink }) => !prints.has(ink))];
}
