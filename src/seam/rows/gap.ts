import { pixelDifference, type Strip } from "../strip/strip.js";
import type { Stretch } from "../types.js";

/** A line along the edge that is not part of the print. */
export interface Gap {
  /** Pixel columns of the line on the near and on the far side of the seam. */
  readonly near: number;
  readonly far: number;
  /** Where it parts something. */
  readonly runs: readonly Stretch[];
  readonly worst: number;
  readonly rows: number;
}

/** The widest line that is looked for, in pixels: on both sides of the seam, and on one of them only. */
const WIDEST = { both: 3, one: 12 } as const;

/** The line parts at least this many rows: fewer lie between two motifs by chance. */
const FEWEST_ROWS = 10;

/** A gap runs along the whole edge; a line along a part of it belongs to a motif. */
const WHOLE_EDGE = 0.95;

const LEAST_STEP = 1.5;
const SAME_COLOUR = 2.5;

/** Lines of one colour that part pixels which agree without it, for a line of a given width. */
function measureGap(strip: Strip, near: number, far: number): Gap | undefined {
  const { length, half } = strip;
  const tally = new Map<number, number>();
  for (let t = 0; t < length; t++) {
    const key = strip.key[t * 2 * half + half - near] as number;
    if (near > 0) tally.set(key, (tally.get(key) ?? 0) + 1);
    else {
      const other = strip.key[t * 2 * half + half] as number;
      tally.set(other, (tally.get(other) ?? 0) + 1);
    }
  }
  const [colour, count] = [...tally].reduce((most, one) => (one[1] > most[1] ? one : most), [0, 0]);
  if (count < Math.max(FEWEST_ROWS, WHOLE_EDGE * length)) return undefined;
  const runs: { from: number; to: number }[] = [];
  let [worst, rows] = [0, 0];
  for (let t = 0; t < length; t++) {
    const seam = t * 2 * half + half;
    let isLine = true;
    for (let c = -near; c < far; c++) isLine &&= strip.key[seam + c] === colour;
    if (!isLine) continue;
    const before = pixelDifference(strip, seam - near - 1, seam - near);
    const after = pixelDifference(strip, seam + far - 1, seam + far);
    const least = Math.min(before, after);
    if (least < LEAST_STEP) continue;
    const closed = pixelDifference(strip, seam - near - 1, seam + far);
    if (closed > Math.max(SAME_COLOUR, 0.2 * least) || closed > least / 2) continue;
    rows++;
    worst = Math.max(worst, before, after);
    const last = runs.at(-1);
    if (last && t - last.to <= 8) last.to = t + 1;
    else runs.push({ from: t, to: t + 1 });
  }
  return rows < FEWEST_ROWS ? undefined : { near, far, runs, worst, rows };
}

/** How wide the lines are that are looked for. */
const WIDTHS = [
  ...Array.from({ length: WIDEST.both + 1 }, (_, near) =>
    Array.from({ length: WIDEST.both + 1 }, (_, far) => ({ near, far })),
  ).flat(),
  ...Array.from({ length: WIDEST.one - WIDEST.both }, (_, k) => k + WIDEST.both + 1).flatMap((width) => [
    { near: width, far: 0 },
    { near: 0, far: width },
  ]),
]
  .filter(({ near, far }) => near + far > 0)
  .sort((one, other) => one.near + one.far - other.near - other.far);

/** The line of one colour along the edge, a few pixels wide, without which the print would close. */
export function findGap(strip: Strip): Gap | undefined {
  let best: Gap | undefined;
  for (const { near, far } of WIDTHS) {
    if (Math.max(near, far) >= strip.half) continue;
    const gap = measureGap(strip, near, far);
    if (gap && gap.rows > (best?.rows ?? 0)) best = gap;
  }
  return best;
}
