import { pixelDifference, type Strip } from "../strip/strip.js";
import { looksLike, passesAt } from "./beside-seam.js";

/** The columns in which the corners of a square side are looked at, and how far they may lean, in rows. */
const CORNER_COLUMNS = [1, 2] as const;
const CORNER_LEAN = 2;

/** Where the shape is deeper than a line, its corners must be square as far in as this: no more than 1 in 4 off. */
const DEEP_COLUMN = 9;

/** A rounded end stays beside the seam for this many rows before it turns off. */
const ROUND_END = 2;

/**
 * Tells whether a piece is the straight side of a shape that happens to end at the seam: at one end at least the shape's
 * own outline turns square away from the seam, with the same two colours, and at the other it does too, or an outline
 * passes there on both sides. A motif that is cut has outlines of its own that end at the cut, or leaves it at a slant.
 */
export function isSquareSide(
  strip: Strip,
  from: number,
  to: number,
  middle: number,
  beside: { readonly above: number; readonly below: number },
): boolean {
  const { half } = strip;
  return [-1, 1].some((side) => {
    const inside = side === -1 ? middle : middle + 1;
    const outside = side === -1 ? middle + 1 : middle;
    const deep = side === -1 ? half - 1 - DEEP_COLUMN : half + DEEP_COLUMN;
    const isDeep = DEEP_COLUMN < half && looksLike(strip, Math.floor((from + to - 1) / 2), deep, inside);
    const columns = isDeep ? [...CORNER_COLUMNS, DEEP_COLUMN] : CORNER_COLUMNS;
    const turnsAt = (within: number, beyond: number) =>
      columns.every((k) => {
        const column = side === -1 ? half - 1 - k : half + k;
        return looksLike(strip, beyond, column, outside) && looksLike(strip, within, column, inside);
      });
    const isRound = (rows: number) => rows >= ROUND_END;
    const start = turnsAt(from + CORNER_LEAN, from - 1 - CORNER_LEAN);
    const end = turnsAt(to - 1 - CORNER_LEAN, to + CORNER_LEAN);
    return (
      (start && (end || isRound(beside.below))) ||
      (end && isRound(beside.above)) ||
      (start && passesAt(strip, to, middle)) ||
      (end && passesAt(strip, from - 3, middle))
    );
  });
}

/** A line that follows the seam is no wider than this, in columns, and follows it over this share of a piece. */
const WIDEST_LINE = 12;
const LINE_SHARE = 0.7;

/**
 * The side on which a thin line of even width runs along the seam: an outline that happens to touch it. Both
 * its sides are as straight as the seam, so its width is that of most rows or, where it ends within a pixel, the next.
 */
export function lineAlong(strip: Strip, from: number, to: number, middle: number): -1 | 1 | undefined {
  const { half, length } = strip;
  return ([-1, 1] as const).find((side) => {
    const plateau = side === -1 ? middle : middle + 1;
    const rowsOfWidth = new Float64Array(WIDEST_LINE + 2);
    for (let t = from; t < to; t++) {
      const row = (t % length) * 2 * half;
      for (let k = 1; k <= WIDEST_LINE; k++) {
        const column = side === -1 ? half - 1 - k : half + k;
        if (pixelDifference(strip, row + column, plateau) <= strip.plateau) continue;
        rowsOfWidth[k] = (rowsOfWidth[k] as number) + 1;
        break;
      }
    }
    const even = rowsOfWidth.reduce((most, rows, k) => Math.max(most, rows + (rowsOfWidth[k + 1] ?? 0)), 0);
    return even >= LINE_SHARE * (to - from);
  });
}
