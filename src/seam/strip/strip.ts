import type { PixelImage } from "../../image/index.js";
import type { EdgePair } from "../types.js";
import { labDifference, writeLab } from "./lab.js";

/**
 * The pixels on both sides of a seam as they meet on the cloth: `length` rows, one a pixel along the seam, of `2 * half`
 * pixels across it; the seam lies between `half - 1` and `half`. Row t stands at t along the right or the bottom edge.
 */
export interface Strip {
  readonly length: number;
  readonly half: number;
  /** Row 0 follows on the last row: not so where the seam ends, at a selvedge or beside the middle of the next tile. */
  readonly cyclic: boolean;
  /** Lab and opacity (0 to 100) of each pixel, four numbers; what is transparent shows white. */
  readonly lab: Float32Array;
  /** One number a colour: equal where the pixels are equal. */
  readonly key: Uint32Array;
  /** Whether plateaus carry grain: the ringing of JPEG, paper, noise. */
  readonly isGrainy: boolean;
  /** How different two pixels of one plateau may be: more where there is grain. */
  readonly plateau: number;
  /** Differences already measured: prints have few colours, and the same pairs meet again and again. */
  readonly known: KnownPairs;
}

/** A direct-mapped memory of pairs of keys. */
interface KnownPairs {
  readonly one: Uint32Array;
  readonly other: Uint32Array;
  readonly difference: Float64Array;
}

/** A power of two: enough for the pairs of a print, small enough to stay in the processor's cache. */
const KNOWN_PAIRS = 4096;

const forgetPairs = (): KnownPairs => ({
  one: new Uint32Array(KNOWN_PAIRS),
  other: new Uint32Array(KNOWN_PAIRS),
  difference: new Float64Array(KNOWN_PAIRS),
});

/** Which two edges, and by how many pixels the far tile is moved along the seam. */
export interface SeamPlace {
  readonly edge: EdgePair;
  readonly offset: number;
  readonly cyclic: boolean;
}

/** Of a half-transparent pixel, half the difference in opacity counts, so that a hole in a white ground is 50. */
const OPACITY_WEIGHT = 0.5;

/** A level of a half-transparent pixel on a white ground. */
export function onWhite(level: number, alpha: number): number {
  return alpha === 255 ? level : Math.round((level * alpha + 255 * (255 - alpha)) / 255);
}

function readPixel(image: PixelImage, x: number, y: number, strip: Strip, at: number): void {
  const { data, channels } = image;
  const from = y * image.stride + x * channels;
  const r = data[from] as number;
  const g = channels === 1 ? r : (data[from + 1] as number);
  const b = channels === 1 ? r : (data[from + 2] as number);
  const alpha = channels === 4 ? (data[from + 3] as number) : 255;
  const red = onWhite(r, alpha);
  const green = onWhite(g, alpha);
  const blue = onWhite(b, alpha);
  strip.key[at] = ((alpha << 24) | (red << 16) | (green << 8) | blue) >>> 0;
  if (at > 0 && strip.key[at] === strip.key[at - 1]) {
    strip.lab.copyWithin(4 * at, 4 * at - 4, 4 * at);
    return;
  }
  writeLab(red, green, blue, strip.lab, 4 * at);
  strip.lab[4 * at + 3] = (alpha / 255) * 100;
}

/** Smaller steps than this are grain or shading, not outlines. */
const LARGEST_GRAIN = 3;

/** Of clean drawings most neighbours that differ belong to outlines; of grainy ones most differ by a little. */
const GRAINY_SHARE = 0.5;

const PLATEAU = { clean: 2.5, grainy: 7 } as const;

/** Tells whether most steps inside the strip are small. */
function measureGrain(strip: Strip): boolean {
  const columns = 2 * strip.half;
  let [small, steps] = [0, 0];
  for (let t = 0; t < strip.length; t++)
    for (let column = 0; column + 1 < columns; column++) {
      if (column === strip.half - 1) continue;
      const step = pixelDifference(strip, t * columns + column, t * columns + column + 1);
      if (step === 0) continue;
      steps++;
      if (step < LARGEST_GRAIN) small++;
    }
  return small > GRAINY_SHARE * steps;
}

/** Reads the two edges of a picture as they meet; nothing else of the picture is read. */
export function readStrip(image: PixelImage, place: SeamPlace, half: number): Strip {
  const { width, height } = image;
  const byColumns = place.edge === "left-right";
  const length = byColumns ? height : width;
  const depth = byColumns ? width : height;
  const bare: Strip = {
    length,
    half,
    cyclic: place.cyclic,
    lab: new Float32Array(4 * length * 2 * half),
    key: new Uint32Array(length * 2 * half),
    isGrainy: false,
    plateau: PLATEAU.clean,
    known: forgetPairs(),
  };
  for (let t = 0; t < length; t++) {
    const far = (((t - place.offset) % length) + length) % length;
    for (let column = 0; column < 2 * half; column++) {
      const isNear = column < half;
      const along = isNear ? t : far;
      const across = isNear ? depth - half + column : column - half;
      const at = t * 2 * half + column;
      if (byColumns) readPixel(image, across, along, bare, at);
      else readPixel(image, along, across, bare, at);
    }
  }
  return measureGrain(bare) ? { ...bare, isGrainy: true, plateau: PLATEAU.grainy } : bare;
}

/** The difference of two pixels of a strip, by their indices: CIEDE2000, or that of their opacity. */
export function pixelDifference(strip: Strip, one: number, other: number): number {
  const [first, second] = [strip.key[one] as number, strip.key[other] as number];
  if (first === second) return 0;
  const { lab, known } = strip;
  // Multipliers: the golden ratio and a prime of xxHash, to spread colours that differ in a few bits.
  const slot = ((Math.imul(first, 0x9e3779b1) ^ Math.imul(second, 0x85ebca77)) >>> 16) & (KNOWN_PAIRS - 1);
  if (known.one[slot] === first && known.other[slot] === second) return known.difference[slot] as number;
  const opacity = Math.abs((lab[4 * one + 3] as number) - (lab[4 * other + 3] as number));
  const difference = Math.max(labDifference(lab, 4 * one, 4 * other), OPACITY_WEIGHT * opacity);
  known.one[slot] = first;
  known.other[slot] = second;
  known.difference[slot] = difference;
  return difference;
}

/** The differences of neighbours across the seam: `2 * half - 1` a row, that at `half - 1` across the seam itself. */
export function measureJumps(strip: Strip): Float32Array {
  const across = 2 * strip.half - 1;
  const jumps = new Float32Array(strip.length * across);
  for (let t = 0; t < strip.length; t++)
    for (let j = 0; j < across; j++) {
      const at = t * (across + 1) + j;
      jumps[t * across + j] = pixelDifference(strip, at, at + 1);
    }
  return jumps;
}
