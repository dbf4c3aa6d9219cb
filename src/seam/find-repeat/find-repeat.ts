import { anObject } from "../../checks.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { readResolution } from "../../units/index.js";
import type { RepeatEstimate } from "./estimate.js";
import { sayRepeat } from "./say.js";
import { searchRepeat } from "./search.js";

/** How a repeat is looked for. */
export interface FindRepeatOptions {
  /** Dots per inch, above 0, for sizes in mm. Default: what the picture says of itself. */
  readonly dpi?: number;
}

const MM_PER_INCH = 25.4;

/**
 * Estimates the repeat of a picture of cloth: its size, and whether it is straight, a half-drop, a brick or a step of p/q
 * (q up to 9). It takes two repeats or more each way; a single tile is judged by its edges. Sizes are true to less than
 * a pixel on clean pictures. A half-drop and a brick of twice the width and half the height are the same cloth: the
 * reading whose cell is nearer to a square is given, the other stands in `sameAs`.
 *
 * @throws {@link RepetendError} `E_IMAGE` for a picture under 16 px, or a buffer that is too short; `E_NUMBER` for
 * `dpi`.
 * @example
 * ```ts
 * import { findRepeat } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * findRepeat(plain).layout; // "straight"
 * ```
 */
export function findRepeat(image: PixelImage, options: FindRepeatOptions = {}): RepeatEstimate {
  anImage(image, "image");
  anObject(options, "options");
  const answer = searchRepeat(image);
  const dpi = options.dpi === undefined ? image.dpi : readResolution(options.dpi, "options.dpi");
  const millimetres = (pixels: number | undefined, perInch: number): number | undefined =>
    pixels === undefined ? undefined : (pixels / perInch) * MM_PER_INCH;
  const estimate: Omit<RepeatEstimate, "says"> = {
    kind: "repeat-estimate",
    found: answer.found,
    layout: answer.layout,
    width: answer.width,
    height: answer.height,
    mm: dpi && { width: millimetres(answer.width, dpi.x), height: millimetres(answer.height, dpi.y) },
    repeats: answer.repeats,
    confidence: answer.confidence,
    sameAs: answer.sameAs ?? [],
    shifts: answer.shifts ?? [],
    candidates: answer.candidates ?? [],
  };
  return { ...estimate, says: sayRepeat(estimate) };
}
