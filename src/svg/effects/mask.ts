import { type Style, styleValue } from "../css/style.js";
import { group } from "../group.js";
import { Defs } from "../place/defs.js";
import { lookUpDefinition } from "../place/lookup.js";
import { enter, type Place, placeKey, type Reading, styleInFile } from "../place/place.js";
import { readRegion } from "../place/region.js";
import { readSingleUrl } from "../references.js";
import { element } from "../tree.js";
import { elementsIn, placeOf, type SourceElement } from "../xml/source.js";
import { inLinearLight } from "./linear-mask.js";

/**
 * Defines a mask; `undefined` for an empty one, which leaves nothing of what it masks. All that a mask needs stands
 * inside of it, so that its colours, which are no inks, are told from the others by where they stand.
 */
export function defineMask(
  id: string,
  user: SourceElement,
  place: Place,
  reading: Reading,
): string | undefined {
  const source = lookUpDefinition(id, "mask", user, reading);
  const inside = enter(id, place, user);
  return place.defs.define(`mask ${id} ${placeKey(place)}`, (made) => {
    const style = styleInFile(source, reading);
    const region = readRegion(source, "maskUnits", place, reading);
    const outer = readMaskOf(source, style, inside, reading);
    if (region === undefined || outer === undefined) return undefined;
    const inBox = source.attributes.get("maskContentUnits") === "objectBoundingBox";
    const defs = new Defs(place.defs.ids);
    const content: Place = inBox
      ? { ...inside, style, defs, map: undefined, viewport: { width: 1, height: 1 } }
      : { ...inside, style, defs };
    const painted = group(reading.paint(elementsIn(source), content));
    if (painted.length === 0) return undefined;
    const linear = styleValue(style, "color-interpolation").toLowerCase() === "linearrgb";
    const alpha = styleValue(style, "mask-type").toLowerCase() === "alpha";
    const attributes = {
      id: made,
      ...region,
      ...(inBox ? { maskContentUnits: "objectBoundingBox" } : {}),
      ...(alpha ? { "mask-type": "alpha" } : {}),
      ...outer,
    };
    const all = [...defs.elements, ...painted];
    return element("mask", attributes, linear && !alpha ? inLinearLight(all, source) : all);
  });
}

/** The mask of a mask; `undefined` when it leaves nothing. */
function readMaskOf(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const id = readSingleUrl(styleValue(style, "mask"), "mask", placeOf(source));
  if (id === undefined) return {};
  const defined = defineMask(id, source, place, reading);
  return defined === undefined ? undefined : { mask: `url(#${defined})` };
}
