import { type Style, styleValue } from "./css/style.js";
import { readEffects } from "./effects/effects.js";
import { group } from "./group.js";
import { resolveMarkers } from "./marker.js";
import { readPaint } from "./paint/paint.js";
import { digitsAt, moveInto, namesOf, type Paint, type Place, type Reading } from "./place/place.js";
import { elementMap } from "./shapes/element-map.js";
import { readGeometry } from "./shapes/geometry.js";
import { readStroke } from "./stroke.js";
import { element, type SvgElement } from "./tree.js";
import { readOpacity } from "./values/colour-value.js";
import { writeNumber } from "./values/number.js";
import { writeMatrix } from "./values/transform.js";
import type { SourceElement } from "./xml/source.js";

/** A shape with everything that it takes over from its surroundings said on itself, and its markers drawn. */
export function resolveShape(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  if (styleValue(style, "visibility").toLowerCase() !== "visible") return [];
  const map = elementMap(shape, style, place, reading);
  const inside = moveInto(map, place, shape);
  const geometry = readGeometry(shape, style, inside, reading);
  if (geometry === undefined) return [];
  const fill = readPaint("fill", shape, style, inside, reading);
  const stroke = readPaint("stroke", shape, style, inside, reading);
  const area = shape.svgName === "line" ? {} : writeFill(shape, style, fill);
  const line = writeStroke(shape, style, stroke, inside, reading, geometry);
  const markers = resolveMarkers(shape, style, geometry, { fill, stroke }, inside, reading);
  const seen = (area.fill ?? "none") !== "none" || line.stroke !== undefined;
  const names = namesOf(shape, reading);
  // What paints nothing is only kept where names are: a guide line that a sketch is measured by.
  if (!seen && markers.length === 0 && Object.keys(names).length === 0) return [];
  const effects = readEffects(shape, style, inside, reading);
  if (effects === undefined) return [];
  const transform = writeMatrix(map, digitsAt(place, reading));
  const whole = { ...(transform === "" ? {} : { transform }), ...effects, ...names };
  const order = readPaintOrder(style);
  const hints = /^(?:crispedges|optimizespeed)$/i.test(styleValue(style, "shape-rendering"))
    ? { "shape-rendering": "crispEdges" }
    : {};
  if (markers.length === 0) {
    const first = order.indexOf("stroke") < order.indexOf("fill") && line.stroke !== undefined;
    const paints = { ...area, ...line, ...(first ? { "paint-order": "stroke" } : {}) };
    return [element(shape.svgName, { ...paints, ...hints, ...whole, ...geometry })];
  }
  // With markers each layer is drawn for itself, in the order that is asked for.
  const layers = {
    fill:
      (area.fill ?? "none") === "none" ? [] : [element(shape.svgName, { ...area, ...hints, ...geometry })],
    stroke:
      line.stroke === undefined
        ? []
        : [element(shape.svgName, { fill: "none", ...line, ...hints, ...geometry })],
    markers,
  };
  return group(
    order.flatMap((layer) => layers[layer]),
    whole,
  );
}

function writeFill(shape: SourceElement, style: Style, paint: Paint): Record<string, string> {
  const opacity = readOpacity(styleValue(style, "fill-opacity"), "fill-opacity", shape);
  const written = writePaint("fill", paint, opacity);
  if (written.fill === "none") return written;
  const mayCross = /^(?:path|polyline|polygon)$/.test(shape.svgName);
  const evenOdd = mayCross && styleValue(style, "fill-rule").toLowerCase() === "evenodd";
  return evenOdd ? { ...written, "fill-rule": "evenodd" } : written;
}

function writeStroke(
  shape: SourceElement,
  style: Style,
  paint: Paint,
  place: Place,
  reading: Reading,
  geometry: Readonly<Record<string, string>>,
): Record<string, string> {
  const opacity = readOpacity(styleValue(style, "stroke-opacity"), "stroke-opacity", shape);
  const written = writePaint("stroke", paint, opacity);
  const drawn = written.stroke === "none" ? undefined : readStroke(shape, style, place, reading, geometry);
  return drawn === undefined ? {} : { ...written, ...drawn };
}

/** A paint as attributes; what cannot be seen is `none`. */
function writePaint(property: "fill" | "stroke", paint: Paint, opacity: number): Record<string, string> {
  const alpha = writeNumber(opacity * (paint.kind === "colour" ? paint.alpha : 1), 4);
  if (paint.kind === "none" || alpha === "0") return { [property]: "none" };
  const value = paint.kind === "colour" ? paint.hex : `url(#${paint.id})`;
  return { [property]: value, ...(alpha === "1" ? {} : { [`${property}-opacity`]: alpha }) };
}

const LAYERS = ["fill", "stroke", "markers"] as const;

/** All three, in order; those not named follow in the usual one: SVG 2, `paint-order`. */
function readPaintOrder(style: Style): readonly (typeof LAYERS)[number][] {
  const words = styleValue(style, "paint-order").toLowerCase().split(/\s+/);
  const named = words.flatMap((word) => LAYERS.filter((layer) => layer === word));
  return [...named, ...LAYERS.filter((layer) => !named.includes(layer))];
}
