import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";

/**
 * Refuses pixels that do not fit the way in which they are stored.
 *
 * @param channels bytes a pixel takes as it is handed in.
 * @throws `RepetendError` E_IMAGE.
 */
export function checkPixels({ width, height, stride, data, ...image }: PixelImage, channels: number): void {
  const used = width * channels;
  if (image.channels === channels && stride >= used && data.length >= stride * (height - 1) + used) return;
  throw new RepetendError("E_IMAGE", "these pixels do not fit the file they are written to", {
    value: `${image.channels} channels, ${data.length} bytes, stride ${stride}`,
    accepted: `${channels} channels, ${width} x ${height} pixels`,
  });
}

/**
 * Refuses what is no number of pixels or rows of a file.
 *
 * @throws `RepetendError` E_SIZE or E_TOO_LARGE.
 */
export function checkSide(format: "PNG" | "TIFF", side: string, value: number, most: number): void {
  if (!Number.isInteger(value) || value < 1) {
    throw new RepetendError("E_SIZE", `the ${side} of a ${format} must be a whole number of pixels`, {
      value: String(value),
      accepted: "1 or more",
    });
  }
  if (value > most) {
    throw new RepetendError("E_TOO_LARGE", `a ${format} cannot be of this ${side}`, {
      value: `${value} px`,
      accepted: `at most ${most} px`,
    });
  }
}

/**
 * Refuses palettes of no or too many colours.
 *
 * @throws `RepetendError` E_FORMAT.
 */
export function checkPaletteSize(format: "PNG" | "TIFF", entries: readonly string[]): void {
  if (entries.length >= 1 && entries.length <= 256) return;
  throw new RepetendError("E_FORMAT", `a ${format} cannot hold a palette of this many colours`, {
    value: String(entries.length),
    accepted: "1 to 256",
  });
}
