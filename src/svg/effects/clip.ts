import { type Affine, compose, IDENTITY } from "../../geometry/affine.js";
import { type Style, styleValue } from "../css/style.js";
import { SHAPES } from "../elements.js";
import { lookUpDefinition } from "../place/lookup.js";
import { digitsAt, enter, type Place, placeKey, type Reading, styleInFile, styleOf } from "../place/place.js";
import { lookUpUsed, useShift } from "../place/use.js";
import { readSingleUrl } from "../references.js";
import { elementMap } from "../shapes/element-map.js";
import { readGeometry } from "../shapes/geometry.js";
import { element, type SvgElement } from "../tree.js";
import { checkMap, writeMatrix } from "../values/transform.js";
import { elementsIn, placeOf, refuse, type SourceElement } from "../xml/source.js";

/** Defines a clip path as shapes with maps; `undefined` for an empty one, which leaves nothing of what it clips. */
export function defineClip(
  id: string,
  user: SourceElement,
  place: Place,
  reading: Reading,
): string | undefined {
  const source = lookUpDefinition(id, "clipPath", user, reading);
  const inside = enter(id, place, user);
  return place.defs.define(`clipPath ${id} ${placeKey(place)}`, (made) => {
    const inBox = source.attributes.get("clipPathUnits") === "objectBoundingBox";
    const style = styleInFile(source, reading);
    const content: Place = inBox
      ? { ...inside, style, map: undefined, viewport: { width: 1, height: 1 } }
      : { ...inside, style };
    const shapes = elementsIn(source).flatMap((child) => clipShape(child, IDENTITY, content, reading));
    const outer = readClipOf(source, style, inside, reading);
    if (shapes.length === 0 || outer === undefined) return undefined;
    const matrix = writeMatrix(elementMap(source, style, inside, reading), digitsAt(content, reading));
    return element(
      "clipPath",
      {
        id: made,
        ...(inBox ? { clipPathUnits: "objectBoundingBox" } : {}),
        ...(matrix === "" ? {} : { transform: matrix }),
        ...outer,
      },
      shapes,
    );
  });
}

/** The clip of a clip path or of a shape inside; `undefined` when it leaves nothing. */
function readClipOf(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const id = readSingleUrl(styleValue(style, "clip-path"), "clip-path", placeOf(source));
  if (id === undefined) return {};
  const defined = defineClip(id, source, place, reading);
  return defined === undefined ? undefined : { "clip-path": `url(#${defined})` };
}

/** One child of a clip path: a shape, or a `use` of a shape; groups have no place here (CSS Masking 1, section 5). */
function clipShape(
  child: SourceElement,
  outer: Affine,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const { svgName } = child;
  if (svgName === "text")
    throw refuse("E_TEXT", "a clip path holds text", child, { accepted: "its outlines" });
  if (!SHAPES.has(svgName) && svgName !== "use") return [];
  reading.count(child);
  const style = styleOf(child, place.style, reading);
  if (styleValue(style, "display").toLowerCase() === "none") return [];
  const map = checkMap(compose(outer, elementMap(child, style, place, reading)), placeOf(child));
  if (svgName === "use") return clipUse(child, style, map, place, reading);
  if (styleValue(style, "visibility").toLowerCase() !== "visible") return [];
  const geometry = readGeometry(child, style, place, reading);
  const clip = readClipOf(child, style, place, reading);
  if (geometry === undefined || clip === undefined) return [];
  const matrix = writeMatrix(map, digitsAt(place, reading));
  const evenOdd = styleValue(style, "clip-rule").toLowerCase() === "evenodd";
  const rule = evenOdd && /^(?:path|polyline|polygon)$/.test(svgName) ? { "clip-rule": "evenodd" } : {};
  return [
    element(svgName, { ...rule, ...(matrix === "" ? {} : { transform: matrix }), ...clip, ...geometry }),
  ];
}

function clipUse(
  use: SourceElement,
  style: Style,
  map: Affine,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const used = lookUpUsed(use, reading);
  if (used === undefined) return [];
  const { id, target } = used;
  if (!SHAPES.has(target.svgName)) return [];
  if (styleValue(style, "clip-path").toLowerCase() !== "none") {
    throw refuse("E_FEATURE", "a use inside of a clip path is clipped itself", use);
  }
  const shift = useShift(use, style, place.viewport);
  return clipShape(target, compose(map, shift), enter(id, { ...place, style }, use), reading);
}
