import type { Point } from "../../geometry/affine.js";
import { boxOverlap } from "../../geometry/box.js";
import type { Tile } from "../../repeat/index.js";
import { aTile } from "../checks.js";
import { listTileShapes, type TileShape } from "./tile-shapes.js";

/** A shape that reaches over an edge of a tile and is not drawn again where the next tile shows it. */
export interface UnmatchedShape {
  /** The nearest id in the drawing, where there is one. */
  readonly id: string | undefined;
  /** What it is drawn as, for example "path". */
  readonly element: string;
  readonly paint: string;
  /** The edge or corner over which it reaches. */
  readonly over: "left" | "right" | "top" | "bottom" | "corner";
  /** The middle of its box, in mm of the tile. */
  readonly at: Point;
  /** Of its box, in mm. */
  readonly size: { readonly width: number; readonly height: number };
  /** Where the middle of its partner should lie, in mm of the tile. */
  readonly wanted: Point;
  /** How to mend it, in one sentence. */
  readonly mend: string;
}

/** What is left of a shape beyond an edge that a printer would not see: a hundredth of a mm, a tenth of a pixel at 254 dpi. */
const SEEN_MM = 0.01;

/** Copies may lie this far apart, in mm: drawing programs write places with two or three digits. */
const SAME_MM = 0.03;

/** A tile that is crossed by more copies of one shape than this in a row is no tile. */
const FURTHEST = 20;

/**
 * Tells which shapes of an SVG tile reach over an edge and lack their partner, from the drawing alone: no pixels, so
 * no resolution, and the very shape is named. Shapes are compared by outline and paint; uprights that run from edge to
 * edge, such as grounds and stripes, match themselves. The tile's `repeats` and `offset` say where its neighbours lie.
 *
 * @param tile - A tile of ours, or any SVG with its size in mm, the axes along which it repeats, and the offset of the
 * next tile (0 and 0 for one that repeats by itself).
 * @returns The shapes without a partner, in paint order; none for a tile that closes.
 * @throws {@link RepetendError} The codes of `motif`, for SVG that cannot be read.
 * @example
 * ```ts
 * import { findUnmatched } from "repetend";
 * const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">' +
 *   '<circle id="shell" cx="40" cy="20" r="9" fill="#1b2a41"/></svg>';
 * const [lone] = findUnmatched({ svg, width: 40, height: 40, repeats: { x: true, y: true }, offset: { x: 0, y: 0 } });
 * lone?.id; // "shell"
 * lone?.over; // "right"
 * lone?.wanted; // { x: 0, y: 20 }
 * ```
 */
export function findUnmatched(tile: Omit<Tile, "kind">): readonly UnmatchedShape[] {
  aTile(tile, "tile");
  const { width, height } = tile;
  const window = { x: 0, y: 0, width, height };
  const shapes = listTileShapes(tile.svg, width, height);
  const known = indexByPaint(shapes);
  return shapes.flatMap((shape) => {
    if (boxOverlap(shape.box, window) === undefined) return [];
    return neighbourMoves(shape, tile).flatMap(({ move, over }): readonly UnmatchedShape[] => {
      const box = { ...shape.box, x: shape.box.x + move.x, y: shape.box.y + move.y };
      const shown = boxOverlap(box, window);
      if (shown === undefined || shown.width < SEEN_MM || shown.height < SEEN_MM) return [];
      if ((known.get(keyOf(shape)) ?? []).some((other) => isCopy(other, shape, move))) return [];
      const at = { x: tidy(shape.box.x + shape.box.width / 2), y: tidy(shape.box.y + shape.box.height / 2) };
      const wanted = { x: tidy(at.x + move.x), y: tidy(at.y + move.y) };
      const name = shape.id === undefined ? `a ${shape.element}` : `"${shape.id}"`;
      const { id, element } = shape;
      const [paint = ""] = shape.paint.split("|");
      const mend =
        `${name} at ${at.x}, ${at.y} mm reaches over the ${over === "corner" ? "corner" : `${over} edge`}: ` +
        `draw it again at ${wanted.x}, ${wanted.y} mm, at the same place in the paint order`;
      const size = { width: shape.box.width, height: shape.box.height };
      return [{ id, element, paint, over, at, size, wanted, mend }];
    });
  });
}

const tidy = (value: number): number => Number(value.toFixed(3)) + 0;

const keyOf = (shape: TileShape): string => `${shape.element} ${shape.outline.length} ${shape.paint}`;

function indexByPaint(shapes: readonly TileShape[]): ReadonlyMap<string, readonly TileShape[]> {
  const index = new Map<string, TileShape[]>();
  for (const shape of shapes) {
    const same = index.get(keyOf(shape));
    if (same) same.push(shape);
    else index.set(keyOf(shape), [shape]);
  }
  return index;
}

function isCopy(other: TileShape, shape: TileShape, move: Point): boolean {
  if (Math.abs(other.box.x - shape.box.x - move.x) > SAME_MM) return false;
  if (Math.abs(other.box.y - shape.box.y - move.y) > SAME_MM) return false;
  return other.outline.every((value, k) => Math.abs(value - (shape.outline[k] ?? 0)) <= SAME_MM);
}

/** Every move by whole tiles that may bring a shape back into the tile. */
function neighbourMoves(
  { box, isUpright }: TileShape,
  { width, height, repeats, offset }: Omit<Tile, "kind">,
): readonly { readonly move: Point; readonly over: UnmatchedShape["over"] }[] {
  const far = (size: number, side: number) => Math.min(FURTHEST, Math.ceil(size / side) + 1);
  const across = repeats.x ? far(box.width, width) : 0;
  // With an offset a tile further along lies lower, so that more of them down may reach in.
  const down = repeats.y ? far(box.height, height) + (offset.y === 0 ? 0 : across) : 0;
  const acrossToo = across + (offset.x === 0 ? 0 : down);
  const spans = {
    x: isUpright && offset.y === 0 && box.x <= SEEN_MM && box.x + box.width >= width - SEEN_MM,
    y: isUpright && offset.x === 0 && box.y <= SEEN_MM && box.y + box.height >= height - SEEN_MM,
  };
  const moves = [];
  for (let j = -down; j <= down; j++) {
    for (let i = -acrossToo; i <= acrossToo; i++) {
      if ((i === 0 && j === 0) || (spans.x && i !== 0) || (spans.y && j !== 0)) continue;
      const move = { x: i * width + j * offset.x, y: i * offset.y + j * height };
      moves.push({ move, over: overWhich(i, j) });
    }
  }
  return moves;
}

/** A shape that is wanted further left reaches over the right edge. */
function overWhich(i: number, j: number): UnmatchedShape["over"] {
  if (i !== 0 && j !== 0) return "corner";
  if (i !== 0) return i < 0 ? "right" : "left";
  return j < 0 ? "bottom" : "top";
}
