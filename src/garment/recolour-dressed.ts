import { aColourway } from "../colour/checks.js";
import type { Colourway } from "../colour/types.js";
import type { SvgElement, SvgNode } from "../svg/tree.js";
import { aDressed } from "./checks.js";
import { INK_ATTRIBUTES, SHAPERS } from "./count-inks.js";
import type { Dressed } from "./dressed.js";

/**
 * A dressed sketch in a colourway, from the same placement: the inks of its prints change wherever they are painted,
 * draped or not, and the colours that were named as garment inks change in the sketch. Everything else stays, also where
 * an outline happens to have the colour of an ink.
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
  const { sketchDefs, printDefs, body } = dressed;
  const merged = new Map<string, number>();
  for (const { ink, uses } of dressed.inks) {
    const to = inks[ink] ?? ink;
    merged.set(to, (merged.get(to) ?? 0) + uses);
  }
  return {
    ...dressed,
    sketchDefs: sketchDefs.map((one) => recolourElement(one, garment, garment)),
    printDefs: printDefs.map((one) => recolourElement(one, inks, inks)),
    body: body.map((one) => recolourElement(one, garment, inks)),
    inks: [...merged].map(([ink, uses]) => ({ ink, uses })),
    garmentInks: dressed.garmentInks.map((ink) => garment[ink] ?? ink),
  };
}

type Table = Readonly<Record<string, string>>;

/** `here` counts until a print begins, `inPrints` from there on. */
function recolourElement(one: SvgElement, here: Table, inPrints: Table): SvgElement {
  if (SHAPERS.has(one.name)) return one;
  const begins = one.attributes["data-repetend-print"] !== undefined;
  const attributes = begins ? one.attributes : recolourAttributes(one.attributes, here);
  const inside = begins ? inPrints : here;
  const children = one.children.map(
    (child): SvgNode => (child.type === "element" ? recolourElement(child, inside, inPrints) : child),
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
