import { type Affine, cubicLength, cubicsOf, pathOfShape } from "../geometry/index.js";
import { type Style, styleValue } from "./css/style.js";
import { digitsAt, type Place, type Reading } from "./place/place.js";
import { readDrawingLength, wholeOf } from "./values/length.js";
import { checkNumber, readPlainNumber, writeNumber } from "./values/number.js";
import { placeOf, refuse, type SourceElement } from "./xml/source.js";

const CAPS = new Set(["butt", "round", "square"]);
const JOINS = new Set(["miter", "miter-clip", "round", "bevel"]);

/** How a stroke is drawn, as attributes; `undefined` for one without width. */
export function readStroke(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
  geometry: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> | undefined {
  const where = placeOf(shape);
  const digits = digitsAt(place, reading);
  const whole = wholeOf(place.viewport, "diagonal");
  const fixed = fixedScale(shape, style, place.map, reading.pixels);
  const length = (text: string) => readDrawingLength(text, whole, where) / fixed;
  const width = length(styleValue(style, "stroke-width"));
  if (width < 0) {
    throw refuse("E_SIZE", "stroke-width is negative", shape, { value: styleValue(style, "stroke-width") });
  }
  if (width === 0) return undefined;
  const written: Record<string, string> = {};
  const keep = (name: string, value: string, initial: string) => {
    if (value !== initial) written[name] = value;
  };
  keep("stroke-width", writeNumber(width, digits), "1");
  keep("stroke-linecap", oneOf("stroke-linecap", CAPS, style, shape), "butt");
  const join = oneOf("stroke-linejoin", JOINS, style, shape);
  keep("stroke-linejoin", join, "miter");
  if (join.startsWith("miter")) keep("stroke-miterlimit", writeNumber(readMiterLimit(style, shape), 4), "4");
  const dashes = readDashes(style, shape, length);
  if (dashes.length > 0) {
    const offset = length(styleValue(style, "stroke-dashoffset"));
    const scale = authorScale(shape, geometry);
    // Dashes of no length, or longer than any path, say nothing.
    if (scale === undefined) return written;
    const scaled = (dash: number) =>
      writeNumber(checkNumber(scale === 1 ? dash : dash * fixed * scale, undefined, where), digits);
    written["stroke-dasharray"] = dashes.map(scaled).join(" ");
    keep("stroke-dashoffset", scaled(offset), "0");
  }
  return written;
}

function oneOf(property: string, accepted: ReadonlySet<string>, style: Style, shape: SourceElement): string {
  const value = styleValue(style, property).toLowerCase();
  if (accepted.has(value)) return value;
  throw refuse("E_FEATURE", `${property} has a value that is not carried over`, shape, {
    value,
    accepted: [...accepted].join(", "),
  });
}

function readMiterLimit(style: Style, shape: SourceElement): number {
  const limit = readPlainNumber(styleValue(style, "stroke-miterlimit"), placeOf(shape));
  if (limit >= 1) return limit;
  throw refuse("E_NUMBER", "stroke-miterlimit is below 1", shape, { value: String(limit) });
}

/** Dashes and gaps; none where they would say nothing. */
function readDashes(style: Style, shape: SourceElement, length: (text: string) => number): readonly number[] {
  const text = styleValue(style, "stroke-dasharray").trim();
  if (text.toLowerCase() === "none" || text === "") return [];
  const dashes = text
    .split(/[\s,]+/)
    .filter((word) => word !== "")
    .map(length);
  if (dashes.some((dash) => dash < 0)) {
    throw refuse("E_NUMBER", "stroke-dasharray is negative", shape, { value: text });
  }
  return dashes.some((dash) => dash > 0) ? dashes : [];
}

/**
 * User units to one of the author's: `pathLength` says how long the whole path is meant to be, and dashes are measured
 * by that (SVG 2, chapter Paths). `undefined` where it says zero, which leaves the line whole.
 */
function authorScale(shape: SourceElement, geometry: Readonly<Record<string, string>>): number | undefined {
  const text = shape.attributes.get("pathLength");
  if (text === undefined) return 1;
  const meant = readPlainNumber(text, placeOf(shape));
  if (meant < 0) throw refuse("E_NUMBER", "pathLength is negative", shape, { value: text });
  if (meant === 0) return undefined;
  const runs = pathOfShape(shape.svgName, geometry)?.subpaths ?? [];
  const length = runs.flatMap(cubicsOf).reduce((sum, cubic) => sum + cubicLength(cubic), 0);
  return length === 0 ? undefined : length / meant;
}

/**
 * A stroke that does not scale is as wide as it is at the drawing's natural size: placed in a print it must scale like
 * everything else.
 */
function fixedScale(shape: SourceElement, style: Style, map: Affine | undefined, pixels: number): number {
  if (styleValue(style, "vector-effect").toLowerCase() !== "non-scaling-stroke") return 1;
  const across = map === undefined ? Number.NaN : Math.hypot(map.a, map.b);
  const down = map === undefined ? Number.NaN : Math.hypot(map.c, map.d);
  const level = map === undefined ? 0 : map.a * map.c + map.b * map.d;
  const even = Math.abs(across - down) <= 1e-6 * across && Math.abs(level) <= 1e-6 * across * down;
  if (even) return across * pixels;
  throw refuse("E_FEATURE", "a stroke that does not scale stands where the scale is uneven", shape, {
    value: "non-scaling-stroke",
  });
}
