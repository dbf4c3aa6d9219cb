import { pixelDifference, type Strip } from "../strip/strip.js";
import type { Stretch } from "../types.js";
import { type Contour, followContours } from "./contours.js";

/** A stretch between two outlines that pass the seam unbroken, in another ink on either side. */
export interface OtherInk {
  readonly px: Stretch;
  /** Rows at the seam, fractions kept. */
  readonly rows: number;
  readonly step: number;
}

/** Columns in which outlines are followed, and the fewest that tell where one goes on. */
const COLUMNS = 6;
const FEWEST_COLUMNS = 3;

/** How far off its course an outline may pass, in rows, to count as unbroken. */
const OFF_COURSE = { soft: 0.4, hard: 1.1 } as const;

/** Steeper outlines nearly follow the seam. Rows a column. */
const STEEPEST = 2.5;

/** A thinner stretch has no pixel of its own colour. */
const THINNEST = 2.2;

const LEAST_STEP = 3;

/** The pixel beside an outline may be mixed by so much that it does not count as a step of its own, CIEDE2000. */
const MIXED = 0.6;

const slopeOf = ({ places }: Contour): number => {
  const last = Math.min(places.length, COLUMNS) - 1;
  return ((places[last] as number) - (places[0] as number)) / last;
};

interface Passing {
  readonly near: Contour;
  readonly far: Contour;
  /** Where it passes the seam. */
  readonly at: number;
}

/** Outlines of the near side, each with the one of the far side that goes on its course, whatever the inks. */
function findPassing(strip: Strip, edges: "soft" | "hard"): readonly Passing[] {
  const follow = (side: -1 | 1) =>
    followContours(strip, side, COLUMNS)
      .filter((one) => one.places.length >= FEWEST_COLUMNS && Math.abs(slopeOf(one)) <= STEEPEST)
      .sort((one, other) => (one.places[0] as number) - (other.places[0] as number));
  const nears = follow(-1);
  const fars = follow(1);
  const passing: Passing[] = [];
  let start = 0;
  for (const near of nears) {
    const from = near.places[0] as number;
    while (start < fars.length && ((fars[start] as Contour).places[0] as number) < from - 6) start++;
    let best: Passing | undefined;
    let least: number = OFF_COURSE[edges];
    for (let i = start; i < fars.length; i++) {
      const far = fars[i] as Contour;
      const to = far.places[0] as number;
      if (to > from + 6) break;
      // Half a column from each side to the seam: the near side's slope runs inwards, so against the way over.
      const off = Math.abs(to - slopeOf(far) / 2 - (from - slopeOf(near) / 2));
      const isSmooth = Math.abs(slopeOf(far) + slopeOf(near)) <= 0.7 + 0.3 * Math.abs(slopeOf(near));
      if (off > least || !isSmooth) continue;
      best = { near, far, at: (from + to) / 2 };
      least = off;
    }
    if (best) passing.push(best);
  }
  return passing;
}

/** The pixel in the middle between two outlines, in the column next to the seam, where it is of a plateau. */
function plateauBetween(strip: Strip, upper: Contour, lower: Contour, side: -1 | 1): number | undefined {
  const { half, length } = strip;
  const pixelAt = (k: number): number => {
    const middle = Math.round(((upper.places[k] as number) + (lower.places[k] as number)) / 2);
    const row = ((middle % length) + length) % length;
    return row * 2 * half + (side === -1 ? half - 1 - k : half + k);
  };
  const pixel = pixelAt(0);
  return pixelDifference(strip, pixel, pixelAt(1)) <= strip.plateau ? pixel : undefined;
}

/** In grain colours waver; there a stretch must be as long as this. */
const LEAST_GRAINY_ROWS = 16;

/**
 * Stretches between outlines that pass the seam, whose ink is another beyond it. Of 800 closed edges of the bench none had
 * one.
 */
export function findOtherInks(strip: Strip, edges: "soft" | "hard"): readonly OtherInk[] {
  const passing = findPassing(strip, edges);
  const found: OtherInk[] = [];
  for (let i = 0; i + 1 < passing.length; i++) {
    const [upper, lower] = [passing[i] as Passing, passing[i + 1] as Passing];
    const rows = lower.at - upper.at;
    const thinnest = Math.min(
      (lower.near.places[0] as number) - (upper.near.places[0] as number),
      (lower.far.places[0] as number) - (upper.far.places[0] as number),
    );
    if (thinnest < THINNEST) continue;
    const near = plateauBetween(strip, upper.near, lower.near, -1);
    const far = plateauBetween(strip, upper.far, lower.far, 1);
    if (near === undefined || far === undefined) continue;
    const step = pixelDifference(strip, near, far);
    if (strip.isGrainy && (rows < LEAST_GRAINY_ROWS || step < 2 * strip.plateau)) continue;
    if (step < LEAST_STEP || !isOneColour(strip, upper, lower, near, far)) continue;
    found.push({ px: { from: Math.round(upper.at), to: Math.round(lower.at) }, rows, step });
  }
  return found;
}

/** Tells whether nothing else lies between two outlines: the colours beside both of them are that of the middle. */
function isOneColour(strip: Strip, upper: Passing, lower: Passing, near: number, far: number): boolean {
  const isLike = (one: number, other: number) => pixelDifference(strip, one, other) <= strip.plateau + MIXED;
  return (
    isLike(upper.near.after, near) &&
    isLike(lower.near.before, near) &&
    isLike(upper.far.after, far) &&
    isLike(lower.far.before, far)
  );
}
