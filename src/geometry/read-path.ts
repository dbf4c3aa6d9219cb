import svgpath from "svgpath";
import { aText } from "../checks.js";
import { RepetendError } from "../errors.js";
import { arcCubics } from "./arc.js";
import { type Cubic, type CubicPath, type Subpath, straightCubic } from "./cubic-path.js";

/**
 * Reads a path's `d` into cubics: relative and short commands are resolved, quadratics are raised exactly, and arcs
 * are split until they lie within 5e-6 of their larger radius, their end points exactly as given. The numbers keep
 * the unit of the data. Empty data and `none` give a path without runs, and a lone `M` draws nothing and is dropped.
 *
 * @throws {@link RepetendError} `E_NUMBER` for data that do not follow the grammar or whose numbers are not finite.
 * @example
 * ```ts
 * import { pathBounds, readPath } from "repetend";
 * pathBounds(readPath("M 0 0 h 10 v 20 z")); // { x: 0, y: 0, width: 10, height: 20 }
 * ```
 */
export function readPath(d: string): CubicPath {
  aText(d, "d");
  const trimmed = d.trim();
  if (trimmed === "" || trimmed === "none") return { subpaths: [] };
  const parsed = svgpath(d) as ReturnType<typeof svgpath> & { readonly err: string };
  if (parsed.err !== "") {
    const place = /at pos (\d+)/.exec(parsed.err)?.[1];
    throw badData(parsed.err.replace(/^SvgPath: /, "").replace(/ \(at pos \d+\)$/, ""), d, place);
  }
  const pen = new Pen();
  parsed
    .abs()
    .unshort()
    .iterate((segment, index, x, y) => {
      const [command, ...numbers] = segment as readonly [string, ...number[]];
      if (!numbers.every(Number.isFinite)) throw badData(`command ${index + 1} has a number out of range`, d);
      draw(pen, command, numbers, x, y, d);
    });
  return { subpaths: pen.finish() };
}

function badData(problem: string, d: string, place?: string): RepetendError {
  return new RepetendError("E_NUMBER", `path data that cannot be read: ${problem}`, {
    value: place === undefined ? d : d.slice(Math.max(0, Number(place) - 20), Number(place) + 20),
    ...(place === undefined ? {} : { where: `d, character ${Number(place) + 1}` }),
    accepted: "the path grammar of SVG 2, chapter Paths",
  });
}

function draw(pen: Pen, command: string, numbers: readonly number[], x: number, y: number, d: string): void {
  const [a = 0, b = 0, c = 0, e = 0, f = 0, g = 0, h = 0] = numbers;
  switch (command) {
    case "M":
      pen.move(a, b);
      return;
    case "L":
      pen.add(straightCubic(x, y, a, b));
      return;
    case "H":
      pen.add(straightCubic(x, y, a, y));
      return;
    case "V":
      pen.add(straightCubic(x, y, x, a));
      return;
    case "C":
      pen.add([x, y, a, b, c, e, f, g]);
      return;
    case "Q":
      pen.add(raiseQuadratic(x, y, a, b, c, e));
      return;
    case "A": {
      const arc = { radiusX: a, radiusY: b, turn: c, large: e !== 0, sweep: f !== 0 };
      for (const cubic of arcCubics(x, y, arc, g, h)) pen.add(cubic);
      return;
    }
    case "Z":
    case "z":
      pen.close();
      return;
    default:
      throw badData(`command ${command} is not one of SVG's`, d);
  }
}

function raiseQuadratic(x0: number, y0: number, cx: number, cy: number, x1: number, y1: number): Cubic {
  return [
    x0,
    y0,
    x0 + (2 * (cx - x0)) / 3,
    y0 + (2 * (cy - y0)) / 3,
    x1 + (2 * (cx - x1)) / 3,
    y1 + (2 * (cy - y1)) / 3,
    x1,
    y1,
  ];
}

/** Collects the runs of one path; lives as long as one call of `readPath`. */
class Pen {
  readonly #subpaths: Subpath[] = [];
  #points: number[] = [];
  #startX = 0;
  #startY = 0;

  move(x: number, y: number): void {
    this.#end(false);
    this.#startX = x;
    this.#startY = y;
  }

  add(cubic: Cubic): void {
    if (this.#points.length === 0) this.#points.push(cubic[0], cubic[1]);
    this.#points.push(cubic[2], cubic[3], cubic[4], cubic[5], cubic[6], cubic[7]);
  }

  close(): void {
    if (this.#points.length === 0) this.#points.push(this.#startX, this.#startY);
    const x = this.#points[this.#points.length - 2] ?? this.#startX;
    const y = this.#points[this.#points.length - 1] ?? this.#startY;
    if (x !== this.#startX || y !== this.#startY) this.add(straightCubic(x, y, this.#startX, this.#startY));
    this.#end(true);
  }

  finish(): readonly Subpath[] {
    this.#end(false);
    return this.#subpaths;
  }

  #end(closed: boolean): void {
    if (this.#points.length > 0) this.#subpaths.push({ closed, points: this.#points });
    this.#points = [];
  }
}
