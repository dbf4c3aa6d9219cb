import { type Basis, combine, type Shift } from "./lattice.js";
import { type Peak, peakAt } from "./likeness.js";
import type { LabPicture } from "./picture.js";

/** So many samples tell a likeness to about a hundredth, and so many where it is highest to a pixel or two. */
const SAMPLES = 24_000;
const ROUGH_SAMPLES = 5_000;

interface Overlap {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly step: number;
}

/** The part of a picture that has a partner at a shift of whole pixels, and how far apart its samples are taken. */
function overlapAt(picture: LabPicture, x: number, y: number, samples: number): Overlap {
  const width = picture.width - Math.abs(x);
  const height = picture.height - Math.abs(y);
  const step = Math.max(1, Math.floor(Math.sqrt((width * height) / samples)));
  return { x: Math.max(0, -x), y: Math.max(0, -y), width, height, step };
}

/** The likeness at one shift of whole pixels, straight from the samples. */
function likenessAt(detail: LabPicture, x: number, y: number, samples: number): number {
  const { width, planes } = detail;
  const part = overlapAt(detail, x, y, samples);
  if (part.width < 8 || part.height < 8) return 0;
  const ahead = y * width + x;
  let [product, one, other] = [0, 0, 0];
  for (const plane of planes) {
    let [first, second, firsts, seconds, products, count] = [0, 0, 0, 0, 0, 0];
    for (let row = part.y; row < part.y + part.height; row += part.step) {
      const start = row * width + part.x;
      // Every second row starts half a step on, so that no thin upright line is always missed.
      for (let k = row % (2 * part.step) ? part.step >> 1 : 0; k < part.width; k += part.step) {
        const f = plane[start + k] as number;
        const g = plane[start + k + ahead] as number;
        first += f;
        second += g;
        firsts += f * f;
        seconds += g * g;
        products += f * g;
        count++;
      }
    }
    product += products - (first * second) / count;
    one += firsts - (first * first) / count;
    other += seconds - (second * second) / count;
  }
  return product / Math.max((one + other) / 2, 1e-9);
}

/** The highest of a coarse grid of shifts: what is `slack` pixels off is not sure to lie on the slope of the right peak. */
function roughTop(detail: LabPicture, guess: Shift, slackX: number, slackY: number): Shift {
  const step = 2;
  let best = { x: guess.x, y: guess.y, value: -1 };
  const span = (slack: number) => step * Math.ceil(slack / step);
  for (let y = guess.y - span(slackY); y <= guess.y + slackY; y += step)
    for (let x = guess.x - span(slackX); x <= guess.x + slackX; x += step) {
      const value = likenessAt(detail, x, y, ROUGH_SAMPLES);
      if (value > best.value) best = { x, y, value };
    }
  return best;
}

/**
 * The highest likeness within `slack` pixels of a shift, to a fraction of a pixel: a coarse grid where the slack is more than 1, then
 * uphill. Along one axis only, where one is named.
 */
export function refineShift(detail: LabPicture, guess: Shift, slack: number, axis?: "x" | "y"): Peak {
  const known = new Map<string, number>();
  const at = (x: number, y: number): number => {
    const key = `${x},${y}`;
    const found = known.get(key) ?? likenessAt(detail, x, y, SAMPLES);
    known.set(key, found);
    return found;
  };
  const whole = { x: Math.round(guess.x), y: Math.round(guess.y) };
  const [slackX, slackY] = [axis === "y" ? 0 : slack, axis === "x" ? 0 : slack];
  let { x, y } = slack > 1 ? roughTop(detail, whole, slackX, slackY) : whole;
  for (;;) {
    const near = [
      ...(slackX > 0 ? [x - 1, x + 1].map((next) => ({ x: next, y })) : []),
      ...(slackY > 0 ? [y - 1, y + 1].map((next) => ({ x, y: next })) : []),
    ].filter((one) => Math.abs(one.x - whole.x) <= slackX + 1 && Math.abs(one.y - whole.y) <= slackY + 1);
    const higher = near.find((one) => at(one.x, one.y) > at(x, y));
    if (!higher) return peakAt(at, x, y);
    ({ x, y } = higher);
  }
}

