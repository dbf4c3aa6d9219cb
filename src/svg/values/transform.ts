import { aText } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import {
  type Affine,
  compose,
  determinant,
  IDENTITY,
  scaling,
  translation,
  turning,
} from "../../geometry/affine.js";
import { readDrawingLength, type Viewport } from "./length.js";
import { checkNumber, readNumberList, writeNumber } from "./number.js";

const FUNCTION = /^[\s,]*([a-z0-9]+)\s*\(([^()]*)\)[\s,]*/i;

/** The map of one function; `undefined` for one that there is not. */
type ReadFunction = (name: string, list: string) => Affine | undefined;

/**
 * Reads a `transform` attribute: a list of `matrix`, `translate`, `scale`, `rotate`, `skewX`, `skewY`.
 *
 * @throws {@link RepetendError} `E_NUMBER` for anything else, numbers out of range, and maps that flatten the plane.
 * @example
 * ```ts
 * import { parseTransform } from "repetend";
 * parseTransform("translate(10 20) scale(2)"); // { a: 2, b: 0, c: 0, d: 2, e: 10, f: 20 }
 * ```
 */
export function parseTransform(text: string, where?: string): Affine {
  aText(text, "text");
  return readFunctions(text, (name, list) => mapOf(name, readNumberList(list, where)), where);
}

/**
 * Reads the `transform` property of CSS, of which only what an affine map of user units can say is taken: CSS
 * Transforms 1, section 8, and of level 2 what shows the same without perspective. `sizeOf` gives the size that
 * percentages of shifts are of.
 */
export function parseCssTransform(
  text: string,
  where?: string,
  sizeOf: () => Viewport | undefined = () => undefined,
): Affine {
  const read: ReadFunction = (name, list) => {
    const small = name.toLowerCase();
    return cssMapOf(small, readCssArguments(list, small, sizeOf, where));
  };
  return readFunctions(text, read, where);
}

function readFunctions(text: string, readFunction: ReadFunction, where: string | undefined): Affine {
  let rest = text.trim();
  const maps: Affine[] = [];
  if (rest.toLowerCase() === "none") return IDENTITY;
  while (rest !== "") {
    const [whole, name, list] = FUNCTION.exec(rest) ?? [];
    const map = name === undefined ? undefined : readFunction(name, list ?? "");
    if (whole === undefined || map === undefined) throw badTransform(text, where);
    maps.push(map);
    rest = rest.slice(whole.length);
  }
  const map = maps.reduce((before, next) => compose(before, next), IDENTITY);
  return checkMap(map, where, text);
}

/** Scales below this, and flattening beyond it, cannot be told from 0 in the digits that are written. */
const SMALLEST_SCALE = 1e-9;

/** Holds a map against the limits of a drawing: numbers in range, and a plane that stays one. */
export function checkMap(map: Affine, where?: string, text: string = writeParts(map)): Affine {
  for (const value of [map.a, map.b, map.c, map.d, map.e, map.f]) checkNumber(value, text, where);
  const largest = largestPart(map);
  if (largest >= SMALLEST_SCALE && Math.abs(determinant(map)) > SMALLEST_SCALE * largest * largest)
    return map;
  throw badTransform(text, where, "a transform flattens the plane");
}

const writeParts = (map: Affine): string => `matrix(${[map.a, map.b, map.c, map.d, map.e, map.f].join(" ")})`;

const largestPart = (map: Affine): number =>
  Math.max(Math.abs(map.a), Math.abs(map.b), Math.abs(map.c), Math.abs(map.d));

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function mapOf(name: string, numbers: readonly number[]): Affine | undefined {
  const [first = 0, second, third, fourth = 0, fifth = 0, sixth = 0] = numbers;
  const count = numbers.length;
  switch (name) {
    case "matrix":
      if (count !== 6) return undefined;
      return { a: first, b: second ?? 0, c: third ?? 0, d: fourth, e: fifth, f: sixth };
    case "translate":
      return count === 1 || count === 2 ? translation(first, second ?? 0) : undefined;
    case "translateX":
      return count === 1 ? translation(first, 0) : undefined;
    case "translateY":
      return count === 1 ? translation(0, first) : undefined;
    case "scale":
      return count === 1 || count === 2 ? scaling(first, second ?? first) : undefined;
    case "scaleX":
      return count === 1 ? scaling(first, 1) : undefined;
    case "scaleY":
      return count === 1 ? scaling(1, first) : undefined;
    case "rotate":
      if (count === 1) return turning(radians(first));
      if (count !== 3) return undefined;
      return compose(
        translation(second ?? 0, third ?? 0),
        turning(radians(first)),
        translation(-(second ?? 0), -(third ?? 0)),
      );
    case "skew":
      if (count !== 1 && count !== 2) return undefined;
      return { ...IDENTITY, c: Math.tan(radians(first)), b: Math.tan(radians(second ?? 0)) };
    case "skewX":
      return count === 1 ? { ...IDENTITY, c: Math.tan(radians(first)) } : undefined;
    case "skewY":
      return count === 1 ? { ...IDENTITY, b: Math.tan(radians(first)) } : undefined;
    default:
      return undefined;
  }
}

