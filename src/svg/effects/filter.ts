import { RepetendError } from "../../errors.js";
import { type Style, styleValue } from "../css/style.js";
import { lookUpDefinition } from "../place/lookup.js";
import { enter, type Place, placeKey, type Reading, styleInFile, styleOf } from "../place/place.js";
import { readRegion } from "../place/region.js";
import { element, type SvgElement } from "../tree.js";
import { readColourValue, readOpacity } from "../values/colour-value.js";
import { readDrawingLength, wholeOf } from "../values/length.js";
import { readNumberList, writeNumber } from "../values/number.js";
import { elementsIn, placeOf, refuse, type SourceElement } from "../xml/source.js";
import { FILTER_COLOURS, FILTER_PARTS, FILTER_PRIMITIVES, type FilterValue } from "./filter-primitives.js";

/** Digits of what a primitive says: shares, factors and lengths alike. */
const DIGITS = 6;

/**
 * Work that a filter may ask for. What a renderer does for one pixel grows with these, so a drawing of a few bytes could
 * keep it busy for hours.
 */
export const FILTER_LIMITS = {
  /** Primitives of one filter. */
  primitives: 64,
  /** Cells of a convolution's matrix: 11 x 11. */
  kernel: 121,
  octaves: 10,
  /** Radii of blurs and of growing and shrinking, as a share of the drawing's longer side. */
  radius: 0.25,
} as const;

/** Inputs that no renderer of still pictures has. */
const NO_INPUT = /^(?:BackgroundImage|BackgroundAlpha|FillPaint|StrokePaint)$/;

/** Defines a filter from the primitives that are known, their colours resolved; `undefined` for one that does nothing. */
export function defineFilter(
  id: string,
  user: SourceElement,
  place: Place,
  reading: Reading,
): string | undefined {
  const source = lookUpDefinition(id, "filter", user, reading);
  const inside = enter(id, place, user);
  return place.defs.define(`filter ${id} ${placeKey(place)}`, (made) => {
    const region = readRegion(source, "filterUnits", inside, reading);
    if (region === undefined) return undefined;
    const style = styleInFile(source, reading);
    const inBox = source.attributes.get("primitiveUnits") === "objectBoundingBox";
    const sources = elementsIn(source).filter((child) => child.svgName.startsWith("fe"));
    limit("primitives", sources.length, FILTER_LIMITS.primitives, source);
    const primitives = sources.map((child) => readPrimitive(child, style, inBox, inside, reading));
    if (primitives.length === 0) return undefined;
    const units = inBox ? { primitiveUnits: "objectBoundingBox" } : {};
    return element("filter", { id: made, ...region, ...units }, primitives);
  });
}

function readPrimitive(
  source: SourceElement,
  parent: Style,
  inBox: boolean,
  place: Place,
  reading: Reading,
): SvgElement {
  const known = FILTER_PRIMITIVES[source.svgName];
  if (known === undefined) {
    throw refuse("E_FEATURE", "a filter has a step that is not carried over", source, {
      accepted: Object.keys(FILTER_PRIMITIVES).join(", "),
    });
  }
  const style = styleOf(source, parent, reading);
  const attributes = { ...readValues(source, known, inBox, place), ...readColours(source, style) };
  limitWork(source, inBox ? 1 : reading.extent);
  const space = styleValue(style, "color-interpolation-filters").toLowerCase();
  const written = { ...attributes, ...(space === "srgb" ? { "color-interpolation-filters": "sRGB" } : {}) };
  const parts = elementsIn(source).flatMap((part) => {
    const values = FILTER_PARTS[part.svgName];
    return values === undefined ? [] : [element(part.svgName, readValues(part, values, inBox, place))];
  });
  return element(source.svgName, written, parts);
}

function readValues(
  source: SourceElement,
  known: Readonly<Record<string, FilterValue>>,
  inBox: boolean,
  place: Place,
): Record<string, string> {
  const written: Record<string, string> = {};
  for (const [name, kind] of Object.entries(known)) {
    const text = source.attributes.get(name);
    if (text !== undefined) written[name] = readValue(name, text, kind, source, inBox, place);
  }
  return written;
}

function readValue(
  name: string,
  text: string,
  kind: FilterValue,
  source: SourceElement,
  inBox: boolean,
  place: Place,
): string {
  const where = placeOf(source);
  if (kind === "numbers") {
    return readNumberList(text, where)
      .map((value) => writeNumber(value, DIGITS))
      .join(" ");
  }
  if (kind === "number") {
    const of = /^(?:x|width|dx)$/.test(name) ? "width" : "height";
    const whole = wholeOf(place.viewport, inBox ? "one" : of);
    return writeNumber(
      readDrawingLength(text, /^(?:x|y|width|height)$/.test(name) ? whole : undefined, where),
      DIGITS,
    );
  }
  const word = text.trim();
  if (kind === "input" && NO_INPUT.test(word)) {
    throw refuse("E_FEATURE", "a filter asks for what lies behind or for a paint", source, { value: word });
  }
  if (/^[\w.-]{0,64}$/.test(word)) return word;
  throw refuse("E_FEATURE", `${name} is not a plain word`, source, { value: word });
}

function readColours(source: SourceElement, style: Style): Record<string, string> {
  const names = FILTER_COLOURS[source.svgName] ?? [];
  const written: Record<string, string> = {};
  for (const name of names.filter((one) => one.endsWith("-color"))) {
    const { hex, alpha } = readColourValue(styleValue(style, name), name, style, source);
    written[name] = hex;
    if (!names.includes("flood-opacity")) continue;
    const opacity = readOpacity(styleValue(style, "flood-opacity"), "flood-opacity", source) * alpha;
    if (opacity < 1) written["flood-opacity"] = writeNumber(opacity, 4);
  }
  return written;
}

function limitWork(source: SourceElement, extent: number): void {
  const numbers = (name: string) => readNumberList(source.attributes.get(name) ?? "", placeOf(source));
  if (source.svgName === "feConvolveMatrix") {
    const [across = 3, down = across] = numbers("order");
    limit("the order of a convolution", across * down, FILTER_LIMITS.kernel, source);
    limit("a kernel", numbers("kernelMatrix").length, FILTER_LIMITS.kernel, source);
  }
  limit("numOctaves", numbers("numOctaves")[0] ?? 1, FILTER_LIMITS.octaves, source);
  for (const name of ["stdDeviation", "radius"]) {
    for (const value of numbers(name)) limit(name, value, FILTER_LIMITS.radius * extent, source);
  }
}

function limit(what: string, value: number, most: number, source: SourceElement): void {
  if (value <= most) return;
  throw new RepetendError("E_LIMIT", `a filter asks for too much: ${what} (in <${source.name}>)`, {
    where: placeOf(source),
    value: String(value),
    accepted: `at most ${most}`,
  });
}
