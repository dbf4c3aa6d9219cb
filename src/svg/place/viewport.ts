import { type Affine, invert, translation } from "../../geometry/affine.js";
import { type Box, boxHolds, growBox, mapBox } from "../../geometry/box.js";
import { type Style, styleValue } from "../css/style.js";
import { paintedBox } from "../painted/box.js";
import { element, type SvgElement } from "../tree.js";
import { fitMap, readAspectRatio, readViewBox } from "../values/frame.js";
import { readDrawingLength, type Viewport } from "../values/length.js";
import { writeNumber } from "../values/number.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import { digitsAt, type Place, type Reading } from "./place.js";

/** The size that a `use` gives to what it brings in. */
export interface ViewportSize {
  readonly width?: number | undefined;
  readonly height?: number | undefined;
}

/** A viewport inside the drawing, as a map and a clip. */
export interface InnerViewport {
  readonly map: Affine;
  readonly viewport: Viewport;
  /** What is cut off, outside of the map; absent where what overflows is shown. */
  readonly clip?: Box;
}

/** Reads the viewport of a nested `svg` or a `symbol`; `undefined` for one without extent, which shows nothing. */
export function resolveViewport(
  source: SourceElement,
  style: Style,
  size: ViewportSize,
  outside: Place,
): InnerViewport | undefined {
  const length = (name: "x" | "y" | "width" | "height", initial: string): number => {
    const text = styleValue(style, name);
    const whole = name === "x" || name === "width" ? outside.viewport.width : outside.viewport.height;
    return readDrawingLength(text === "" || text === "auto" ? initial : text, whole, placeOf(source));
  };
  const box: Box = {
    x: length("x", "0"),
    y: length("y", "0"),
    width: size.width ?? length("width", "100%"),
    height: size.height ?? length("height", "100%"),
  };
  if (box.width < 0 || box.height < 0) {
    throw refuse("E_SIZE", "a viewport is negative", source, { value: `${box.width} x ${box.height}` });
  }
  if (box.width === 0 || box.height === 0) return undefined;
  const text = source.attributes.get("viewBox");
  const viewBox = text === undefined ? undefined : readViewBox(text, placeOf(source));
  const ratio = readAspectRatio(source.attributes.get("preserveAspectRatio"));
  const map = viewBox === undefined ? translation(box.x, box.y) : fitMap(viewBox, box, ratio);
  const viewport: Viewport = viewBox ?? { width: box.width, height: box.height };
  if (/^(?:visible|auto)$/i.test(styleValue(style, "overflow"))) return { map, viewport };
  return { map, viewport, clip: box };
}

/**
 * A clip to a box outside of a map, said in the units inside it, so that one group can carry both. Where it would cut
 * nothing there is none: it would only soften edges that lie on it.
 */
export function clipTo(
  box: Box,
  map: Affine,
  painted: readonly SvgElement[],
  inside: Place,
  reading: Reading,
): Readonly<Record<string, string>> {
  const back = invert(map);
  const window = back === undefined ? box : mapBox(back, box);
  if (reading.mayMeasure(painted)) {
    const found = paintedBox(painted, inside.defs.elements);
    if (found === undefined || holds(window, found)) return {};
  }
  const digits = digitsAt(inside, reading);
  const attributes = {
    ...(window.x === 0 ? {} : { x: writeNumber(window.x, digits) }),
    ...(window.y === 0 ? {} : { y: writeNumber(window.y, digits) }),
    width: writeNumber(window.width, digits),
    height: writeNumber(window.height, digits),
  };
  const id = inside.defs.define(`clip ${JSON.stringify(attributes)}`, (made) =>
    element("clipPath", { id: made }, [element("rect", attributes)]),
  );
  return id === undefined ? {} : { "clip-path": `url(#${id})` };
}

/** Whether a box lies inside of another, but for rounding. */
function holds(outer: Box, inner: Box): boolean {
  const slack = 1e-6 * Math.max(outer.width, outer.height);
  return boxHolds(growBox(outer, slack), inner);
}
