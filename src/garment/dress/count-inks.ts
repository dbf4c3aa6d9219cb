import type { InkUse } from "../../motif/types.js";
import type { SvgElement } from "../../svg/tree.js";
import { findPrint } from "./find-print.js";

/** Attributes that hold an ink. */
export const INK_ATTRIBUTES = ["fill", "stroke", "stop-color", "flood-color", "lighting-color"] as const;

/** Colours in these say how much is seen, not what is printed. */
export const SHAPERS: ReadonlySet<string> = new Set(["mask", "clipPath"]);

const HEX = /^#[0-9a-f]{6}$/;

/** The inks of a dressed sketch. */
export interface CountedInks {
  /** Of all prints, most used first, ties by ink; then those of the garment's own inks that the sketch paints with. */
  readonly all: readonly InkUse[];
  /** Of each print. */
  readonly prints: readonly (readonly InkUse[])[];
}

/**
 * Counts the inks of the prints in a dressed sketch, and of the garment's own.
 *
 * @param prints - The prints' scopes.
 */
export function countInks(
  body: readonly SvgElement[],
  sketchDefs: readonly SvgElement[],
  printDefs: readonly SvgElement[],
  garmentInks: readonly string[],
  prints: readonly { readonly scopes: readonly string[] }[],
): CountedInks {
  const all = new Map<string, number>();
  const garment = new Map<string, number>();
  const each = prints.map(() => new Map<string, number>());
  const count = (uses: Map<string, number> | undefined, ink: string) =>
    uses?.set(ink, (uses.get(ink) ?? 0) + 1);
  /** `print` is the one that paints here, -1 in the sketch. */
  const walk = (one: SvgElement, print: number): void => {
    if (SHAPERS.has(one.name)) return;
    const begins = one.attributes["data-repetend-print"];
    const here = begins === undefined ? print : findPrint(prints, `${begins}-`);
    for (const name of INK_ATTRIBUTES) {
      const ink = one.attributes[name];
      if (ink === undefined || !HEX.test(ink)) continue;
      // Where a print begins its inherited paints are only put back to nothing.
      if (begins !== undefined) continue;
      if (here >= 0) {
        count(all, ink);
        count(each[here], ink);
      } else if (garmentInks.includes(ink)) count(garment, ink);
    }
    for (const child of one.children) if (child.type === "element") walk(child, here);
  };
  for (const one of body) walk(one, -1);
  for (const one of sketchDefs) walk(one, -1);
  for (const one of printDefs) walk(one, findPrint(prints, one.attributes.id ?? ""));
  return {
    all: [...sortUses(all), ...sortUses(garment).filter(({ ink }) => !all.has(ink))],
    prints: each.map(sortUses),
  };
}

const sortUses = (uses: ReadonlyMap<string, number>): readonly InkUse[] =>
  [...uses]
    .map(([ink, count]) => ({ ink, uses: count }))
    .sort((one, other) => other.uses - one.uses || (one.ink < other.ink ? -1 : 1));
