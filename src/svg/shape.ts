import { compose } from "../geometry/affine.js";
import { readOpacity } from "./colour-value.js";
import { readEffects } from "./effects.js";
import { elementMap } from "./element-map.js";
import { writeNumber } from "./number.js";
import { readPaint } from "./paint.js";
import { digitsAt, namesOf, type Paint, type Place, type Reading } from "./place.js";
import { readGeometry } from "./shape-geometry.js";
import type { SourceElement } from "./source.js";
import { readStroke } from "./stroke.js";
import { type Style, styleValue } from "./style.js";
import { writeMatrix } from "./transform.js";
import { element, type SvgElement } from "./tree.js";

/** A shape with everything that it takes over from its surroundings said on itself. */
export function resolveShape(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  if (styleValue(style, "visibility").toLowerCase() !== "visible") return [];
  const map = elementMap(shape, style, place.viewport);
  const inside: Place = { ...place, ...(place.map === undefined ? {} : { map: compose(place.map, map) }) };
  const geometry = readGeometry(shape, style, inside, reading);
  if (geometry === undefined) return [];
  const fill = shape.svgName === "line" ? {} : readFill(shape, style, inside, reading);
  const stroke = readStrokePaint(shape, style, inside, reading);
  if ((fill.fill ?? "none") === "none" && stroke.stroke === undefined) return [];
  const effects = readEffects(shape, style, inside, reading);
  if (effects === undefined) return [];
  const transform = writeMatrix(map, digitsAt(place, reading));
  return [
    element(shape.svgName, {
      ...fill,
      ...stroke,
      ...readRendering(style),
      ...(transform === "" ? {} : { transform }),
      ...effects,
      ...namesOf(shape, reading),
      ...geometry,
    }),
  ];
}

function readFill(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Record<string, string> {
  const opacity = readOpacity(styleValue(style, "fill-opacity"), "fill-opacity", shape);
  const paint = readPaint("fill", shape, style, place, reading);
  const written = writePaint("fill", paint, opacity);
  if (written.fill === "none") return written;
  const mayCross = /^(?:path|polyline|polygon)$/.test(shape.svgName);
  const evenOdd = mayCross && styleValue(style, "fill-rule").toLowerCase() === "evenodd";
  return evenOdd ? { ...written, "fill-rule": "evenodd" } : written;
}

function readStrokePaint(
  shape: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Record<string, string> {
  const opacity = readOpacity(styleValue(style, "stroke-opacity"), "stroke-opacity", shape);
  const paint = readPaint("stroke", shape, style, place, reading);
  const written = writePaint("stroke", paint, opacity);
  const drawn = written.stroke === "none" ? undefined : readStroke(shape, style, place, reading);
  return drawn === undefined ? {} : { ...written, ...drawn };
}

/** A paint as attributes; what cannot be seen is `none`. */
function writePaint(property: "fill" | "stroke", paint: Paint, opacity: number): Record<string, string> {
  const alpha = writeNumber(opacity * (paint.kind === "colour" ? paint.alpha : 1), 4);
  if (paint.kind === "none" || alpha === "0") return { [property]: "none" };
  const value = paint.kind === "colour" ? paint.hex : `url(#${paint.id})`;
  return { [property]: value, ...(alpha === "1" ? {} : { [`${property}-opacity`]: alpha }) };
}

/** Hints for the renderer that change pixels. */
function readRendering(style: Style): Record<string, string> {
  const order = readPaintOrder(style);
  const sharp = /^(?:crispedges|optimizespeed)$/i.test(styleValue(style, "shape-rendering"));
  return {
    ...(order.indexOf("stroke") < order.indexOf("fill") ? { "paint-order": "stroke" } : {}),
    ...(sharp ? { "shape-rendering": "crispEdges" } : {}),
  };
}

/** All three, in order; those not named follow in the usual one: SVG 2, `paint-order`. */
function readPaintOrder(style: Style): readonly string[] {
  const usual = ["fill", "stroke", "markers"];
  const named = styleValue(style, "paint-order")
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => usual.includes(word));
  return [...named, ...usual.filter((word) => !named.includes(word))];
}
