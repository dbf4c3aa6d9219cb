import { aColourway } from "../../colour/checks.js";
import { pickColourway } from "../../colour/pick-colourway.js";
import type { Colourway } from "../../colour/types.js";
import type { InkUse } from "../../motif/types.js";
import type { SvgElement, SvgNode } from "../../svg/tree.js";
import { aDressed } from "../checks.js";
import { INK_ATTRIBUTES, SHAPERS } from "./count-inks.js";
import type { Dressed } from "./dressed.js";
import { findPrint } from "./find-print.js";

/**
 * A dressed sketch in a colourway, from the same placement: the inks of its prints change wherever they are painted,
 * draped or not, and the colours that were named as garment inks change in the sketch. A print with colourways of its own
 * takes the one of the same name, where it has it. Everything else stays, also where an outline happens to have the colour
 * of an ink.
 *
 * @example
 * ```ts
 * import { colourway, dress, readSketch, recolourDressed, straight, writeDressed } from "repetend";
 * const sketch = readSketch('<svg xmlns="http://www.w3.org/2000/svg" width="5cm" height="5cm" viewBox="0 0 50 50">' +
 *   '<path id="front" d="M10 10H40V40H10Z" fill="#eeeeee" stroke="#1b2a41"/></svg>');
 * const print = straight({ name: "Plain", width: 80, height: 80, ground: "#1b2a41", motifs: [] });
 * const dressed = dress(sketch, print, { scale: { of: "#front", is: "60cm" }, panels: [{ panel: "#front" }] });
 * recolourDressed(dressed, colourway("Dawn", { "#1b2a41": "#e8b4a0" })).inks[0]?.ink; // "#e8b4a0"
 * ```
 */
export function recolourDressed(dressed: Dressed, colourway: Colourway): Dressed {
  aDressed(dressed, "dressed");
  aColourway(colourway, "colourway");
  const { inks } = colourway;
  const garment = Object.fromEntries(
    Object.entries(inks).filter(([ink]) => dressed.garmentInks.includes(ink)),
  );
  const { sketchDefs, printDefs, body, prints } = dressed;
  const tables = prints.map(({ colourways }) => pickColourway(colourways, colourway).inks);
  const tableOf = (id: string): Table => tables[findPrint(prints, id)] ?? inks;
  return {
    ...dressed,
    sketchDefs: sketchDefs.map((one) => recolourElement(one, garment, tableOf)),
    printDefs: printDefs.map((one) => recolourElement(one, tableOf(one.attributes.id ?? ""), tableOf)),
    body: body.map((one) => recolourElement(one, garment, tableOf)),
    // Its own colourways are for the inks as drawn.
    prints: prints.map((one, k) => ({
      ...one,
      colourways: undefined,
      inks: mergeUses(one.inks.map(({ ink, uses }) => ({ ink: tables[k]?.[ink] ?? ink, uses }))),
    })),
    inks: recolourInks(dressed, colourway),
    garmentInks: dressed.garmentInks.map((ink) => garment[ink] ?? ink),
  };
}

/** The inks of a dressed sketch in a colourway, in the order of those as drawn: what {@link recolourDressed} lists. */
export function recolourInks({ prints, inks }: Dressed, colourway: Colourway): readonly InkUse[] {
  const tables = prints.map((one) => pickColourway(one.colourways, colourway).inks);
  return mergeUses(
    inks.flatMap(({ ink, uses }) => {
      const shown = prints.flatMap((one, k) =>
        one.inks
          .filter((own) => own.ink === ink)
          .map((own) => ({ ink: tables[k]?.[ink] ?? ink, uses: own.uses })),
      );
      return shown.length > 0 ? shown : [{ ink: colourway.inks[ink] ?? ink, uses }];
    }),
  );
}

function mergeUses(uses: readonly InkUse[]): readonly InkUse[] {
  const merged = new Map<string, number>();
  for (const { ink, uses: count } of uses) merged.set(ink, (merged.get(ink) ?? 0) + count);
  return [...merged].map(([ink, count]) => ({ ink, uses: count }));
}

type Table = Readonly<Record<string, string>>;

/** `here` counts until a print begins, its own table from there on. */
function recolourElement(one: SvgElement, here: Table, tableOf: (id: string) => Table): SvgElement {
  if (SHAPERS.has(one.name)) return one;
  const begins = one.attributes["data-repetend-print"];
  const attributes = begins === undefined ? recolourAttributes(one.attributes, here) : one.attributes;
  const inside = begins === undefined ? here : tableOf(`${begins}-`);
  const children = one.children.map(
    (child): SvgNode => (child.type === "element" ? recolourElement(child, inside, tableOf) : child),
  );
  return { ...one, attributes, children };
}

function recolourAttributes(attributes: SvgElement["attributes"], inks: Table): SvgElement["attributes"] {
  const changed = INK_ATTRIBUTES.filter((name) => {
    const ink = attributes[name];
    return ink !== undefined && Object.hasOwn(inks, ink);
  });
  if (changed.length === 0) return attributes;
  return {
    ...attributes,
    ...Object.fromEntries(changed.map((name) => [name, inks[attributes[name] ?? ""] ?? ""])),
  };
}