/** Both shifts of a basis by least squares over all shifts in reach, so that longer ones count for more. */
export function refineBasis(
  detail: LabPicture,
  basis: Basis,
): { readonly basis: Basis; readonly likeness: number } {
  const known: { i: number; j: number; peak: Peak }[] = [];
  for (let i = -2; i <= 2; i++)
    for (let j = 0; j <= 2; j++) {
      if (j === 0 && i <= 0) continue;
      const shift = combine(basis, i, j);
      if (Math.abs(shift.x) > 0.6 * detail.width || Math.abs(shift.y) > 0.6 * detail.height) continue;
      known.push({ i, j, peak: refineShift(detail, shift, 1) });
    }
  const best = Math.max(0, ...known.map(({ peak }) => peak.value));
  const kept = known.filter(({ peak }) => peak.value > 0.75 * best);
  let [ii, ij, jj, ix, jx, iy, jy] = [0, 0, 0, 0, 0, 0, 0];
  for (const { i, j, peak } of kept) {
    ii += i * i;
    ij += i * j;
    jj += j * j;
    ix += i * peak.x;
    jx += j * peak.x;
    iy += i * peak.y;
    jy += j * peak.y;
  }
  const likeness = kept.reduce((sum, { peak }) => sum + peak.value, 0) / Math.max(1, kept.length);
  const divisor = ii * jj - ij * ij;
  if (divisor < 0.5) return { basis, likeness };
  const solve = (i: number, j: number) => [(i * jj - j * ij) / divisor, (j * ii - i * ij) / divisor] as const;
  const [x1, x2] = solve(ix, jx);
  const [y1, y2] = solve(iy, jy);
  return {
    basis: [
      { x: x1, y: y1 },
      { x: x2, y: y2 },
    ],
    likeness,
  };
}

/** A pixel this far (in Lab) from all nine round its partner is not explained by a fraction of a pixel, nor by JPEG. */
const UNEXPLAINED = 8;

/** Tells whether a value lies beyond all of the nine pixels round a place. */
function isBeyond(plane: Float32Array, width: number, at: number, value: number): boolean {
  let [low, high] = [Infinity, -Infinity];
  for (let row = at - width; row <= at + width; row += width)
    for (let k = row - 1; k <= row + 1; k++) {
      const near = plane[k] as number;
      if (near < low) low = near;
      if (near > high) high = near;
    }
  return value < low - UNEXPLAINED || value > high + UNEXPLAINED;
}

/**
 * The share of a picture that a shift does not explain: pixels that differ from all pixels round their partner, and the other way
 * about, since half a pixel makes the middle of a thin line paler but never leaves what is round it. A small motif that breaks an
 * otherwise finer repeat shows here, although the likeness hardly drops.
 */
export function unexplainedShare(picture: LabPicture, shift: Shift): number {
  const [x, y] = [Math.round(shift.x), Math.round(shift.y)];
  const part = overlapAt(picture, x, y, 2 * SAMPLES);
  const { width, planes } = picture;
  const ahead = y * width + x;
  let [count, open] = [0, 0];
  for (let row = part.y + 1; row < part.y + part.height - 1; row += part.step)
    for (let column = part.x + 1; column < part.x + part.width - 1; column += part.step) {
      const at = row * width + column;
      count++;
      for (const plane of planes) {
        const [one, other] = [plane[at] as number, plane[at + ahead] as number];
        if (Math.abs(one - other) <= UNEXPLAINED) continue;
        if (isBeyond(plane, width, at + ahead, one) && isBeyond(plane, width, at, other)) {
          open++;
          break;
        }
      }
    }
  return count === 0 ? 1 : open / count;
}

/** Leaving this share more unexplained than another shift does is the renderer's rounding, not a motif. */
const ROUNDING = 0.001;

/** Tells whether a shift explains the picture as well as one that leaves `reference` unexplained. */
export function explainsAsWell(unexplained: number, reference: number): boolean {
  return unexplained <= Math.max(1.5 * reference, reference + ROUNDING);
}
