/** The jumps that a hard-edged outline allows at the seam, in pixels, and its slope there. */
export interface Stairs {
  readonly least: number;
  readonly most: number;
  /** Rows a column. */
  readonly slope: number;
}

/** A hard edge runs within half a pixel of where it is drawn, and a little more where a renderer rounds. */
const HALF_STEP = 0.52;

/** Slopes to both sides of the likeliest, and bends, that are tried. Rows a column, and rows a column squared. */
const SLOPES = 0.6;
const BENDS = 0.06;

/** Rounds of golden-section search, each of which leaves 0.618 of the range: of the slope's, a thousandth of a row. */
const ROUNDS = 14;

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** What a course that misses its columns by a pixel costs, in pixels: more than any jump gains. */
const COST = 20;

interface Course {
  readonly value: number;
  readonly slope: number;
}

/** The largest value of a concave function (J. Kiefer, "Sequential minimax search for a maximum", Proc. AMS 4, 1953). */
function climb(middle: number, reach: number, valueAt: (x: number) => Course): Course {
  let [from, to] = [middle - reach, middle + reach];
  let low = valueAt(to - GOLDEN * (to - from));
  let high = valueAt(from + GOLDEN * (to - from));
  for (let round = 0; round < ROUNDS; round++) {
    if (low.value < high.value) {
      from = to - GOLDEN * (to - from);
      low = high;
      high = valueAt(from + GOLDEN * (to - from));
    } else {
      to = from + GOLDEN * (to - from);
      high = low;
      low = valueAt(to - GOLDEN * (to - from));
    }
  }
  return low.value < high.value ? high : low;
}

/**
 * The range of jumps for which one smooth course, a parabola, passes through the pixels of an outline on both sides of the
 * seam: a digital curve holds every course within half a pixel of it (A. Rosenfeld, "Digital straight line segments", IEEE
 * Transactions on Computers C-23, 1974), so that steps which merely happen to fall on the seam prove nothing.
 *
 * @param near places from the seam inwards, in rows; `far` likewise on the other side.
 * @param likely the slope, roughly.
 * @returns `undefined` where no such course passes through all of them.
 */
export function fitStairs(
  near: readonly number[],
  far: readonly number[],
  columns: number,
  likely: number,
): Stairs | undefined {
  const search = (sign: -1 | 1): Course =>
    climb(0, BENDS, (bend) =>
      climb(likely, SLOPES, (slope) => {
        let [nearLeast, nearMost] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
        let [farLeast, farMost] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
        for (let k = 0; k < columns; k++) {
          const x = k + 0.5;
          const bent = bend * x * x;
          const one = (near[k] as number) + slope * x - bent;
          const other = (far[k] as number) - slope * x - bent;
          if (one < nearLeast) nearLeast = one;
          if (one > nearMost) nearMost = one;
          if (other < farLeast) farLeast = other;
          if (other > farMost) farMost = other;
        }
        const jump = sign === 1 ? farLeast - nearMost + 2 * HALF_STEP : nearLeast - farMost + 2 * HALF_STEP;
        const missed =
          Math.max(0, nearMost - nearLeast - 2 * HALF_STEP) + Math.max(0, farMost - farLeast - 2 * HALF_STEP);
        return { value: jump - COST * missed, slope };
      }),
    );
  const most = search(1);
  const least = search(-1);
  return -least.value <= most.value
    ? { least: -least.value, most: most.value, slope: (least.slope + most.slope) / 2 }
    : undefined;
}