/** Degrees of each unit of angle: CSS Values 4, section 7.1. */
const DEGREES: Readonly<Record<string, number>> = { "": 1, deg: 1, grad: 0.9, rad: 180 / Math.PI, turn: 360 };

/** Names of functions in CSS, where capitals do not matter, as attributes write them. */
const ATTRIBUTE_NAMES: Readonly<Record<string, string>> = {
  translatex: "translateX",
  translatey: "translateY",
  scalex: "scaleX",
  scaley: "scaleY",
  skewx: "skewX",
  skewy: "skewY",
  rotatez: "rotate",
};

function cssMapOf(name: string, numbers: readonly number[]): Affine | undefined {
  // Depth does not show where nothing is turned out of the plane.
  const flat = /^(translate|scale)3d$/.exec(name)?.[1];
  if (flat !== undefined) return numbers.length === 3 ? mapOf(flat, numbers.slice(0, 2)) : undefined;
  if (/^(?:translate|scale)z$/.test(name)) return numbers.length === 1 ? IDENTITY : undefined;
  return mapOf(ATTRIBUTE_NAMES[name] ?? name, numbers);
}

function readCssArguments(
  list: string,
  name: string,
  sizeOf: () => Viewport | undefined,
  where: string | undefined,
): readonly number[] {
  const words = list.split(/[\s,]+/).filter((word) => word !== "");
  if (name.startsWith("translate")) {
    const sides = /[xyz]$/.exec(name)?.[0] ?? "xyz";
    return words.map((word, index) => {
      const side = ({ x: "width", y: "height" } as const)[sides[index] ?? ""];
      const whole = side !== undefined && word.endsWith("%") ? sizeOf()?.[side] : undefined;
      return readDrawingLength(word, whole, where);
    });
  }
  if (!/^(?:rotate|skew)/.test(name)) {
    return words.map((word) => {
      const percent = /^(.*)%$/.exec(word)?.[1];
      return checkNumber(Number(percent ?? word) / (percent === undefined ? 1 : 100), word, where);
    });
  }
  return words.map((word) => {
    const [, digits, unit = ""] = /^([+-]?[\d.]+(?:e[+-]?\d+)?)([a-z]*)$/i.exec(word) ?? [];
    return checkNumber(
      Number(digits ?? Number.NaN) * (DEGREES[unit.toLowerCase()] ?? Number.NaN),
      word,
      where,
    );
  });
}

function badTransform(text: string, where: string | undefined, problem?: string): RepetendError {
  return new RepetendError("E_NUMBER", problem ?? "a transform cannot be read", {
    ...(where === undefined ? {} : { where }),
    value: text,
    accepted: "a list of matrix, translate, scale, rotate, skewX, skewY that can be undone",
  });
}

/** Significant digits of the linear part: a drawing of 100,000 units lands within a ten-thousandth of one. */
const SIGNIFICANT = 9;

/**
 * A map as a `transform` attribute, in its shortest form; `""` for the map that changes nothing.
 * `digits` counts for the shift only: scale and turn keep nine significant digits.
 *
 * @example
 * ```ts
 * import { writeMatrix } from "repetend";
 * writeMatrix({ a: 1, b: 0, c: 0, d: 1, e: 2.5, f: 0 }); // "translate(2.5)"
 * ```
 */
export function writeMatrix(map: Affine, digits: number = 6): string {
  const largest = largestPart(map);
  const fine = Math.min(20, Math.max(0, SIGNIFICANT - Math.ceil(Math.log10(largest || 1))));
  const [a, b, c, d] = [map.a, map.b, map.c, map.d].map((value) => writeNumber(value, fine));
  const [e, f] = [map.e, map.f].map((value) => writeNumber(value, digits));
  const shifted = e !== "0" || f !== "0";
  if (b !== "0" || c !== "0" || ((a !== "1" || d !== "1") && shifted)) {
    return `matrix(${[a, b, c, d, e, f].join(" ")})`;
  }
  if (a !== "1" || d !== "1") return `scale(${a === d ? a : `${a} ${d}`})`;
  return shifted ? `translate(${f === "0" ? e : `${e} ${f}`})` : "";
}
