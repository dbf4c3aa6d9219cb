import type { PixelImage } from "../image/index.js";
import { labDifference, writeLab } from "./lab.js";
import type { EdgePair } from "./types.js";

/**
 * The pixels on both sides of a seam as they meet on the cloth: `length` rows, one a pixel along the seam, of `2 * half`
 * pixels across it; the seam lies between `half - 1` and `half`. Row t stands at t along the right or the bottom edge.
 */
export interface Strip {
  readonly length: number;
  readonly half: number;
  /** Row 0 follows on the last row: not so for a border, which ends at its selvedges. */
  readonly cyclic: boolean;
  /** Lab and opacity (0 to 100) of each pixel, four numbers; what is transparent shows white. */
  readonly lab: Float32Array;
  /** One number a colour: equal where the pixels are equal. */
  readonly key: Uint32Array;
}

/** Which two edges, and by how many pixels the far tile is moved along the seam. */
export interface SeamPlace {
  readonly edge: EdgePair;
  readonly offset: number;
  readonly cyclic: boolean;
}

/** Of a half-transparent pixel, half the difference in opacity counts, so that a hole in a white ground is 50. */
const OPACITY_WEIGHT = 0.5;

function readPixel(image: PixelImage, x: number, y: number, strip: Strip, at: number): void {
  const { data, channels } = image;
  const from = y * image.stride + x * channels;
  const r = data[from] as number;
  const g = channels === 1 ? r : (data[from + 1] as number);
  const b = channels === 1 ? r : (data[from + 2] as number);
  const alpha = channels === 4 ? (data[from + 3] as number) : 255;
  const onWhite = (level: number): number =>
    alpha === 255 ? level : Math.round((level * alpha + 255 * (255 - alpha)) / 255);
  const [red, green, blue] = [onWhite(r), onWhite(g), onWhite(b)];
  strip.key[at] = ((alpha << 24) | (red << 16) | (green << 8) | blue) >>> 0;
  writeLab(red, green, blue, strip.lab, 4 * at);
  strip.lab[4 * at + 3] = (alpha / 255) * 100;
}

/** Reads the two edges of a picture as they meet; nothing else of the picture is read. */
export function readStrip(image: PixelImage, place: SeamPlace, half: number): Strip {
  const { width, height } = image;
  const byColumns = place.edge === "left-right";
  const length = byColumns ? height : width;
  const depth = byColumns ? width : height;
  const strip: Strip = {
    length,
    half,
    cyclic: place.cyclic,
    lab: new Float32Array(4 * length * 2 * half),
    key: new Uint32Array(length * 2 * half),
  };
  for (let t = 0; t < length; t++) {
    const far = (((t - place.offset) % length) + length) % length;
    for (let column = 0; column < 2 * half; column++) {
      const isNear = column < half;
      const along = isNear ? t : far;
      const across = isNear ? depth - half + column : column - half;
      const at = t * 2 * half + column;
      if (byColumns) readPixel(image, across, along, strip, at);
      else readPixel(image, along, across, strip, at);
    }
  }
  return strip;
}

/** The difference of two pixels of a strip, by their indices: CIEDE2000, or that of their opacity. */
export function pixelDifference(strip: Strip, one: number, other: number): number {
  if (strip.key[one] === strip.key[other]) return 0;
  const { lab } = strip;
  const opacity = Math.abs((lab[4 * one + 3] as number) - (lab[4 * other + 3] as number));
  return Math.max(labDifference(lab, 4 * one, 4 * other), OPACITY_WEIGHT * opacity);
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
