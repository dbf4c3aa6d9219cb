import type { Strip } from "../strip/strip.js";
import type { Stretch } from "../types.js";

/** Rows that are judged together. */
const WINDOW = 32;

/** In a texture at least this part of the neighbouring pixels differ. */
const TEXTURED = 0.6;
const LEAST_DIFFERENCE = 0.3;

/** A texture is torn where the mean jump at the seam is this many times the largest of the places beside it, and more. */
const TIMES = 2;
const BEYOND = 1.5;

/** A texture that does not close is torn along much of the edge; one straight side in a grainy picture is not. */
const LEAST_SHARE = 0.15;

/**
 * Stretches in which a texture (a photograph, a wash, a noise) does not go on over the seam: the jumps there stand out from
 * those at every other place in the strip. Drawn shapes on a plain ground are not judged here.
 */
export function findTorn(
  strip: Strip,
  jumps: Float32Array,
): readonly (Stretch & { readonly worst: number })[] {
  const across = 2 * strip.half - 1;
  const seam = strip.half - 1;
  const torn: { from: number; to: number; worst: number }[] = [];
  const sums = new Float64Array(across);
  for (let from = 0; from < strip.length; from += WINDOW / 2) {
    const to = Math.min(strip.length, from + WINDOW);
    if (to - from < WINDOW / 2) break;
    sums.fill(0);
    let [textured, worst] = [0, 0];
    for (let t = from; t < to; t++)
      for (let j = 0; j < across; j++) {
        const jump = jumps[t * across + j] as number;
        sums[j] = (sums[j] as number) + jump;
        if (j !== seam && jump > LEAST_DIFFERENCE) textured++;
        if (j === seam) worst = Math.max(worst, jump);
      }
    const rows = to - from;
    if (textured < TEXTURED * rows * (across - 1)) continue;
    let most = 0;
    for (let j = 0; j < across; j++) if (j !== seam) most = Math.max(most, (sums[j] as number) / rows);
    if ((sums[seam] as number) / rows < TIMES * most + BEYOND) continue;
    const last = torn.at(-1);
    if (last && from <= last.to) {
      last.to = to;
      last.worst = Math.max(last.worst, worst);
    } else torn.push({ from, to, worst });
  }
  const rows = torn.reduce((sum, { from, to }) => sum + to - from, 0);
  return rows >= LEAST_SHARE * strip.length ? torn : [];
}
