import { compose, scaling, translation, turning } from "../geometry/affine.js";
import type { Box } from "../geometry/box.js";
import { type Style, styleValue } from "./css/style.js";
import { group } from "./group.js";
import { lookUpDefinition } from "./place/lookup.js";
import {
  type ContextPaint,
  digitsAt,
  enter,
  moveInto,
  type Place,
  type Reading,
  styleInFile,
} from "./place/place.js";
import { clipTo } from "./place/viewport.js";
import { readSingleUrl } from "./references.js";
import { markedPath, type Vertex, verticesOf } from "./shapes/vertices.js";
import type { SvgElement } from "./tree.js";
import { fitMap, readAspectRatio, readViewBox } from "./values/frame.js";
import { readDrawingLength, type Viewport, wholeOf } from "./values/length.js";
import { readPlainNumber } from "./values/number.js";
import { writeMatrix } from "./values/transform.js";
import { findById } from "./xml/by-id.js";
import { elementsIn, placeOf, refuse, type SourceElement } from "./xml/source.js";

/** Draws the markers of a shape as groups in its own units: a marker is nothing but a drawing at every vertex. */
export function resolveMarkers(
  shape: SourceElement,
  style: Style,
  geometry: Readonly<Record<string, string>>,
  context: ContextPaint,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const where = placeOf(shape);
  const named = (end: string) => readSingleUrl(styleValue(style, `marker-${end}`), `marker-${end}`, where);
  const [start, mid, end] = [named("start"), named("mid"), named("end")];
  if (start === undefined && mid === undefined && end === undefined) return [];
  const d = markedPath(shape.svgName, geometry);
  if (d === undefined) return [];
  const vertices = verticesOf(d);
  const middle = mid === undefined ? undefined : findById(reading.source.ids, mid);
  if (middle !== undefined) reading.foresee(vertices.length - 2, middle);
  const whole = wholeOf(place.viewport, "diagonal");
  const width = readDrawingLength(styleValue(style, "stroke-width"), whole, where);
  const draw = (
    id: string | undefined,
    vertex: Vertex | undefined,
    isStart: boolean,
  ): readonly SvgElement[] => {
    if (id === undefined || vertex === undefined) return [];
    // Every viewer draws a marker that is not there in the same way.
    if (findById(reading.source.ids, id) === undefined) {
      reading.losses.add("N_MARKER", shape);
      return [];
    }
    const source = lookUpDefinition(id, "marker", shape, reading);
    return drawMarker(source, vertex, isStart, width, { ...enter(id, place, shape), context }, reading);
  };
  return [
    ...draw(start, vertices[0], true),
    ...vertices.slice(1, -1).flatMap((vertex) => draw(mid, vertex, false)),
    ...draw(end, vertices.at(-1), false),
  ];
}

function drawMarker(
  marker: SourceElement,
  vertex: Vertex,
  isStart: boolean,
  strokeWidth: number,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  reading.count(marker);
  const box = readMarkerBox(marker, place);
  const scale = marker.attributes.get("markerUnits") === "userSpaceOnUse" ? 1 : strokeWidth;
  if (box === undefined || scale === 0) return [];
  const style = styleInFile(marker, reading);
  const text = marker.attributes.get("viewBox");
  const viewBox = text === undefined ? undefined : readViewBox(text, placeOf(marker));
  const fit =
    viewBox === undefined
      ? translation(0, 0)
      : fitMap(viewBox, box, readAspectRatio(marker.attributes.get("preserveAspectRatio")));
  const viewport: Viewport = viewBox ?? box;
  const reference = readReference(marker, viewport);
  const map = compose(
    translation(vertex.x, vertex.y),
    turning(readTurn(marker, vertex, isStart)),
    scaling(scale),
    // The reference point, where the fit puts it, comes to lie on the vertex.
    translation(-(fit.a * reference.x + fit.e), -(fit.d * reference.y + fit.f)),
    fit,
  );
  const inside: Place = { ...moveInto(map, place, marker), style, viewport };
  const painted = reading.paint(elementsIn(marker), inside);
  const open = /^(?:visible|auto)$/i.test(styleValue(style, "overflow"));
  const clip = open || painted.length === 0 ? {} : clipTo(box, fit, painted, inside, reading);
  return group(painted, { transform: writeMatrix(map, digitsAt(place, reading)), ...clip });
}

function readMarkerBox(marker: SourceElement, place: Place): Box | undefined {
  const size = (name: "markerWidth" | "markerHeight"): number => {
    const whole = name === "markerWidth" ? place.viewport.width : place.viewport.height;
    const text = marker.attributes.get(name) ?? "3";
    const value = readDrawingLength(text, whole, placeOf(marker));
    if (value < 0) throw refuse("E_SIZE", `${name} is negative`, marker, { value: text });
    return value;
  };
  const [width, height] = [size("markerWidth"), size("markerHeight")];
  return width === 0 || height === 0 ? undefined : { x: 0, y: 0, width, height };
}

const WORDS: Readonly<Record<string, string>> = {
  left: "0%",
  top: "0%",
  center: "50%",
  right: "100%",
  bottom: "100%",
};

function readReference(marker: SourceElement, viewport: Viewport): { x: number; y: number } {
  const at = (name: "refX" | "refY", whole: number): number => {
    const text = (marker.attributes.get(name) ?? "0").trim();
    return readDrawingLength(WORDS[text] ?? text, whole, placeOf(marker));
  };
  return { x: at("refX", viewport.width), y: at("refY", viewport.height) };
}

/** Radians. */
function readTurn(marker: SourceElement, vertex: Vertex, isStart: boolean): number {
  const text = (marker.attributes.get("orient") ?? "0").trim();
  if (text === "auto") return vertex.angle;
  if (text === "auto-start-reverse") return vertex.angle + (isStart ? Math.PI : 0);
  const [, digits = text, unit = "deg"] = /^(.*?)(deg|grad|rad|turn)$/.exec(text) ?? [];
  const factor = { deg: Math.PI / 180, grad: Math.PI / 200, rad: 1, turn: 2 * Math.PI }[unit] ?? 1;
  return readPlainNumber(digits, placeOf(marker)) * factor;
}
