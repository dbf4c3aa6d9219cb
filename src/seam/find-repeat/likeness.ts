import { autocorrelate, type ComplexPlane, powerOfTwo } from "../fft.js";
import type { LabPicture } from "./picture.js";

/**
 * How like a picture is to itself at every shift of whole pixels: 1 where the parts that overlap are equal, 0 where they
 * have nothing to do with each other. `reachX` and `reachY` are the largest shifts.
 */
export interface Likeness {
  readonly reachX: number;
  readonly reachY: number;
  /** At a shift; the same at the opposite shift; 0 beyond the reach. */
  readonly at: (x: number, y: number) => number;
}

/** Shifts up to this share of a side are looked at: pictures of 1.9 repeats and more. */
const REACH = 0.53;

/** Overlaps with less than this share of the picture's mean variance hold too little to be like anything. */
const LEAST_VARIANCE = 0.15;

/** Sums over every rectangle from the origin: `(width + 1) * (height + 1)` numbers. */
function integrate(width: number, height: number, value: (at: number) => number): Float64Array {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += value(y * width + x);
      sums[(y + 1) * (width + 1) + x + 1] = (sums[y * (width + 1) + x + 1] as number) + row;
    }
  }
  return sums;
}

/** Up to two planes, as the real and the imaginary part. */
function padded(pair: readonly Float32Array[], width: number, into: ComplexPlane): ComplexPlane {
  for (const [part, plane] of pair.entries())
    for (let at = 0; at < plane.length; at++)
      into.data[2 * (Math.floor(at / width) * into.width + (at % width)) + part] = plane[at] as number;
  return into;
}

/**
 * Autocorrelation of all planes together, zero padded, and normalised by the mean and variance of what overlaps at each
 * shift (after Padfield, "Masked object registration in the Fourier domain", IEEE Transactions on Image Processing 21
 * (2012); the overlap of a rectangle with itself is a rectangle, so that sums over it come from tables). The variance of both
 * parts is averaged, so that a full part is never like a nearly empty one.
 */
export function measureLikeness(detail: LabPicture): Likeness {
  const { width, height, planes } = detail;
  const reachX = Math.floor(width * REACH);
  const reachY = Math.floor(height * REACH);
  const [across, down] = [powerOfTwo(width + reachX + 1), powerOfTwo(height + reachY + 1)];
  const products: Float64Array[] = [];
  for (let pair = 0; pair < planes.length; pair += 2) {
    const plane = { width: across, height: down, data: new Float64Array(2 * across * down) };
    autocorrelate(padded(planes.slice(pair, pair + 2), width, plane));
    products.push(plane.data);
  }
  const sums = planes.map((plane) => integrate(width, height, (at) => plane[at] as number));
  const squares = integrate(width, height, (at) =>
    planes.reduce((sum, plane) => sum + (plane[at] as number) ** 2, 0),
  );
  const over = (table: Float64Array, x: number, y: number, w: number, h: number): number => {
    const row = width + 1;
    return (
      (table[(y + h) * row + x + w] as number) -
      (table[y * row + x + w] as number) -
      (table[(y + h) * row + x] as number) +
      (table[y * row + x] as number)
    );
  };
  const floor = (LEAST_VARIANCE * over(squares, 0, 0, width, height)) / (width * height);
  const rows = 2 * reachY + 1;
  const values = new Float32Array((reachX + 1) * rows);
  for (let x = 0; x <= reachX; x++)
    for (let y = -reachY; y <= reachY; y++) {
      const [w, h] = [width - x, height - Math.abs(y)];
      const [top, far] = [Math.max(0, -y), Math.max(0, y)];
      const count = w * h;
      const from = 2 * ((y < 0 ? y + down : y) * across + x);
      let product = products.reduce((sum, data) => sum + (data[from] as number), 0);
      let one = over(squares, 0, top, w, h);
      let other = over(squares, x, far, w, h);
      for (const table of sums) {
        const [first, second] = [over(table, 0, top, w, h), over(table, x, far, w, h)];
        product -= (first * second) / count;
        one -= (first * first) / count;
        other -= (second * second) / count;
      }
      values[x * rows + y + reachY] = product / Math.max((one + other) / 2, floor * count, 1e-9);
    }
  const at = (x: number, y: number): number => {
    const [right, lower] = x < 0 ? [-x, -y] : [x, y];
    if (right > reachX || Math.abs(lower) > reachY) return 0;
    return values[right * rows + lower + reachY] as number;
  };
  return { reachX, reachY, at };
}

/** A shift at which a picture is more like itself than at any shift near by, to a fraction of a pixel. */
export interface Peak {
  readonly x: number;
  readonly y: number;
  /** The likeness there. */
  readonly value: number;
}

/** The top of the parabola through three samples: where, from the middle one, and how high. */
export function topOf(before: number, middle: number, after: number): { at: number; value: number } {
  const bend = before - 2 * middle + after;
  if (bend >= 0) return { at: 0, value: middle };
  const at = Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend)));
  return { at, value: middle - 0.25 * (before - after) * at };
}

/** The peak on a whole shift, from its neighbours. */
export function peakAt(at: (x: number, y: number) => number, x: number, y: number): Peak {
  const across = topOf(at(x - 1, y), at(x, y), at(x + 1, y));
  const down = topOf(at(x, y - 1), at(x, y), at(x, y + 1));
  return { x: x + across.at, y: y + down.at, value: Math.min(1, across.value + down.value - at(x, y)) };
}

/** The peaks of one half of the plane, highest first; those nearer to 0 than `least` belong to no repeat. */
export function findPeaks({ reachX, reachY, at }: Likeness, least: number): readonly Peak[] {
  const peaks: Peak[] = [];
  for (let x = 0; x < reachX; x++)
    for (let y = -reachY + 1; y < reachY; y++) {
      if ((x === 0 && y <= 0) || x * x + y * y < least * least) continue;
      const value = at(x, y);
      if (value < 0.2) continue;
      let highest = true;
      for (let dx = -2; dx <= 2 && highest; dx++)
        for (let dy = -2; dy <= 2 && highest; dy++) {
          const near = at(x + dx, y + dy);
          if (near > value || (near === value && (dx < 0 || (dx === 0 && dy < 0)))) highest = false;
        }
      if (highest) peaks.push(peakAt(at, x, y));
    }
  return peaks.sort((one, other) => other.value - one.value || one.x - other.x || one.y - other.y);
}
