import { type Style, styleValue } from "../css/style.js";
import { digitsAt, type Place, type Reading } from "../place/place.js";
import { type PercentOf, readDrawingLength, wholeOf } from "../values/length.js";
import { writeNumber } from "../values/number.js";
import { rewritePathData, rewritePoints } from "../values/path-data.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";

/** Lengths of each shape: name, what a percentage is of, and whether it is a size. */
const LENGTHS: Readonly<Record<string, readonly (readonly [string, PercentOf, "place" | "size"])[]>> = {
  rect: [
    ["x", "width", "place"],
    ["y", "height", "place"],
    ["width", "width", "size"],
    ["height", "height", "size"],
  ],
  circle: [
    ["cx", "width", "place"],
    ["cy", "height", "place"],
    ["r", "diagonal", "size"],
  ],
  ellipse: [
    ["cx", "width", "place"],
    ["cy", "height", "place"],
  ],
  line: [
    ["x1", "width", "place"],
    ["y1", "height", "place"],
    ["x2", "width", "place"],
    ["y2", "height", "place"],
  ],
};

/**
 * The geometry of a shape as attributes of plain numbers in user units; `undefined` for one that has no extent and so
 * is not drawn.
 */
export function readGeometry(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const where = placeOf(shape);
  const digits = digitsAt(place, reading);
  const attribute = (name: string): string => shape.attributes.get(name) ?? "";
  if (shape.svgName === "path") {
    const d = readPathData(readCssPath(styleValue(style, "d"), shape), digits, where, reading);
    reading.countCharacters(d.length, shape);
    return d === "" ? undefined : { d };
  }
  if (shape.svgName === "polyline" || shape.svgName === "polygon") {
    reading.countCharacters(attribute("points").length, shape);
    const points = rewritePoints(attribute("points"), digits, where);
    return points === "" ? undefined : { points };
  }
  const written: Record<string, string> = {};
  for (const [name, of, kind] of LENGTHS[shape.svgName] ?? []) {
    const text = shape.svgName === "line" ? attribute(name) : styleValue(style, name);
    const value =
      text === "" || text === "auto" ? 0 : readDrawingLength(text, wholeOf(place.viewport, of), where);
    if (kind === "size" && value < 0) throw negative(name, text, shape);
    if (kind === "size" && value === 0) return undefined;
    if (value !== 0) written[name] = writeNumber(value, digits);
  }
  if (shape.svgName !== "rect" && shape.svgName !== "ellipse") return written;
  const [rx, ry] = readRadii(shape, style, place);
  const extent = rx > 0 && ry > 0;
  if (shape.svgName === "ellipse" && !extent) return undefined;
  return extent ? { ...written, rx: writeNumber(rx, digits), ry: writeNumber(ry, digits) } : written;
}

function readPathData(data: string, digits: number, where: string, reading: Reading): string {
  const byData = reading.memory.paths.get(digits) ?? new Map<string, string>();
  reading.memory.paths.set(digits, byData);
  const d = byData.get(data) ?? rewritePathData(data, digits, where);
  byData.set(data, d);
  return d;
}

/** `rx` and `ry`, each the other's where it is not given: SVG 2, chapter Geometry. */
function readRadii(shape: SourceElement, style: Style, place: Place): readonly [number, number] {
  const read = (name: string, of: PercentOf): number | undefined => {
    const text = styleValue(style, name);
    if (text === "" || text === "auto") return undefined;
    const value = readDrawingLength(text, wholeOf(place.viewport, of), placeOf(shape));
    if (value < 0) throw negative(name, text, shape);
    return value;
  };
  const rx = read("rx", "width");
  const ry = read("ry", "height");
  return [rx ?? ry ?? 0, ry ?? rx ?? 0];
}

function negative(name: string, text: string, shape: SourceElement): Error {
  return refuse("E_SIZE", `${name} is negative`, shape, { value: text, accepted: "0 or more" });
}

/** A style sheet says `path("…")`. */
function readCssPath(value: string, shape: SourceElement): string {
  const inside = /^path\(\s*(?:"([^"]*)"|'([^']*)')\s*\)$/i.exec(value.trim());
  if (inside !== null) return inside[1] ?? inside[2] ?? "";
  if (!/^path\(/i.test(value)) return value;
  throw refuse("E_FEATURE", "a path of a style sheet is not plain data", shape, { value });
}
