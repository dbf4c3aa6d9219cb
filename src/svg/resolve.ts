import { type Affine, compose } from "../geometry/affine.js";
import { type Style, styleValue } from "./css/style.js";
import { readEffects } from "./effects/effects.js";
import { GRAPHICS, SHAPES } from "./elements.js";
import { group } from "./group.js";
import { resolveImage } from "./image.js";
import { DRAWING_LIMITS } from "./limits.js";
import { isChosen, shownChildren } from "./place/chosen.js";
import { digitsAt, enter, moveInto, namesOf, type Place, type Reading, styleOf } from "./place/place.js";
import { lookUpUsed, useShift } from "./place/use.js";
import { clipTo, resolveViewport, type ViewportSize } from "./place/viewport.js";
import { resolveShape } from "./shape.js";
import { elementMap } from "./shapes/element-map.js";
import type { SvgElement } from "./tree.js";
import { boxLength } from "./values/box-length.js";
import { writeMatrix } from "./values/transform.js";
import { elementsIn, refuse, type SourceElement, textIn } from "./xml/source.js";

/** Reads what elements paint, in paint order, with nothing left to look up. */
export function resolveElements(
  elements: readonly SourceElement[],
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  return elements.flatMap((element) => resolveElement(element, place, reading));
}

function resolveElement(source: SourceElement, outside: Place, reading: Reading): readonly SvgElement[] {
  const name = source.svgName;
  if (!GRAPHICS.has(name) || name === "symbol" || !isChosen(source)) return [];
  reading.count(source);
  if (outside.depth >= DRAWING_LIMITS.depth) throw tooDeep(source);
  const place: Place = { ...outside, depth: outside.depth + 1 };
  const style = styleOf(source, place.style, reading);
  if (styleValue(style, "display").toLowerCase() === "none") return [];
  if (SHAPES.has(name)) return resolveShape(source, style, place, reading);
  switch (name) {
    case "text":
      return refuseText(source, style);
    case "image":
      return resolveImage(source, style, place, reading);
    case "use":
      return resolveUse(source, style, place, reading);
    case "svg":
      return resolveNested(source, style, place, reading);
    default:
      return resolveGroup(source, style, place, reading);
  }
}

/** Only references that `var()` or inheritance hide from the walk over the file come to this. */
function tooDeep(source: SourceElement): Error {
  return refuse("E_DEPTH", "elements and references nest too deeply", source, {
    accepted: `at most ${DRAWING_LIMITS.depth} inside each other`,
  });
}

function refuseText(source: SourceElement, style: Style): readonly SvgElement[] {
  const hidden =
    styleValue(style, "visibility").toLowerCase() !== "visible" && elementsIn(source).length === 0;
  if (hidden || textIn(source).trim() === "") return [];
  throw refuse("E_TEXT", "text depends on the fonts of whoever draws it", source, {
    value: textIn(source).trim(),
    accepted: "the text's outlines as paths",
  });
}

function resolveGroup(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const map = elementMap(source, style, place, reading);
  const inside = within(place, map, style, source);
  const effects = readEffects(source, style, inside, reading);
  if (effects === undefined) return [];
  const painted = resolveElements(shownChildren(source), inside, reading);
  const names = namesOf(source, reading);
  return group(painted, { transform: writeMatrix(map, digitsAt(place, reading)), ...effects, ...names });
}

const within = (place: Place, map: Affine, style: Style, source: SourceElement): Place => ({
  ...moveInto(map, place, source),
  style,
});

function resolveUse(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const used = lookUpUsed(source, reading);
  if (used === undefined) return [];
  const { id, target } = used;
  if (!GRAPHICS.has(target.svgName)) return [];
  const map = elementMap(source, style, place, reading);
  const shift = useShift(source, style, place.viewport);
  const inside = within(place, map, style, source);
  const effects = readEffects(source, style, inside, reading);
  if (effects === undefined) return [];
  const whole = compose(map, shift);
  const moved = enter(id, within(place, whole, style, source), source);
  const length = (name: "width" | "height") => boxLength(source, style, place.viewport, name);
  const size: ViewportSize = { width: length("width"), height: length("height") };
  const painted = resolveTarget(target, size, moved, reading);
  const digits = digitsAt(place, reading);
  // A clip or mask of the use is measured before its shift.
  const apart = effects["clip-path"] ?? effects.mask ?? effects.filter;
  const said = { ...effects, ...namesOf(source, reading) };
  if (apart === undefined) return group(painted, { transform: writeMatrix(whole, digits), ...said });
  const inner = group(painted, { transform: writeMatrix(shift, digitsAt(inside, reading)) });
  return group(inner, { transform: writeMatrix(map, digits), ...said });
}

function resolveTarget(
  target: SourceElement,
  size: ViewportSize,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  if (target.svgName !== "symbol" && target.svgName !== "svg") return resolveElement(target, place, reading);
  reading.count(target);
  const style = styleOf(target, place.style, reading);
  if (styleValue(style, "display").toLowerCase() === "none") return [];
  return resolveNested(target, style, place, reading, size);
}

/** A nested `svg`, or the `svg` or `symbol` that a `use` brings in with a size of its own. */
function resolveNested(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
  size: ViewportSize = {},
): readonly SvgElement[] {
  const map = elementMap(source, style, place, reading);
  const outside = within(place, map, style, source);
  const effects = readEffects(source, style, outside, reading);
  const frame = resolveViewport(source, style, size, outside);
  if (effects === undefined || frame === undefined) return [];
  const inside: Place = { ...within(outside, frame.map, style, source), viewport: frame.viewport };
  const painted = resolveElements(elementsIn(source), inside, reading);
  const clipped = frame.clip === undefined ? {} : clipTo(frame.clip, frame.map, painted, inside, reading);
  const inner = group(painted, { transform: writeMatrix(frame.map, digitsAt(outside, reading)), ...clipped });
  const transform = writeMatrix(map, digitsAt(place, reading));
  return group(inner, { transform, ...effects, ...namesOf(source, reading) });
}
