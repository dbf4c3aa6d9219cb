import { pixelDifference, type Strip } from "../strip/strip.js";

/** The row of a place along the seam, `undefined` beyond the selvedges of a border. */
export const rowIndex = (strip: Strip, t: number): number | undefined =>
  strip.cyclic
    ? ((t % strip.length) + strip.length) % strip.length
    : t >= 0 && t < strip.length
      ? t
      : undefined;

/**
 * Where the outline between two plateaus passes in a row, in columns from the seam, or `undefined` when it passes further
 * than two columns away or not at all. Of a soft outline, the mixed pixel says where in it the outline runs.
 */
function outlineAt(strip: Strip, t: number, near: number, far: number): number | undefined {
  const row = rowIndex(strip, t);
  if (row === undefined) return undefined;
  const seam = row * 2 * strip.half + strip.half;
  for (const k of [-1, 0, -2, 1]) {
    if (pixelDifference(strip, seam + k - 1, near) > strip.plateau) continue;
    if (pixelDifference(strip, seam + k + 1, far) > strip.plateau) continue;
    const share = shareOfFar(strip, seam + k, near, far);
    if (share !== undefined) return k + 1 - share;
  }
  return undefined;
}

/** How much of the far plateau a mixed pixel holds, 0 to 1; `undefined` for a pixel of a third colour. */
function shareOfFar({ lab }: Strip, pixel: number, near: number, far: number): number | undefined {
  let [dot, length, away] = [0, 0, 0];
  for (let i = 0; i < 4; i++) {
    const axis = (lab[4 * far + i] as number) - (lab[4 * near + i] as number);
    const own = (lab[4 * pixel + i] as number) - (lab[4 * near + i] as number);
    dot += axis * own;
    length += axis * axis;
    away += own * own;
  }
  const share = Math.min(1, Math.max(0, dot / length));
  // Mixing is linear in light or in sRGB, so a mixed pixel lies a little beside the line in Lab.
  const beside = Math.sqrt(Math.max(0, away - 2 * share * dot + share * share * length));
  return beside <= 5 + 0.2 * Math.sqrt(length) ? share : undefined;
}

/** Nearer to the seam than this, in columns, an outline is the step itself; further off it passes beside. */
const BESIDE = { from: 0.15, to: 1.25 } as const;

/** How many rows, from `t` on in one direction, the outline passes beside the seam, within about a column of it. */
export function rowsBeside(
  strip: Strip,
  t: number,
  direction: -1 | 1,
  near: number,
  far: number,
  most: number,
): number {
  let rows = 0;
  for (let k = 0; rows < most && k < most + 3; k++) {
    const at = Math.abs(outlineAt(strip, t + direction * k, near, far) ?? Number.POSITIVE_INFINITY);
    if (at > BESIDE.to) break;
    if (at > BESIDE.from) rows++;
  }
  return rows;
}

/** Tells whether a pixel is of a plateau. */
export const looksLike = (strip: Strip, t: number, column: number, plateau: number): boolean => {
  const row = rowIndex(strip, t);
  return row !== undefined && pixelDifference(strip, row * 2 * strip.half + column, plateau) <= strip.plateau;
};

/** Tells whether an outline of a third colour runs over the seam somewhere in the three rows from `t` on. */
export const passesAt = (strip: Strip, t: number, middle: number): boolean =>
  [0, 1, 2].some((k) =>
    [strip.half - 1, strip.half].every(
      (column) => !looksLike(strip, t + k, column, middle) && !looksLike(strip, t + k, column, middle + 1),
    ),
  );

/** A pixel of a plateau may be mixed by so much with what lies beside it, CIEDE2000: a third colour differs by more. */
const MOST_MIXED = 6;

/**
 * Tells whether an outline of a third colour runs over the seam from row `t` on in one direction, however steeply: before it
 * lies on both sides, nothing shows on either but the side's own plateau and that colour, pure or mixed.
 */
export function climbsOver(strip: Strip, t: number, direction: -1 | 1, middle: number): boolean {
  const { half, length } = strip;
  const plateaus = [middle, middle + 1] as const;
  const pixelsAt = (k: number): readonly [number, number] | undefined => {
    const row = rowIndex(strip, t + direction * k);
    return row === undefined ? undefined : [row * 2 * half + half - 1, row * 2 * half + half];
  };
  const isLike = (one: number, other: number) => pixelDifference(strip, one, other) <= strip.plateau;
  for (let k = 0; k < length; k++) {
    const pixels = pixelsAt(k);
    if (pixels === undefined) return false;
    const [near, far] = pixels;
    // Where a side shows the plateau of the other one, the outline between the two has turned off.
    if (isLike(near, middle + 1) || isLike(far, middle)) return false;
    if (isLike(near, middle) || isLike(far, middle + 1) || !isLike(near, far)) continue;
    if (plateaus.some((plateau) => pixelDifference(strip, plateau, near) <= MOST_MIXED)) return false;
    for (let j = 0; j < k; j++)
      for (const [side, pixel] of (pixelsAt(j) ?? []).entries())
        if (shareOfFar(strip, pixel, plateaus[side] as number, near) === undefined) return false;
    return true;
  }
  return false;
}
