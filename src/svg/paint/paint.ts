import { type Style, styleValue } from "../css/style.js";
import { enter, type Paint, type Place, type Reading } from "../place/place.js";
import { readHref } from "../references.js";
import { readColourValue } from "../values/colour-value.js";
import { findById } from "../xml/by-id.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import { defineGradient } from "./gradient.js";
import { definePattern } from "./pattern.js";

const NONE: Paint = { kind: "none" };
const SERVER = /^url\(\s*(?:"([^"]*)"|'([^']*)'|([^"'()\s]*))\s*\)\s*/i;

/** The fill or stroke of an element, servers defined on the way. */
export function readPaint(
  property: "fill" | "stroke",
  element: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Paint {
  const value = styleValue(style, property).trim();
  const word = value.toLowerCase();
  if (word === "none") return NONE;
  if (word === "context-fill") return place.context?.fill ?? NONE;
  if (word === "context-stroke") return place.context?.stroke ?? NONE;
  const server = SERVER.exec(value);
  if (server === null) return { kind: "colour", ...readColourValue(value, property, style, element) };
  const id = readHref(server[1] ?? server[2] ?? server[3] ?? "", placeOf(element));
  const target = findById(reading.source.ids, id);
  const fallback = value.slice(server[0].length).trim();
  if (target === undefined && fallback !== "") {
    if (fallback.toLowerCase() === "none") return NONE;
    return { kind: "colour", ...readColourValue(fallback, property, style, element) };
  }
  return readServer(id, target, element, place, reading);
}

function readServer(
  id: string,
  target: SourceElement | undefined,
  element: SourceElement,
  place: Place,
  reading: Reading,
): Paint {
  switch (target?.svgName) {
    case "linearGradient":
    case "radialGradient":
      return defineGradient(target, place, reading);
    case "pattern":
      return definePattern(target, enter(id, place, element), reading);
    case undefined:
      throw refuse("E_REF", "a paint refers to what the drawing does not have", element, { value: `#${id}` });
    default:
      throw refuse("E_FEATURE", `a paint refers to <${target?.name}>`, element, {
        value: `#${id}`,
        accepted: "linearGradient, radialGradient, pattern",
      });
  }
}
