import { styleValue } from "../css/style.js";
import {
  digitsAt,
  type GradientStop,
  type Paint,
  type Place,
  type Reading,
  styleInFile,
} from "../place/place.js";
import { serverMap } from "../shapes/element-map.js";
import { element, type SvgElement } from "../tree.js";
import { readColourValue, readOpacity } from "../values/colour-value.js";
import { readDrawingLength, wholeOf } from "../values/length.js";
import { readPlainNumber, writeNumber } from "../values/number.js";
import { writeMatrix } from "../values/transform.js";
import { elementsIn, placeOf, refuse, type SourceElement } from "../xml/source.js";
import { startAtPoint } from "./start-circle.js";
import { templatesOf } from "./templates.js";

/** Lengths of a gradient: attribute, what a percentage is of, default. */
const LENGTHS = {
  linearGradient: [
    ["x1", "width", "0%"],
    ["y1", "height", "0%"],
    ["x2", "width", "100%"],
    ["y2", "height", "0%"],
  ],
  radialGradient: [
    ["cx", "width", "50%"],
    ["cy", "height", "50%"],
    ["r", "diagonal", "50%"],
    ["fx", "width", undefined],
    ["fy", "height", undefined],
    ["fr", "diagonal", "0%"],
  ],
} as const;

/** Defines a gradient in one piece: its templates and stops gathered, every number plain. */
export function defineGradient(gradient: SourceElement, place: Place, reading: Reading): Paint {
  const chain = templatesOf(gradient, /^(?:linear|radial)Gradient$/, reading);
  const stops = readStops(gradient, chain, reading);
  const [first, last] = [stops[0], stops.at(-1)];
  if (first === undefined || last === undefined) return { kind: "none" };
  const solid = (stop: GradientStop): Paint => ({ kind: "colour", hex: stop.hex, alpha: stop.alpha });
  if (stops.length === 1) return solid(first);
  const attributes = readGeometry(gradient, chain, place, reading);
  // A gradient without a length or radius paints its last stop: SVG 2, chapter Paint Servers.
  const { x1, y1, x2, y2, r } = attributes.numbers;
  if (gradient.svgName === "linearGradient" ? x1 === x2 && y1 === y2 : r === 0) return solid(last);
  const key = `${placeOf(gradient)} ${JSON.stringify(attributes.written)}`;
  const id = place.defs.define(key, (made) =>
    element(
      gradient.svgName,
      { id: made, ...attributes.written },
      stops.map((stop) => writeStop(stop, attributes.from)),
    ),
  );
  return id === undefined ? { kind: "none" } : { kind: "server", id };
}

function readGeometry(
  gradient: SourceElement,
  chain: readonly SourceElement[],
  place: Place,
  reading: Reading,
) {
  const find = (name: string) => chain.find((one) => one.attributes.has(name))?.attributes.get(name);
  const where = placeOf(gradient);
  const inBox = find("gradientUnits") !== "userSpaceOnUse";
  const digits = inBox ? 6 : digitsAt(place, reading);
  const numbers: Record<string, number> = {};
  const written: Record<string, string> = inBox ? {} : { gradientUnits: "userSpaceOnUse" };
  let from = 0;
  const kind = gradient.svgName === "linearGradient" ? "linearGradient" : "radialGradient";
  for (const [name, of, initial] of LENGTHS[kind]) {
    const text = find(name) ?? initial;
    const whole = wholeOf(place.viewport, inBox ? "one" : of);
    // The focus is the centre where it is not given.
    const value = text === undefined ? numbers[`c${name.slice(1)}`] : readDrawingLength(text, whole, where);
    numbers[name] = value ?? 0;
    if (/^f?r$/.test(name) && (value ?? 0) < 0) {
      throw refuse("E_NUMBER", "a radius is negative", gradient, { value: text ?? "" });
    }
    // In the units of the box the defaults are plain numbers; in those of the drawing they depend on the viewport.
    const usual = initial === undefined ? numbers[`c${name.slice(1)}`] : readDrawingLength(initial, 1);
    const silent = value === usual && (inBox || initial === undefined || name === "fr");
    if (!silent) written[name] = writeNumber(value ?? 0, digits);
  }
  const spread = find("spreadMethod");
  const { cx = 0, cy = 0, r = 0, fx = 0, fy = 0, fr = 0 } = numbers;
  if (fr > 0 && r > 0) {
    const start =
      spread === "reflect" || spread === "repeat" ? undefined : startAtPoint({ cx, cy, r, fx, fy, fr });
    if (start === undefined) {
      throw refuse("E_FEATURE", "a gradient begins on a circle", gradient, {
        value: `fr="${find("fr") ?? ""}"`,
        accepted: 'a start circle inside of the end, with spreadMethod="pad"; or no fr',
      });
    }
    delete written.fr;
    written.fx = writeNumber(start.fx, digits);
    written.fy = writeNumber(start.fy, digits);
    from = start.from;
  }
  const matrix = writeMatrix(serverMap(chain, "gradientTransform", reading), digits);
  if (matrix !== "") written.gradientTransform = matrix;
  if (spread === "reflect" || spread === "repeat") written.spreadMethod = spread;
  return { numbers, written, from };
}

function readStops(
  gradient: SourceElement,
  chain: readonly SourceElement[],
  reading: Reading,
): readonly GradientStop[] {
  const known = reading.memory.stops.get(gradient);
  if (known !== undefined) return known;
  const holder = chain.find((one) => elementsIn(one).some(isStop));
  let before = 0;
  const stops = (holder === undefined ? [] : elementsIn(holder).filter(isStop)).map((stop): GradientStop => {
    const style = styleInFile(stop, reading);
    const { hex, alpha } = readColourValue(styleValue(style, "stop-color"), "stop-color", style, stop);
    const opacity = readOpacity(styleValue(style, "stop-opacity"), "stop-opacity", stop);
    const text = stop.attributes.get("offset") ?? "0";
    const percent = /^\s*(.*)%\s*$/.exec(text)?.[1];
    const offset = readPlainNumber(percent ?? text, placeOf(stop)) / (percent === undefined ? 1 : 100);
    // Offsets never go back: SVG 2, chapter Paint Servers.
    before = Math.max(before, Math.min(1, Math.max(0, offset)));
    return { offset: before, hex, alpha: alpha * opacity };
  });
  reading.memory.stops.set(gradient, stops);
  return stops;
}

const isStop = (one: SourceElement): boolean => one.svgName === "stop";

function writeStop({ offset, hex, alpha }: GradientStop, from: number): SvgElement {
  const opacity = writeNumber(alpha, 4);
  return element("stop", {
    offset: writeNumber(from + offset * (1 - from), 6),
    "stop-color": hex,
    ...(opacity === "1" ? {} : { "stop-opacity": opacity }),
  });
}
