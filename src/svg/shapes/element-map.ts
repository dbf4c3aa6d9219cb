import { type Affine, compose, IDENTITY, translation } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { type Style, styleValue } from "../css/style.js";
import { type Place, type Reading, styleInFile } from "../place/place.js";
import { readDrawingLength } from "../values/length.js";
import { parseCssTransform, parseTransform } from "../values/transform.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import { fillBox } from "./fill-box.js";

/** What percentages and origins of a transform are measured from; without it percentages are refused. */
type ReferenceBox = () => Box | undefined;

/** The map of an element into its parent: the CSS property where it is set, else the attribute, about the origin. */
export function elementMap(element: SourceElement, style: Style, place: Place, reading: Reading): Affine {
  const box = (): Box => referenceBox(element, style, place, reading);
  return saidMap(element, "transform", style, box) ?? IDENTITY;
}

/** The map of a gradient or a pattern: what the nearest of it and its templates says. */
export function serverMap(
  chain: readonly SourceElement[],
  attribute: "gradientTransform" | "patternTransform",
  reading: Reading,
): Affine {
  for (const one of chain) {
    const style = styleInFile(one, reading);
    const map = saidMap(one, attribute, style, () => serverBox(one, style));
    if (map !== undefined) return map;
  }
  return IDENTITY;
}

function saidMap(
  element: SourceElement,
  name: string,
  style: Style,
  referenceBoxOf: ReferenceBox,
): Affine | undefined {
  const where = placeOf(element);
  const attribute = element.attributes.get(name);
  const property = style.own.get("transform");
  if (property === undefined && attribute === undefined) return undefined;
  if (property?.toLowerCase() === "none") return undefined;
  const map =
    property === undefined
      ? parseTransform(attribute ?? "", where)
      : parseCssTransform(property, where, referenceBoxOf);
  // About which point something is only shifted does not matter.
  if (map.a === 1 && map.b === 0 && map.c === 0 && map.d === 1) return map;
  const origin = readOrigin(styleValue(style, "transform-origin"), referenceBoxOf(), where);
  return compose(translation(origin.x, origin.y), map, translation(-origin.x, -origin.y));
}

/** CSS Transforms 1, section 6, "transform-box": for what has no layout of its own, as everything inside a drawing. */
function referenceBox(element: SourceElement, style: Style, place: Place, reading: Reading): Box {
  const kind = styleValue(style, "transform-box").toLowerCase();
  const { width, height } = place.viewport;
  // At the origin of the units also where a viewBox begins elsewhere.
  if (kind === "view-box") return { x: 0, y: 0, width, height };
  if (kind === "fill-box" || kind === "content-box") {
    return fillBox(element, style, place, reading, elementMap) ?? EMPTY;
  }
  throw refuse("E_FEATURE", "a transform is measured from the box of a stroke", element, {
    value: kind,
    accepted: "transform-box: view-box, or fill-box",
  });
}

const EMPTY: Box = { x: 0, y: 0, width: 0, height: 0 };

/** A gradient fills nothing by itself. Of which viewport a share would be depends on who looks. */
function serverBox(server: SourceElement, style: Style): Box | undefined {
  const kind = styleValue(style, "transform-box").toLowerCase();
  if (kind === "view-box") return undefined;
  if (/^(?:fill|content)-box$/.test(kind) && server.svgName !== "pattern") return EMPTY;
  throw refuse("E_FEATURE", "the transform of a paint is measured from a box", server, {
    value: kind,
    accepted: "transform-box: view-box",
  });
}

const KEYWORDS: Readonly<Record<string, string>> = {
  left: "0%",
  top: "0%",
  center: "50%",
  right: "100%",
  bottom: "100%",
};

/** CSS Transforms 1, section 5; the third value is a depth and does not show. */
function readOrigin(text: string, box: Box | undefined, where: string): { x: number; y: number } {
  const words = text
    .trim()
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  const { x, y } = box ?? { x: 0, y: 0 };
  if (words.length === 0) return { x, y };
  const [one = "center", other = "center"] = words;
  const turned = /^(?:top|bottom)$/.test(one) || /^(?:left|right)$/.test(other);
  const [across, down] = turned ? [other, one] : [one, other];
  return {
    x: x + readDrawingLength(KEYWORDS[across] ?? across, box?.width, where),
    y: y + readDrawingLength(KEYWORDS[down] ?? down, box?.height, where),
  };
}
