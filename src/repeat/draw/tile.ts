import { maybe, oneOf, partsOf } from "../../checks.js";
import { latticePoint } from "../../geometry/lattice.js";
import { aPrint, FIELD_PARTS } from "../checks.js";
import type { Print, Tile } from "../types.js";
import { type FieldOptions, field } from "./field.js";
import { latticeOf } from "./lattice-of.js";
import { rectangleOf } from "./layers.js";

/** How a tile is cut. */
export interface TileOptions extends FieldOptions {
  /**
   * "rectangle": the smallest rectangle that repeats by itself. "cell": one cell of the lattice, whose neighbour is
   * laid with the tile's `offset`; the same for straight repeats and borders. Default "rectangle".
   */
  readonly extent?: "rectangle" | "cell";
}

const anExtent = oneOf("rectangle", "cell");

/** The part of a print that a tile shows, in mm, and the offset of its neighbour. */
export function tileExtent(
  print: Print,
  extent: "rectangle" | "cell",
): {
  readonly width: number;
  readonly height: number;
  readonly offset: { readonly x: number; readonly y: number };
} {
  aPrint(print, "print");
  anExtent(extent, "extent");
  if (print.kind === "border" || extent === "rectangle")
    return { ...rectangleOf(print), offset: { x: 0, y: 0 } };
  const lattice = latticeOf(print);
  const { width, height } = lattice;
  const offset =
    lattice.along === "column"
      ? { x: 0, y: latticePoint(lattice, 1, 0).y }
      : { x: latticePoint(lattice, 0, 1).x, y: 0 };
  return { width, height, offset };
}

/**
 * The tile of a print: the window of the endless cloth that repeats. Laid edge to edge (with its `offset`, 0 for the
 * rectangle that repeats by itself) it is the field. A border repeats along x only.
 *
 * @example
 * ```ts
 * import { brick, tile } from "repetend";
 * const print = brick({ name: "Plain", width: 100, height: 60, ground: "#f2ead8", motifs: [] });
 * tile(print).height; // 120: two rows
 * tile(print, { extent: "cell" }).offset; // { x: 50, y: 0 }
 * ```
 */
export function tile(print: Print, options: TileOptions = {}): Tile {
  partsOf<TileOptions>({ ...FIELD_PARTS, extent: maybe(anExtent) })(options, "options");
  const { width, height, offset } = tileExtent(print, options.extent ?? "rectangle");
  return {
    kind: "tile",
    width,
    height,
    svg: field(print, { width, height }, options),
    repeats: { x: true, y: print.kind === "all-over" },
    offset,
  };
}
