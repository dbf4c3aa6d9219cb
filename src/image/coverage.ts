import { inkPlanes } from "./checks.js";
import { countMixes, type InkPlanes } from "./ink-planes.js";
import { FULL } from "./mixes.js";

/** How much of the cloth an ink covers. */
export interface InkCoverage {
  /** `#rrggbb`, or {@link BARE} for cloth without ink. */
  readonly ink: string;
  /** Of the repeat's area, 0 to 1. All shares add up to 1. */
  readonly share: number;
}

/**
 * The share of the repeat that each ink covers, in the planes' order of inks: the mean of its plane.
 *
 * @example
 * ```ts
 * import { coverageOf, planesOfImage } from "repetend";
 * const image = { width: 4, height: 1, channels: 1, data: Uint8Array.of(0, 255, 255, 255), stride: 4 } as const;
 * coverageOf(planesOfImage(image))[0]; // { ink: "#ffffff", share: 0.75 }
 * ```
 */
export function coverageOf(planes: InkPlanes): readonly InkCoverage[] {
  inkPlanes(planes, "planes");
  const sums = new Float64Array(planes.inks.length);
  for (const { height, rows, ends, mixes, table } of planes.bands) {
    const pixels = new Float64Array(countMixes(table));
    for (let y = 0; y < height; y++) {
      let start = 0;
      const last = rows[y + 1] ?? 0;
      for (let run = rows[y] ?? 0; run < last; run++) {
        const end = ends[run] ?? 0;
        const mix = mixes[run] ?? 0;
        pixels[mix] = (pixels[mix] ?? 0) + end - start;
        start = end;
      }
    }
    for (const [mix, count] of pixels.entries()) {
      const end = table.starts[mix + 1] ?? 0;
      for (let part = table.starts[mix] ?? 0; part < end; part++) {
        const ink = table.inks[part] ?? 0;
        sums[ink] = (sums[ink] ?? 0) + count * (table.weights[part] ?? 0);
      }
    }
  }
  const all = FULL * planes.width * planes.height;
  return planes.inks.map((ink, place) => ({ ink, share: (sums[place] ?? 0) / all }));
}
