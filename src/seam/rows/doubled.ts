import { pixelDifference, type Strip } from "../strip/strip.js";

/** The most rows that are looked for as repeated. */
const MOST_ROWS = 8;

/**
 * Fewer changing rows than this prove nothing: straight lines across the seam repeat by themselves. Next to the doubled rows,
 * and further off, where one column may change less than the others.
 */
const FEWEST_CHANGES = { beside: 4, around: 3 } as const;

/** Columns looked at on each side of the doubled ones. */
const AROUND = 4;

const CHANGE = 3;

/** How many rows differ between two columns of the strip. */
function countChanges(strip: Strip, one: number, other: number, least: number): number {
  let changes = 0;
  for (let t = 0; t < strip.length; t++) {
    const row = t * 2 * strip.half;
    if (pixelDifference(strip, row + one, row + other) >= least) changes++;
  }
  return changes;
}

/** Doubled rows are the same to the last level, but where there is grain. */
function isSame(strip: Strip, one: number, other: number): boolean {
  if (strip.isGrainy) return countChanges(strip, one, other, CHANGE) === 0;
  for (let t = 0; t < strip.length; t++)
    if (strip.key[t * 2 * strip.half + one] !== strip.key[t * 2 * strip.half + other]) return false;
  return true;
}

/**
 * How many of the picture's last rows (or columns) repeat its first ones; 0 for none. Where neighbours inside differ and the
 * pixels across the seam do not, a row stands there twice. A print that is mirrored in its edge is no such fault.
 */
export function countDoubled(strip: Strip): number {
  const { half } = strip;
  for (let count = MOST_ROWS; count >= 1; count--) {
    // The near side's last `count` columns against the far side's first.
    if (!Array.from({ length: count }, (_, i) => isSame(strip, half - count + i, half + i)).every(Boolean))
      continue;
    // Rows that are alike among themselves are straight lines across the seam, which say nothing.
    const changesAt = (column: number) => countChanges(strip, column, column + 1, CHANGE);
    const inside = Array.from({ length: count - 1 }, (_, i) => changesAt(half + i));
    if (count > 1 && Math.max(...inside) < FEWEST_CHANGES.beside) continue;
    const around = Array.from({ length: AROUND }, (_, k) => [
      changesAt(half - count - 1 - k),
      changesAt(half + count - 1 + k),
    ]).flat();
    if (Math.min(...around.slice(0, 2)) < FEWEST_CHANGES.beside) continue;
    if (around.filter((changes) => changes < FEWEST_CHANGES.around).length > 1) continue;
    if (count === 1 && countChanges(strip, half - 2, half + 1, CHANGE) === 0) return 0;
    return count;
  }
  return 0;
}
