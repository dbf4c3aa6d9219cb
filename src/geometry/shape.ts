import { aText, tableOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { arcCubics } from "./arc.js";
import { type Cubic, type CubicPath, joinCubics, straightCubic } from "./cubic-path.js";
import { readPath } from "./read-path.js";

const EMPTY: CubicPath = { subpaths: [] };

type Attributes = Readonly<Record<string, string>>;

/**
 * The outline of a basic shape of SVG as cubics: `rect` (with `rx`, `ry`), `circle`, `ellipse`, `line`, `polyline`,
 * `polygon` and `path`; `undefined` for any other element. Attributes are plain numbers in user units; missing ones
 * are 0. A shape of no size has no runs. Starts and directions are those of SVG 2, chapter Basic Shapes, so that
 * dashes begin where a renderer begins them.
 *
 * @throws {@link RepetendError} `E_NUMBER` for numbers that cannot be read, negative sizes, and bad path data.
 */
export function pathOfShape(name: string, attributes: Attributes): CubicPath | undefined {
  aText(name, "name");
  tableOf(aText)(attributes, "attributes");
  const read = (key: string): number => readNumber(attributes, key, false);
  const size = (key: string): number => readNumber(attributes, key, true);
  switch (name) {
    case "path":
      return readPath(attributes.d ?? "");
    case "rect":
      return rectangle(read("x"), read("y"), size("width"), size("height"), attributes);
    case "circle":
      return ellipse(read("cx"), read("cy"), size("r"), size("r"));
    case "ellipse": {
      const [rx, ry] = radii(attributes);
      return ellipse(read("cx"), read("cy"), rx, ry);
    }
    case "line": {
      const cubic = straightCubic(read("x1"), read("y1"), read("x2"), read("y2"));
      return { subpaths: [joinCubics([cubic], false)] };
    }
    case "polyline":
      return polygon(attributes.points ?? "", false);
    case "polygon":
      return polygon(attributes.points ?? "", true);
    default:
      return undefined;
  }
}

function readNumber(attributes: Attributes, key: string, size: boolean): number {
  const text = attributes[key];
  if (text === undefined) return 0;
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (!Number.isFinite(value) || (size && value < 0))
    throw new RepetendError("E_NUMBER", `${key} is no usable number`, {
      where: key,
      value: text,
      accepted: size ? "a finite number, not negative" : "a finite number",
    });
  return value;
}

/** `rx` and `ry`, each taking the other's value when it is missing or `auto`: SVG 2, chapter Geometry properties. */
function radii(attributes: Attributes): readonly [number, number] {
  const given = (key: string): number | undefined =>
    attributes[key] === undefined || attributes[key] === "auto"
      ? undefined
      : readNumber(attributes, key, true);
  const [rx, ry] = [given("rx"), given("ry")];
  return [rx ?? ry ?? 0, ry ?? rx ?? 0];
}

function ellipse(cx: number, cy: number, rx: number, ry: number): CubicPath {
  if (rx === 0 || ry === 0) return EMPTY;
  // Quarter by quarter, so that the outermost points are exact.
  const quarter = { radiusX: rx, radiusY: ry, turn: 0, large: false, sweep: true };
  const cubics = [
    ...arcCubics(cx + rx, cy, quarter, cx, cy + ry),
    ...arcCubics(cx, cy + ry, quarter, cx - rx, cy),
    ...arcCubics(cx - rx, cy, quarter, cx, cy - ry),
    ...arcCubics(cx, cy - ry, quarter, cx + rx, cy),
  ];
  return { subpaths: [joinCubics(cubics, true)] };
}

function rectangle(x: number, y: number, width: number, height: number, attributes: Attributes): CubicPath {
  if (width === 0 || height === 0) return EMPTY;
  const asked = radii(attributes);
  const rx = Math.min(asked[0], width / 2);
  const ry = Math.min(asked[1], height / 2);
  const [right, bottom] = [x + width, y + height];
  if (rx === 0 || ry === 0) return chain([x, y, right, y, right, bottom, x, bottom], true);
  const corner = { radiusX: rx, radiusY: ry, turn: 0, large: false, sweep: true };
  const cubics: readonly Cubic[] = [
    straightCubic(x + rx, y, right - rx, y),
    ...arcCubics(right - rx, y, corner, right, y + ry),
    straightCubic(right, y + ry, right, bottom - ry),
    ...arcCubics(right, bottom - ry, corner, right - rx, bottom),
    straightCubic(right - rx, bottom, x + rx, bottom),
    ...arcCubics(x + rx, bottom, corner, x, bottom - ry),
    straightCubic(x, bottom - ry, x, y + ry),
    ...arcCubics(x, y + ry, corner, x + rx, y),
  ];
  return { subpaths: [joinCubics(cubics, true)] };
}

function polygon(list: string, closed: boolean): CubicPath {
  const trimmed = list.trim();
  if (trimmed === "") return EMPTY;
  const numbers = trimmed.match(/[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi)?.map(Number) ?? [];
  const rest = trimmed.replace(/[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi, "").replace(/[\s,]/g, "");
  if (rest !== "" || numbers.length % 2 !== 0 || !numbers.every(Number.isFinite))
    throw new RepetendError("E_NUMBER", "points are no pairs of numbers", {
      where: "points",
      value: list,
      accepted: "pairs of finite numbers",
    });
  return chain(numbers, closed);
}

function chain(numbers: readonly number[], closed: boolean): CubicPath {
  if (numbers.length < 4) return EMPTY;
  const at = (index: number): number => numbers[index % numbers.length] ?? 0;
  const cubics: Cubic[] = [];
  for (let k = 0; k < (closed ? numbers.length : numbers.length - 2); k += 2) {
    const cubic = straightCubic(at(k), at(k + 1), at(k + 2), at(k + 3));
    // The closing line of a polygon that already ends on its start has no length.
    if (k < numbers.length - 2 || cubic[0] !== cubic[6] || cubic[1] !== cubic[7]) cubics.push(cubic);
  }
  return { subpaths: [joinCubics(cubics, closed)] };
}
