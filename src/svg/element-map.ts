import { type Affine, compose, IDENTITY, translation } from "../geometry/affine.js";
import { readDrawingLength, type Viewport } from "./length.js";
import { placeOf, refuse, type SourceElement } from "./source.js";
import { type Style, styleValue } from "./style.js";
import { parseCssTransform, parseTransform } from "./transform.js";

/** The map of an element into its parent: the CSS property where it is set, else the attribute, about the origin. */
export function elementMap(element: SourceElement, style: Style, viewport: Viewport): Affine {
  const where = placeOf(element);
  const attribute = element.attributes.get("transform");
  const property = style.own.get("transform");
  const map =
    property !== undefined
      ? parseCssTransform(property, where)
      : attribute === undefined
        ? IDENTITY
        : parseTransform(attribute, where);
  if (map === IDENTITY) return map;
  if (!/^(?:view-box|border-box)$/.test(styleValue(style, "transform-box"))) {
    throw refuse("E_FEATURE", "a transform is measured from the element's own box", element, {
      value: styleValue(style, "transform-box"),
      accepted: "transform-box: view-box",
    });
  }
  const origin = readOrigin(styleValue(style, "transform-origin"), viewport, where);
  return compose(translation(origin.x, origin.y), map, translation(-origin.x, -origin.y));
}

const KEYWORDS: Readonly<Record<string, string>> = {
  left: "0%",
  top: "0%",
  center: "50%",
  right: "100%",
  bottom: "100%",
};

/** CSS Transforms 1, section 5; the third value is a depth and does not show. */
function readOrigin(text: string, viewport: Viewport, where: string): { x: number; y: number } {
  const words = text
    .trim()
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  if (words.length === 0) return { x: 0, y: 0 };
  const [one = "center", other = "center"] = words;
  const turned = /^(?:top|bottom)$/.test(one) || /^(?:left|right)$/.test(other);
  const [across, down] = turned ? [other, one] : [one, other];
  return {
    x: readDrawingLength(KEYWORDS[across] ?? across, viewport.width, where),
    y: readDrawingLength(KEYWORDS[down] ?? down, viewport.height, where),
  };
}
