import { pixelDifference, type Strip } from "./strip.js";

/** The most rows that are looked for as repeated. */
const MOST_ROWS = 8;

/** Fewer changing rows than this prove nothing: straight lines across the seam repeat by themselves. */
const FEWEST_CHANGES = 4;

/** Columns looked at on each side of the doubled ones. */
const AROUND = 4;

const CHANGE = 3;

/** How many rows differ between two columns of the strip, and how many of them by nearly nothing. */
function countChanges(strip: Strip, one: number, other: number, least: number): number {
  let changes = 0;
  for (let t = 0; t < strip.length; t++) {
    const row = t * 2 * strip.half;
    if (pixelDifference(strip, row + one, row + other) >= least) changes++;
  }
  return changes;
}

/**
 * How many of the picture's last rows (or columns) repeat its first ones; 0 for none. Where neighbours inside differ and the
 * pixels across the seam do not, a row stands there twice. A print that is mirrored in its edge is no such fault.
 */
export function countDoubled(strip: Strip): number {
  const { half } = strip;
  for (let count = MOST_ROWS; count >= 1; count--) {
    // The near side's last `count` columns against the far side's first.
    let equal = true;
    for (let i = 0; i < count && equal; i++)
      equal = countChanges(strip, half - count + i, half + i, CHANGE) === 0;
    if (!equal) continue;
    const around = Array.from({ length: AROUND }, (_, k) => [
      countChanges(strip, half - count - 1 - k, half - count - k, CHANGE),
      countChanges(strip, half + count - 1 + k, half + count + k, CHANGE),
    ]).flat();
    // Where few rows change from column to column, none do now and then.
    if (Math.min(...around.slice(0, 4)) < FEWEST_CHANGES || Math.min(...around) < FEWEST_CHANGES - 1)
      continue;
    if (count === 1 && countChanges(strip, half - 2, half + 1, CHANGE) === 0) return 0;
    return count;
  }
  return 0;
}
