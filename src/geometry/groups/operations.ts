import { aNumber, aText, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { type Affine, compose, invert, type Point } from "../affine.js";
import {
  type CellSystem,
  FRIEZE_POSITIONS,
  type FriezeGroup,
  PLANE_POSITIONS,
  PLANE_SYSTEMS,
  type PlaneGroup,
} from "./positions.js";

/** The two shortest steps of a plane group's lattice, in any one unit. */
export interface PlaneCell {
  readonly a: Point;
  readonly b: Point;
}

/** The one step of a frieze; its axis runs through the origin. */
export interface FriezeCell {
  readonly a: Point;
}

/** How far a cell may miss the shape that its group asks for, as a share of its size: rounding, not drawing. */
const SHAPE_TOLERANCE = 1e-9;

const aPoint = partsOf<Point>({ x: aNumber, y: aNumber });
const aCell = partsOf<PlaneCell>({ a: aPoint, b: maybe(aPoint) });

/**
 * The operations of a plane group, one for each general position, as maps in the unit of the cell. All others are
 * these followed by whole steps of the cell. Their order is that of International Tables, the identity first.
 *
 * The cell must have the shape that the group's system asks for: any for `p1` and `p2`, a right angle up to `c2mm`, a
 * square for `p4…`, equal steps at 120 degrees from `p3` on. `planeCell` makes a fitting one.
 *
 * @throws {@link RepetendError} `E_LAYOUT` for an unknown symbol or a cell of the wrong shape.
 * @example
 * ```ts
 * import { groupOperations, planeCell } from "repetend";
 * groupOperations("p4gm", planeCell("p4gm", 64)).length; // 8
 * ```
 */
export function groupOperations(symbol: PlaneGroup, cell: PlaneCell): readonly Affine[];
/** The operations of a frieze group along `cell.a`; see the other form. */
export function groupOperations(symbol: FriezeGroup, cell: FriezeCell): readonly Affine[];
export function groupOperations(
  symbol: PlaneGroup | FriezeGroup,
  cell: PlaneCell | FriezeCell,
): readonly Affine[] {
  aText(symbol, "symbol");
  aCell(cell, "cell");
  const plane = "b" in cell && cell.b !== undefined;
  const list = plane ? lookUp(PLANE_POSITIONS, symbol) : lookUp(FRIEZE_POSITIONS, symbol);
  const across = plane ? cell.b : { x: -cell.a.y, y: cell.a.x };
  if (plane) checkCell(symbol as PlaneGroup, cell);
  const basis: Affine = { a: cell.a.x, b: cell.a.y, c: across.x, d: across.y, e: 0, f: 0 };
  const back = invert(basis);
  if (back === undefined || !Object.values(basis).every(Number.isFinite))
    throw new RepetendError("E_LAYOUT", "a cell without area", { value: JSON.stringify(cell) });
  return list.split(" ").map((position) => compose(basis, readPosition(position), back));
}

/**
 * A cell that suits a plane group: upright, `a` along x. Square and hexagonal cells take `width` only.
 *
 * @throws {@link RepetendError} `E_LAYOUT` for sizes that are not finite and positive.
 */
export function planeCell(symbol: PlaneGroup, width: number, height: number = width): PlaneCell {
  aText(symbol, "symbol");
  lookUp(PLANE_POSITIONS, symbol);
  if (!(width > 0 && height > 0 && Number.isFinite(width + height)))
    throw new RepetendError("E_LAYOUT", "a cell needs a width and a height", {
      value: `${width} x ${height}`,
    });
  const a = { x: width, y: 0 };
  switch (PLANE_SYSTEMS[symbol]) {
    case "oblique":
    case "rectangular":
      return { a, b: { x: 0, y: height } };
    case "square":
      return { a, b: { x: 0, y: width } };
    case "hexagonal":
      return { a, b: { x: -width / 2, y: (width * Math.sqrt(3)) / 2 } };
  }
}

/** Reads one general position, such as `-x+1/2,y`, as a map of fractional coordinates. */
export function readPosition(position: string): Affine {
  const [along = "", across = ""] = position.split(",");
  const [a, c, e] = readTerms(along);
  const [b, d, f] = readTerms(across);
  return { a, b, c, d, e, f };
}

function readTerms(text: string): readonly [number, number, number] {
  let [x, y, shift] = [0, 0, 0];
  for (const [, sign = "", term = ""] of text.matchAll(/([+-]?)(x|y|1\/2)/g)) {
    const factor = sign === "-" ? -1 : 1;
    if (term === "x") x += factor;
    else if (term === "y") y += factor;
    else shift += factor / 2;
  }
  return [x, y, shift];
}

function lookUp(table: Readonly<Record<string, string>>, symbol: string): string {
  const list = Object.hasOwn(table, symbol) ? table[symbol] : undefined;
  if (list === undefined)
    throw new RepetendError("E_LAYOUT", "no such group", {
      value: symbol,
      accepted: Object.keys(table).join(", "),
    });
  return list;
}

function checkCell(symbol: PlaneGroup, { a, b }: PlaneCell): void {
  const system: CellSystem = PLANE_SYSTEMS[symbol];
  const [lengthA, lengthB] = [Math.hypot(a.x, a.y), Math.hypot(b.x, b.y)];
  const cosine = (a.x * b.x + a.y * b.y) / (lengthA * lengthB);
  const wanted = system === "hexagonal" ? -0.5 : 0;
  const angleFits = system === "oblique" || Math.abs(cosine - wanted) <= SHAPE_TOLERANCE;
  const even = system === "square" || system === "hexagonal";
  const sidesFit = !even || Math.abs(lengthA / lengthB - 1) <= SHAPE_TOLERANCE;
  if (!angleFits || !sidesFit)
    throw new RepetendError("E_LAYOUT", `a cell that ${symbol} cannot repeat in`, {
      value: JSON.stringify({ a, b }),
      accepted: `a ${system} cell`,
    });
}
