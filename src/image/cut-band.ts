import type { PlaneBand } from "./ink-planes.js";

/** Some rows of a band, and their pixels several times side by side. */
export function cutBand(band: PlaneBand, from: number, height: number, times: number = 1): PlaneBand {
  if (from === 0 && height === band.height && times === 1) return band;
  const first = band.rows[from] ?? 0;
  const last = band.rows[from + height] ?? 0;
  const rows = new Uint32Array(height + 1);
  const ends = new Uint32Array((last - first) * times);
  const mixes = new Uint32Array(ends.length);
  let at = 0;
  for (let row = 0; row < height; row++) {
    rows[row] = at;
    const start = band.rows[from + row] ?? 0;
    const end = band.rows[from + row + 1] ?? 0;
    for (let time = 0; time < times; time++) {
      for (let run = start; run < end; run++) {
        ends[at] = time * band.width + (band.ends[run] ?? 0);
        mixes[at++] = band.mixes[run] ?? 0;
      }
    }
  }
  rows[height] = at;
  return { y: band.y + from, width: band.width * times, height, rows, ends, mixes, table: band.table };
}
